/* One division of a level in other units, and the reversal check: the same as tables/levels.py. */
fettlebook.table("levels", function (given, figures) {
  "use strict";
  var a = given.reading, b = given.reversed, written = fettlebook.written, warnings = [];
  if ((a === null) !== (b === null)) throw fettlebook.refuse(a === null ? "reading" : "reversed", figures.both, figures.both_hint);
  function row(pair) {
    var slope = given.division * pair[1];
    return { what: pair[0], divisions: pair[1], mm_per_m: slope, arc_s: Math.atan(slope / 1000) * 180 / Math.PI * 3600,
      in_per_ft: slope * 12 / 1000, in_per_10in: slope / 100, height_mm: slope * given.base / 1000 };
  }
  var rows = figures.named.map(row), notes = [
    "Height is over a base of " + String(Number(given.base.toPrecision(6))) + " mm.", figures.ten_inches,
    "A bubble that moves " + String(Number(given.travel.toPrecision(6))) + " mm for a division needs a vial ground to a radius of "
      + written(given.travel / given.division, 1) + " m: a warm hand bends it. Wait, and read both ends of the bubble.", figures.series];
  if (a !== null) {
    var error = (a + b) / 2;
    rows.push(row(["the surface's tilt", (a - b) / 2]), row(["the level's own error", error]));
    notes.push(figures.halves);
    if (Math.abs(error) > figures.limit) warnings.push("The level is out by " + written(Math.abs(error), 2) + figures.out);
  }
  return { rows: rows, notes: notes, warnings: warnings };
});
