/* Indexing on the dividing head: the same settings as tables/dividing.py and tables/differential.py. */
fettlebook.table("indexing", function (given, figures) {
  "use strict";
  var written = fettlebook.written, refuse = fettlebook.refuse, TURN = 360 * 3600 * 1000;
  var ANGLE = /^(?:(\d+(?:\.\d+)?)\s*(?:°|degrees?|deg|$|(?=\s+\d)))?\s*(?:(\d+(?:\.\d+)?)\s*(?:'|′|’|arcmin|minutes?|min|$|(?=\s+\d)))?\s*(?:(\d+(?:\.\d+)?)\s*(?:"|″|”|arcsec|seconds?|sec|s|$))?$/;

  function gcd(a, b) { while (b) { var rest = a % b; a = b; b = rest; } return Math.abs(a); }

  function thousandths(text) {
    var hint = 'for example "35", "48 deg 40 min" or "54 min"', found = ANGLE.exec(text.replace(/,/g, ".").trim().replace(/\s+/g, " "));
    if (/(^|[^\d])[1-9]\d{0,2},\d{3}(?!\d)/.test(text))
      throw refuse("angle", '"' + text + '" could be a thousand or a decimal comma; write it with a point', hint);
    if (!found || !(found[1] || found[2] || found[3])) throw refuse("angle", '"' + text + '" is not an angle', hint);
    var whole = Math.floor((Number(found[1] || 0) * 3600 + Number(found[2] || 0) * 60 + Number(found[3] || 0)) * 1000 + 0.5);
    if (!(whole > 0 && whole <= TURN)) throw refuse("angle", text + " must lie above 0 and within a turn of 360°", hint);
    return whole;
  }

  function row(method, holes, circle, more) {
    var rest = holes % circle;
    return Object.assign({ method: method, turns: (holes - rest) / circle, holes: rest, circle: circle, sector_count: rest + 1,
      error_deg: 0, error_total_deg: 0, rim_error_mm: 0, rim_error_total_mm: 0, gear_ratio: null, gear_on_spindle: null,
      stud_gears: null, gear_on_worm: null, idlers: null, plate_turns: null }, more);
  }

  function before(one, other) {
    for (var n = 0; n < one.length; n++) if (one[n] !== other[n]) return one[n] - other[n];
    return 0;
  }

  /* The train to use for each ratio: simple before compound, then the smallest sum of teeth. */
  function gearTrains(gears) {
    var found = {};
    function prefer(top, bottom, spindle, stud, worm) {
      var shared = gcd(top, bottom), name = top / shared + "/" + bottom / shared;
      var key = [stud.length, spindle + worm + (stud.length ? stud[0] + stud[1] : 0), -spindle].concat(stud, worm);
      if (!found[name] || before(key, found[name].key) < 0) found[name] = { key: key, spindle: spindle, stud: stud, worm: worm };
    }
    gears.forEach(function (s, i) {
      gears.forEach(function (w, j) {
        if (i === j) return;
        prefer(s, w, s, [], w);
        gears.forEach(function (a, k) {
          gears.forEach(function (b, l) {
            if (k === i || k === j || l === i || l === j || k === l) return;
            if (s !== a && s !== w && b !== a && b !== w) prefer(s * b, a * w, s, [a, b], w);
          });
        });
      });
    });
    return found;
  }

  function settings() {
    var trains = gearTrains(given.gears), found = [], kept = [], n = given.divisions;
    used.forEach(function (circle) {
      var low = Math.max(1, Math.ceil((given.ratio - 6) * circle / n)), high = Math.floor((given.ratio + 6) * circle / n);
      for (var holes = low; holes <= high; holes++) {
        var top = given.ratio * circle - n * holes, shared = gcd(top, circle) || 1;
        var train = trains[Math.abs(top) / shared + "/" + circle / shared];
        if (top && train) found.push({ holes: holes, circle: circle, ratio: top / circle, train: train });
      }
    });
    found.sort(function (a, b) {
      return before([a.train.stud.length, Math.abs(a.ratio), -a.ratio, a.circle], [b.train.stud.length, Math.abs(b.ratio), -b.ratio, b.circle]);
    });
    found.forEach(function (one) { if (kept.indexOf(one.ratio) < 0 && kept.length < 8) kept.push(one.ratio); });
    return found.filter(function (one) { return kept.indexOf(one.ratio) >= 0; }).map(function (one) {
      var pair = one.train.stud;
      return row("differential", one.holes, one.circle, { gear_ratio: one.ratio, gear_on_spindle: one.train.spindle,
        stud_gears: pair.length ? pair : null, gear_on_worm: one.train.worm, idlers: (pair.length ? 0 : 1) + (one.ratio < 0 ? 1 : 0),
        plate_turns: one.ratio > 0 ? "with the crank" : "against the crank" });
    });
  }

  function nearest() {
    var found = [];
    used.forEach(function (circle) {
      var holes = Math.floor((2 * num * circle + den) / (2 * den)), error = (holes * den - num * circle) / (den * circle) * 360 / given.ratio;
      if (holes) found.push([Math.abs(error), circle, holes, error]);
    });
    return found.sort(before).slice(0, 3).map(function (f) {
      var total = given.divisions ? f[3] * given.divisions : f[3];
      return row("nearest", f[2], f[1], { error_deg: f[3], error_total_deg: total, rim_error_mm: f[3] * Math.PI / 360 * rim,
        rim_error_total_mm: total * Math.PI / 360 * rim });
    });
  }

  if ((given.divisions === null) === (given.angle === null))
    throw refuse("divisions", given.angle !== null ? "give divisions or an angle, not both" : "the divisions or the angle must be given",
      "for example divisions 6, or angle 35");
  if (given.circles.length > 200 || given.gears.length > 16)
    throw refuse(given.circles.length > 200 ? "circles" : "gears", "the list is too long", "200 circles or 16 gears at most");
  var num = given.ratio, den = given.divisions;
  if (given.angle !== null) { num *= thousandths(given.angle); den = TURN; }
  var shared = gcd(num, den), rim = given.diameter !== null ? given.diameter : 100, rows = [];
  num /= shared;
  den /= shared;
  function sortedOnce(list) { return Array.from(new Set(list)).sort(function (a, b) { return a - b; }); }
  var used = sortedOnce(given.plates ? figures.sets[given.plates] : given.circles);
  used.forEach(function (c) { if (num * c % den === 0) rows.push(row("plain", num * c / den, c)); });
  if (den === 1) rows = [row("plain", num, 1, { circle: null, sector_count: null })];
  var plain = rows.length;
  sortedOnce(given.direct).forEach(function (c) {
    if (num * c % (den * given.ratio) !== 0) return;
    rows.push(row("direct", 0, c, { holes: num * c / (den * given.ratio), sector_count: null }));
  });
  var geared = given.divisions && given.differential && !plain ? settings() : [], near = plain ? [] : nearest();
  rows = rows.concat(geared, near);
  if (!rows.length)
    throw refuse("circles", "one move is " + written(num / den, 5) + " turns, less than half a hole of any circle",
      "use an angle that the head can set, or a head of another ratio");
  var notes = [], warnings = [];
  if (plain > 1) notes.push("Where several circles serve, take the largest: an error of a hole counts least there.");
  if (geared.length) notes.push("Idlers are for a head on which one idler in a simple train turns plate and crank the same way: " +
    "turn the crank and look before the first cut. Draw the plate's stop pin; the spindle must lie level.");
  if (near.length) {
    var size = function (name, decimals) { return written(Math.abs(near[0][name]), decimals); };
    var text = "Plain indexing is not exact here" + (rows.length > near.length ? "; use a differential setting" : "") + ": the nearest setting is out by " +
      size("error_deg", 5) + "° or " + size("rim_error_mm", 4) + " mm on a rim of " + written(rim, 1) + " mm";
    if (given.divisions) text += " at each move, and the last space by " + size("error_total_deg", 4) + "° or " + size("rim_error_total_mm", 3) +
      " mm. Counted from the first hole each time, to the nearest hole, no place is out by more than half a hole";
    warnings.push(text + ".");
  }
  return { rows: rows, notes: notes, warnings: warnings };
});
