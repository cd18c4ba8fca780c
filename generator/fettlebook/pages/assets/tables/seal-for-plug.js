/* The seal for a plug: the same choice and the same words as tables/seals.py. Threads are read by their usual designation. */
fettlebook.table("seal-for-plug", function (given, figures) {
  "use strict";
  var written = fettlebook.written;
  function g(x) { return String(Number(x.toPrecision(6))); }
  function say(key, more) { return figures.words[key].replace(/\{(\w+)\}/g, function (all, name) { return more[name]; }); }
  function folded(text) { return text.toLowerCase().replace(/×/g, "x").replace(/_/g, " ").replace(/(\D|^)\s+|\s+(?=\D|$)/g, "$1"); }
  function find(list, test) { return list.filter(test)[0]; }

  var thread = find(figures.threads, function (one) { return folded(one[0]) === folded(given.thread); });
  if (!thread) throw fettlebook.refuse("thread", '"' + given.thread.slice(0, 40) + '" is not in this page\'s list of threads',
    "write it as in the table of thread sizes, like G 1/2, M14x1.5 or 9/16-18 UNF");
  var name = thread[0], major = thread[1], t = given.temperature, oil = given.oil;

  function row(kind, verdict, fits, more) {
    var made = { kind: kind, size: null, bore_mm: null, outside_mm: null, thickness_mm: null, squeeze_percent: null, squeeze_min_percent: null,
      squeeze_max_percent: null, stretch_percent: null, fill_percent: null, material: null, torque_nm: null, fits: fits, verdict: verdict };
    for (var key in more) made[key] = more[key];
    return made;
  }
  if (thread[2]) return { rows: [row("sealant in the thread", say("taper"), true)], notes: [say("taper_note")], warnings: [say("taper_warning")] };

  var wide = given.counterbore_diameter, deep = given.counterbore_depth, head = given.head_diameter, recess = wide !== null && deep !== null;
  if (wide === null !== (deep === null))
    throw fettlebook.refuse(wide === null ? "counterbore_diameter" : "counterbore_depth", say("both"), say("both_hint"));
  if (recess && wide <= major + 1)
    throw fettlebook.refuse("counterbore_diameter", say("narrow", { diameter: g(wide), thread: name, major: written(major, 2) }), say("narrow_hint"));
  var enters = recess && head !== null && head < wide;

  function material(kind) { return find(figures.materials, function (one) { return one.material === kind; }); }
  function stands(kind, at) {
    var m = material(kind);
    if (!(m.low_c <= at && at <= m.high_c)) return say("heat", { material: kind, low: g(m.low_c), high: g(m.high_c) });
    return /[CDE]/.test(m[oil]) ? say("rating", { material: kind, rating: m[oil], oil: oil }) : "";
  }
  var rubber = find(figures.rubbers, function (kind) { return !stands(kind, t); }) || null;

  function squeeze(section) { return 100 * (section - deep) / section; }
  /* Least and largest squeeze of a ring, or null where they are wrong for a face. */
  function squeezed(section, tol) {
    var least = squeeze(section - tol), most = squeeze(section + tol);
    var limits = figures.faces.reduce(function (best, face) { return Math.abs(face[0] - section) < Math.abs(best[0] - section) ? face : best; });
    return most <= 0 || least < limits[1] - 1 || most > limits[2] + 1 ? null : [least, most];
  }
  function filled(section, width) { return 100 * Math.PI / 4 * section * section / (deep * width); }
  function whyNone() {
    var tight = null;
    figures.o_rings.forEach(function (one) {
      var section = one[3], stretch = 100 * (major - one[1]) / one[1];
      if (!squeezed(section, one[4]) || stretch < 0 || stretch > figures.plug.stretch) return;
      var need = Math.max(major + 2 * filled(section, 1) / figures.limits.fill_percent[1], (major + 2 * section) / (1 + figures.plug.pressed));
      if (need > wide && (!tight || need < tight[0])) tight = [need, one];
    });
    if (!tight) return say("no_ring", { low: written(deep / (1 - 0.18), 2), high: written(deep / (1 - 0.30), 2), bore: written(major, 1) });
    var s = tight[1][3];
    return say("no_room", { size: tight[1][0], section: g(s), fill: written(filled(s, (wide - major) / 2), 0), wide: written(Math.ceil(10 * tight[0] - 1e-6) / 10, 1) });
  }
  function ring(one) {
    var bore = one[1], section = one[3], pressed = squeezed(section, one[4]);
    var stretch = 100 * (major - bore) / bore, fill = filled(section, (wide - major) / 2);
    var slack = 1 - (Math.max(bore, major) + 2 * section) / wide, k = figures.plug;
    if (!pressed || stretch > k.stretch) return null;
    if (!(stretch >= 0 || slack <= k.slack) || slack < -k.pressed || fill > figures.limits.fill_percent[1]) return null;
    return row("O-ring", rubber ? say(stretch >= 0 ? "ring_on" : "ring_loose") : say("no_rubber", { oil: oil, t: g(t) }), !!rubber, {
      size: one[0], bore_mm: bore, outside_mm: bore + 2 * section, thickness_mm: section, squeeze_percent: squeeze(section),
      squeeze_min_percent: pressed[0], squeeze_max_percent: pressed[1], stretch_percent: stretch, fill_percent: fill, material: rubber
    });
  }
  var rings;
  if (!recess || enters) rings = [row("O-ring", say(enters ? "enters" : "no_gland"), false)];
  else {
    rings = figures.o_rings.map(ring).filter(Boolean);
    function far(one) { return Math.abs(one.squeeze_percent - 24) + Math.abs(one.stretch_percent - 2); }
    rings.sort(function (a, b) { return far(a) - far(b) || (a.size < b.size ? -1 : 1); });
    rings = rings.length ? rings.slice(0, figures.plug.shown)
      : [row("O-ring", whyNone(), false)];
  }

  function lies(outside, thick) {
    if (head !== null && outside > head + 0.5) return say("head_small", { outside: g(outside), head: g(head) });
    if (recess && outside > wide) return say("wider", { outside: g(outside), diameter: g(wide) });
    return recess && !enters && thick <= deep ? say("sunk", { thick: g(thick), depth: g(deep) }) : "";
  }
  function flat(kind, group, made, torque, fits) {
    function here(one) { return one.thread === name; }
    var found = find(figures[group], function (one) { return here(one) || (thread[3] === "M" && one.thread === "M" + g(major)); }), limits = figures.bonded_limits, why = kind !== "bonded seal" ? stands(made, t)
      : !(limits.low_c <= t && t <= limits.high_c) ? say("heat", { material: "its nitrile lip", low: g(limits.low_c), high: g(limits.high_c) })
        : stands("NBR", Math.max(t, -30));
    if (torque) torque = (find(figures.torque_copper, here) || {})[given.housing];
    if (!found) {
      var text = say("no_size", { thread: name, bore: written(major, 1) });
      return row(kind, why ? text + "; " + why : text, false, { material: made, torque_nm: torque || null });
    }
    var s = found.size;
    why = why || lies(s[1], s[2]);
    return row(kind, why || say(fits), !why, { size: s.map(g).join(" × "), bore_mm: s[0], outside_mm: s[1], thickness_mm: s[2], material: made, torque_nm: torque || null });
  }
  var rows = rings.concat([flat("bonded seal", "bonded", "NBR", false, "bonded_fits"), flat("copper washer", "rings", "copper", true, "copper_fits"),
    flat("fibre washer", "rings", "fibre", false, "fibre_fits")]);
  rows.sort(function (a, b) { return (a.fits ? 0 : 1) - (b.fits ? 0 : 1); });
  var notes = thread[3] === "G" ? [say("bsp", { thread: name, major: written(major, 2) })] : [];
  if (recess) notes.push(say("gland", { width: written((wide - major) / 2, 2), depth: written(deep, 2) }));
  return {
    rows: rows, notes: notes.concat(["relief", "hardens", "copper", "torque", "nbr", "sizes"].map(function (key) { return say(key); })),
    warnings: rows.some(function (one) { return one.fits; }) ? [] : [say("nothing", { thread: name })]
  };
});
