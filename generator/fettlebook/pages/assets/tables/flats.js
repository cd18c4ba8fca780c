/* Milling flats on a bar: the same figures as tables/flats.py. */
fettlebook.table("flats", function (given, figures) {
  "use strict";
  var refuse = fettlebook.refuse, D = given.diameter, A = given.across_flats;
  if (D === null && A === null)
    throw refuse("diameter", "the bar's diameter or the width across flats must be given", "for example 25 mm");
  if (D !== null && A !== null && A >= D)
    throw refuse("across_flats", short(A) + " mm across flats leaves no flat on a bar of " + short(D) + " mm", "take a larger bar or a smaller width");
  if (given.flats.length > 24) throw refuse("flats", "more than 24 numbers of flats are given", "for example 4, 6");

  function short(value) { return String(Number(value.toPrecision(6))); }

  function spanner(wide, n) {
    var jaw = wide !== null && (n === 2 || n === 4 || n === 6) && figures.jaws.find(function (each) { return each[0] >= wide - 0.005; });
    return { spanner: jaw ? jaw[1] : null, spanner_gap_mm: jaw ? jaw[0] - wide : null };
  }

  function row(n) {
    var ratio = Math.cos(Math.PI / n), largest = D === null ? null : n === 2 ? D : D * ratio;
    var wide = A !== null ? A : n > 2 ? largest : null, least = n === 2 || wide === null ? null : wide / ratio;
    var bar = D !== null ? D : least;
    var known = { flats: n, bar_mm: bar, across_flats_mm: wide, across_corners_mm: null, corners: null, depth_per_flat_mm: null,
      table_move_mm: null, left_mm: null, over_flat_mm: null, left_by_measurement_mm: null, flat_to_corner_mm: null, flat_width_mm: null,
      corner_circle_mm: null, largest_across_flats_mm: largest, smallest_bar_mm: least };
    Object.assign(known, spanner(wide, n));
    if (wide === null || bar === null) return known;
    var sharp = least !== null && least <= bar * (1 + 1e-12), circle = sharp ? least : bar, depth = (bar - wide) / 2, over = (bar + wide) / 2;
    return Object.assign(known, {
      across_corners_mm: n % 2 === 0 ? circle : null, corner_circle_mm: circle, corners: n === 2 ? "none" : sharp ? "sharp" : "round",
      flat_to_corner_mm: n % 2 ? (wide + circle) / 2 : null, over_flat_mm: over,
      flat_width_mm: sharp ? wide * Math.tan(Math.PI / n) : Math.sqrt(bar * bar - wide * wide), depth_per_flat_mm: depth,
      table_move_mm: given.feeler + depth, left_mm: given.feeler + depth - given.cut,
      left_by_measurement_mm: given.measured === null ? null : given.measured - over
    });
  }

  var rows = given.flats.map(row), warnings = [];
  var notes = ["Touch off on the top of the bar with the feeler just dragging, set the dial to zero, then move the table by the figure given."];
  if (rows.some(function (r) { return r.flats % 2; }))
    notes.push("An odd number of flats has no two that face each other: no caliper goes across flats. Measure over one flat and " +
      "the round opposite; the width across flats then means twice the distance from the axis to a flat.");
  if (rows.some(function (r) { return r.corners === "round"; }))
    notes.push("Round corners: the flats do not meet, and the bar's own round stays between them.");
  var left = rows.map(function (r) { return r.left_mm; }).filter(function (v) { return v !== null; });
  var deepest = left.length ? Math.min.apply(null, left) : 0;
  if (deepest < -1e-9) warnings.push("The table has already gone " + fettlebook.written(-deepest, 3) + " mm too far for this flat.");
  return { rows: rows, notes: notes, warnings: warnings };
});
