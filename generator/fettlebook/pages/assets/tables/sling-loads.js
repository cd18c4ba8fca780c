/* The pull in a sling's legs: the same as tables/slings.py. */
fettlebook.table("sling-loads", function (given, figures) {
  "use strict";
  var written = fettlebook.written, refuse = fettlebook.refuse, legs = given.legs, side = given.measured_from;
  var angle = given.angle, long = given.sling_length, high = given.height;
  function g(x) { return String(Number(x.toPrecision(6))); }

  if ((long === null) !== (high === null))
    throw refuse(long === null ? "sling_length" : "height", figures.words.together);
  if (long !== null) {
    if (angle !== null) throw refuse("angle", figures.words.either);
    if (high > long) throw refuse("height", "the hook cannot be " + g(high) + " mm over the load on a leg of " + g(long) + " mm", "were the two exchanged?");
    angle = Math.asin(high / long) * 180 / Math.PI;
  } else if (legs === 1 && angle !== null && angle !== (side === "horizontal" ? 90 : 0)) {
    throw refuse("angle", figures.words.plumb, figures.words.plumb_hint);
  } else if (angle === null) {
    if (legs !== 1) throw refuse("angle", figures.words.needed, "for example 60 deg");
    angle = 90;
  } else if (side === "vertical") angle = 90 - angle;

  if (!(angle >= figures.flattest - 1e-9 && angle <= 90)) throw refuse("angle", figures.words.flat.replace("{angle}", g(angle)), figures.words.flat_hint);
  var factor = 1 / Math.sin(angle * Math.PI / 180);
  var rows = (legs <= 2 ? [[legs, "all legs"]] : [[2, "rigid load: two legs carry"], [3, "three legs carry"]]).map(function (way) {
    var share = given.mass / way[0];
    return {
      legs: legs, counted_legs: way[0], practice: way[1], angle_deg: angle, angle_from_vertical_deg: 90 - angle, factor: factor,
      tension_kn: share * factor * figures.gravity / 1000, tension_kg: share * factor,
      push_kn: share * figures.gravity / 1000 * factor * Math.cos(angle * Math.PI / 180)
    };
  });
  return {
    rows: rows,
    notes: [figures.words.factor.replace("{factor}", written(factor, 3)), figures.words.other.replace("{other}", written(90 - angle, 1))].concat(figures.notes),
    warnings: [figures.rigging].concat(angle < figures.flat ? [figures.words.steeper] : [], legs > 2 ? [figures.words.rigid] : [])
  };
});
