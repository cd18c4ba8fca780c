/* Where a machine's weight sits: the same as tables/moving.py. */
fettlebook.table("foot-loads", function (given, figures) {
  "use strict";
  var refuse = fettlebook.refuse, weights = given.weights, rear = given.rear, across = given.across, spacing = given.spacing;
  function g(x) { return String(Number(x.toPrecision(6))); }
  function sum(list) { return list.reduce(function (a, b) { return a + b; }, 0); }
  function row(foot, load, place, total, along, behind) {
    return { foot: foot, place_mm: place, load_kg: load, load_kn: load * figures.gravity / 1000, share_percent: 100 * load / total, total_kg: total,
      centre_from_first_mm: along, centre_from_front_mm: behind };
  }
  function answer(rows) { return { rows: rows, notes: figures.notes, warnings: [figures.rigging] }; }
  if (weights === null) {
    var mass = given.mass, centre = given.centre;
    if (mass === null || centre === null) throw refuse("weights", "the weights at the feet, or the mass and its centre, must be given", "for example 760, 490");
    if (spacing.length !== 1) throw refuse("spacing", "mass and centre give the loads on two supports: one distance is wanted");
    if (!(centre >= 0 && centre <= spacing[0])) throw refuse("centre", "a centre " + g(centre) + " mm from the first support lies outside the two: the machine would tip");
    var second = mass * centre / spacing[0];
    return answer([row("foot 1", mass - second, 0, mass, centre, null), row("foot 2", second, spacing[0], mass, centre, null)]);
  }
  if (given.mass !== null || given.centre !== null) throw refuse("mass", "give either the weights or the mass and its centre, not both");
  if (weights.length < 2) throw refuse("weights", "one weighing finds no balance", "weigh at two feet at least, with the machine level");
  var gaps = spacing.length === 1 ? weights.slice(1).map(function () { return spacing[0]; }) : spacing;
  if (gaps.length !== weights.length - 1)
    throw refuse("spacing", weights.length + " feet have " + (weights.length - 1) + " gaps; " + spacing.length + " are given", "write one for all, or one for each gap");
  var places = weights.map(function (_, n) { return sum(gaps.slice(0, n)); });
  if ((rear === null) !== (across === null)) throw refuse(rear === null ? "rear" : "across", "the rear weights and their distance from the front go together");
  if (rear !== null && rear.length !== weights.length) throw refuse("rear", weights.length + " feet in front and " + rear.length + " behind", "write 0 for a foot that is not there");
  var all = weights.concat(rear || []), total = sum(weights) + sum(rear || []);
  if (total <= 0) throw refuse("weights", "nothing was weighed");
  var along = sum(all.map(function (w, n) { return w * places[n % weights.length]; })) / total, behind = rear ? sum(rear) * across / total : null;
  return answer(all.map(function (w, n) {
    var m = n % weights.length;
    return row((rear ? (n < weights.length ? "front " : "rear ") : "foot ") + (m + 1), w, places[m], total, along, behind);
  }));
});
