/* Acceptance limits of a lathe: the same as tables/alignment_limits.py. */
fettlebook.table("alignment-limits", function (given, figures) {
  "use strict";
  var swing = given.swing, centres = given.centres, precise = given["class"] === "precision";
  function or(value, other) { return value === undefined ? other : value; }
  function row(one, limit, standard, known) {
    return { test: one.test || "", what: one.what, limit_mm: limit, over_mm: one.over || null, limit_um_per_m: one.over ? limit / one.over * 1e6 : null,
      handbook_mm: null, handbook_over_mm: null, found_mm: or(one.found, null), standard: standard, known: known };
  }
  if (precise && (swing > figures.most[0] || centres > figures.most[1])) throw fettlebook.refuse("class", figures.ends, "take the class other");
  var rows = figures.iso_1708.filter(function (one) {
    return one["class"] === given["class"] && or(one.above, 0) < swing && swing <= or(one.swing, 1600)
      && or(one.above_centres, 0) < centres && centres <= or(one.centres, 1e9);
  }).map(function (one) {
    var beyond = one.per_1000 === undefined ? 0 : -Math.floor((1000 - centres) / 1000);
    var found = row(one, Math.min(one.limit + or(one.per_1000, 0) * beyond, or(one.most, 1e9)), "ISO 1708:1989", "from memory");
    figures.handbook.forEach(function (classic) {
      if (swing <= 800 && classic.beside === one.test) { found.handbook_mm = classic.limit * (precise ? 0.5 : 1); found.handbook_over_mm = classic.over || null; }
    });
    return found;
  });
  if (swing <= 800) figures.handbook.forEach(function (one) {
    rows.push(row(one, one.limit * (precise ? 0.5 : 1), "Testing Machine Tools", one.how_known === "secondary" ? "as quoted elsewhere" : "from memory"));
  });
  figures.record.forEach(function (one) { rows.push(row(one, one.limit, "record of a 400 mm lathe", "read")); });
  return { rows: rows, notes: figures.notes, warnings: [figures.recalled] };
});
