/* Twist, test bar and two collars: the same as tables/alignment.py. */
(function () {
  "use strict";
  var written = fettlebook.written, refuse = fettlebook.refuse;
  function g(x) { return String(Number(x.toPrecision(6))); }
  function twistFor(taper, height) { return taper / 2 / height * 1000; }

  fettlebook.table("bed-twist", function (given, notes) {
    var height = given.centre_height;
    if ((given.twist === null) === (given.taper === null))
      throw refuse("twist", "either the twist or the taper must be given, and not both", "for example 0.02 mm/m");
    var twist = given.twist !== null ? given.twist : twistFor(given.taper, height), radial = height * twist / 1000;
    return { rows: [{ twist_mm_per_m: twist, radial_mm: radial, taper_mm: 2 * radial, taper_um: 2000 * radial,
      taper_per_100_mm: given.length ? 200 * radial / given.length : null, height_mm: given.bed_width ? twist * given.bed_width / 1000 : null }],
      notes: notes, warnings: [] };
  });

  fettlebook.table("test-bar", function (given, notes) {
    var length = given.length === null ? given.over : given.length, drop = given.vertical * length / given.over, radius = given.diameter / 2;
    if (Math.abs(drop) >= radius) throw refuse("vertical", "the bar would leave the tool altogether; was it read in hundredths?");
    return { rows: [{ horizontal_mm: given.horizontal, angle_mm_per_m: given.horizontal / given.over * 1000,
      taper_mm: 2 * given.horizontal * length / given.over, taper_vertical_mm: 2 * (Math.sqrt(radius * radius + drop * drop) - radius) }],
      notes: notes, warnings: [] };
  });

  fettlebook.table("two-collars", function (given, figures) {
    var head = given.headstock, tail = given.tailstock, apart = given.distance, across = given.across, along = given.along;
    if (Math.abs(head - tail) > 0.02 * apart)
      throw refuse("tailstock", "collars " + g(head) + " and " + g(tail) + " mm differ by far too much for a test cut", "give the two diameters turned at one setting of the tool");
    if ((across === null) !== (along === null))
      throw refuse(across === null ? "across" : "along", "the feet have a distance across and one along; only one is given");
    var difference = tail - head, size = Math.abs(difference), taper = size / apart * 300, twist = twistFor(difference, given.centre_height);
    var lift = across !== null ? Math.abs(twist / 1000 * along / apart * across) : null, turned = lift !== null && given.pitch ? lift / given.pitch : null;
    var verdict = difference === 0 ? "parallel" : "larger at the " + (difference > 0 ? "tailstock" : "headstock") + " end, " + written(taper, 4)
      + " mm over 300 mm: " + (taper <= given.limit ? "inside " : "outside ") + g(given.limit) + " mm";
    var foot = difference > 0 ? ["front", "rear"] : ["rear", "front"];
    return {
      rows: [{ way: "tailstock feet", difference_mm: difference, twist_mm_per_m: twist, move_mm: lift, turns: turned, degrees: turned === null ? null : turned * 360,
        move: difference === 0 ? "nothing" : "raise the " + foot[0] + " foot at the tailstock end, or lower the " + foot[1] + " one, by the whole; or half on each", verdict: verdict },
      { way: "headstock, if it is made to swing", difference_mm: difference, twist_mm_per_m: null, move_mm: size / 2, turns: null, degrees: null,
        move: difference === 0 ? "nothing" : "swing the free end of the bar " + (difference > 0 ? "towards" : "away from") + " the tool, by this much over " + written(apart, 0) + " mm", verdict: verdict }],
      notes: figures.notes, warnings: given.bar === null || apart <= figures.stiff * given.bar ? [] : [figures.springs]
    };
  });
})();
