/* The thread finder: ranks, judges and words exactly as tables/thread_finder.py, from the same figures. */
(function () {
  "use strict";
  var written = fettlebook.written, ORDER = ["fits", "possible", "look_alike"], TIE = 1e-9;

  function plain(x) { return x.toFixed(4).replace(/0+$/, "").replace(/\.$/, ""); }

  fettlebook.table("thread-finder", function (given, figures) {
    var allow = figures.allow, outside = given.side === "external", wear = given.age === "worn" ? allow.wear : 0;
    var error = given.error, pitchError = given["pitch-error"], pitch = onePitch();

    function say(key, words) {
      return figures.words[key].replace(/\{(\w+)\}/g, function (all, name) { return words[name]; });
    }
    function onePitch() {
      if (given.pitch === null) return given.tpi === null ? null : 25.4 / given.tpi;
      if (given.tpi !== null && Math.abs(given.pitch * given.tpi / 25.4 - 1) > 0.005)
        throw fettlebook.refuse("tpi", say("two_pitches", { pitch: plain(given.pitch), count: written(25.4 / given.pitch, 2), tpi: plain(given.tpi) }),
          say("two_pitches_hint"));
      return given.pitch;
    }
    function allowed(off, t, times) {
      var less = outside ? off < 0 : off > 0;
      return times * error + (less ? t.play + times * wear * t.pitch : 0);
    }
    function judged(t) {
      var off = given.diameter < t.low ? given.diameter - t.low : Math.max(0, given.diameter - t.high);
      var offPitch = pitch === null ? null : (pitch / t.pitch - 1) * 100;
      var usedPitch = offPitch === null ? 0 : Math.abs(offPitch) / pitchError;
      var back = allow.rare * t.rare + (t.taper ? allow.taper : 0);
      var found = { t: t, off: off, offPitch: offPitch };
      if (Math.abs(off) <= allowed(off, t, 2) + TIE && usedPitch <= 2 + TIE) {
        var used = Math.abs(off) / allowed(off, t, 1);
        found.verdict = Math.max(used, usedPitch) <= 1 + TIE ? 0 : 1;
        found.distance = Math.sqrt(used * used + usedPitch * usedPitch) + back;
        return found;
      }
      var far = Math.abs(off) / t.high / allow.near_diameter;
      var farPitch = offPitch === null ? 0 : Math.abs(offPitch) / 100 / allow.near_pitch;
      if (far > 1 || farPitch > 1) return null;
      found.verdict = 2;
      found.distance = Math.sqrt(far * far + farPitch * farPitch) + back;
      return found;
    }
    function tell(a, b) {
      var parts = [], pipes = "GR".indexOf(a.family) >= 0 && "GR".indexOf(b.family) >= 0;
      if (Math.abs(a.pitch / b.pitch - 1) > 0.002) parts.push(say("pitch", { a: written(10 * a.pitch, 2), b: written(10 * b.pitch, 2) }));
      if (a.angle !== b.angle) parts.push(say("angle", { a: plain(a.angle), b: plain(b.angle) }));
      if (a.taper !== b.taper) parts.push(say(a.taper ? "tapers" : "parallel", { other: b.name }));
      if (Math.abs(a.low - b.low) > 0.15 && !(pipes && a.pitch === b.pitch)) parts.push(say("diameter", { a: written(a.low, 2), b: written(b.low, 2) }));
      if (parts.length) return parts.join("; ");
      if (pipes && a.family !== b.family) {
        var seal = { G: say("on_face"), R: say("on_thread") };
        return say("same_form", { a: a.name, other: b.name, seal: seal[a.family], other_seal: seal[b.family] });
      }
      return say("nothing", { other: b.name });
    }
    function row(c, n) {
      var t = c.t, other = found[n === 0 ? 1 : 0];
      return { rank: n + 1, designation: t.name, family: t.family, verdict: say(ORDER[c.verdict]), off_diameter_mm: c.off, off_pitch_percent: c.offPitch,
        taper: t.taper ? "1:16" : "parallel", angle_deg: t.angle, pitch_mm: t.pitch, tpi: t.tpi, ten_threads_mm: 10 * t.pitch, crest_mm: t.low,
        tell: found.length > 1 ? tell(t, other.t) : "" };
    }
    function together(a, b) {
      return (a.family === "BSW" || a.family === "BSF") && b.family === "UN" && Math.abs(a.tpi - b.tpi) < 0.01 &&
        a.name.split(" ")[0] === b.name.split("-")[0];
    }
    function has(test) { return found.some(function (c) { return test(c.t); }); }
    function notes() {
      var near = found.filter(function (c) { return c.verdict < 2; });
      var out = [say("taken", { error: written(error, 2), wear: say(wear ? "worn" : "unworn"), pitch: written(pitchError, 1) }), say("measure")];
      if (has(function (t) { return t.angle === 55; }) && has(function (t) { return t.angle === 60; })) out.push(say("angle_note"));
      if (has(function (t) { return t.taper; })) out.push(say("taper_note"));
      near.forEach(function (a) {
        near.forEach(function (b) { if (together(a.t, b.t)) out.push(say("bsw_unc", { a: a.t.name, b: b.t.name })); });
      });
      if (found.length > 1) out.push(say("by_hand"));
      if (!outside) out.push(say("inside"));
      return out;
    }
    function names(verdict) {
      return found.filter(function (c) { return c.verdict === verdict; }).map(function (c) { return c.t.name; });
    }
    function warnings() {
      var fits = names(0), may = names(1);
      if (pitch === null && fits.length) return [say("no_pitch")];
      if (fits.length > 1) return [say("several", { count: fits.length, names: fits.join(", ") })];
      if (may.length) return [say(fits.length ? "may" : "only_may", { names: may.join(", ") })];
      return [say(fits.length ? "one" : "none")];
    }

    function unpacked(f) {
      var taper = f[2].length === 2;
      return { name: f[0], family: f[1], low: taper ? f[2][0] : f[2], high: taper ? f[2][1] : f[2], play: f[3],
        pitch: f[4] || 25.4 / f[5], tpi: f[5] || 25.4 / f[4], angle: figures.angles[f[1]], taper: taper, rare: f[6] };
    }

    var ranked = figures[given.side].map(function (f) { return judged(unpacked(f)); }).filter(Boolean);
    ranked.sort(function (a, b) { return a.verdict - b.verdict || Math.round(a.distance * 1e9) - Math.round(b.distance * 1e9); });
    var found = ranked.filter(function (c) { return c.verdict < 2; }).slice(0, allow.fits)
      .concat(ranked.filter(function (c) { return c.verdict === 2; }).slice(0, allow.look_alikes));
    return { rows: found.map(row), notes: notes(), warnings: warnings() };
  });
})();
