/* Change wheels for a thread: the same search as tables/gear_trains.py and tables/gearing.py. */
fettlebook.table("change-gears", function (given, figures) {
  "use strict";
  var written = fettlebook.written, refuse = fettlebook.refuse;

  function read(text, unit) {
    try { return fettlebook.readQuantity(text, unit); }
    catch (fault) { throw refuse("leadscrew", fault.message, HINT); }
  }
  var HINT = 'for example "6 mm" or "8 tpi"';

  function leadscrewLead(text) {
    var plain = text.trim().toLowerCase().replace(/(threads?\s+)?per\s+in(ch)?$/, "tpi"), bare = true;
    try { fettlebook.readQuantity(plain, ""); } catch (fault) { bare = false; }
    if (bare) throw refuse("leadscrew", '"' + text + '" could be millimetres or threads per inch', HINT);
    var perInch = /tpi$/.test(plain), figure = read(plain, perInch ? "tpi" : "mm");
    var lead = perInch ? (figure > 0 ? 25.4 / figure : 0) : figure;
    if (!(lead >= 0.5 && lead <= 51))
      throw refuse("leadscrew", text + " is no leadscrew's lead; it lies between 0.5 and 51 mm", HINT);
    return lead;
  }

  function wantedLead() {
    if ((given.pitch === null) === (given.tpi === null))
      throw refuse("pitch", given.tpi !== null ? "give pitch or tpi, not both" : "the pitch or the threads per inch must be given",
        'for example pitch "1.5 mm", or tpi 12');
    return given.starts * (given.pitch !== null ? given.pitch : 25.4 / given.tpi);
  }

  function checkDrawer() {
    if (gears.length < 2 || gears.length > 40)
      throw refuse("gears", gears.length + " wheels are given; from 2 to 40 can be searched", "list the wheels you have");
    if ([0, 2, 4].indexOf(mounted.length) < 0)
      throw refuse("mounted", mounted.length + " wheels are no train", "write 2 or 4 wheels from the spindle on, like 40, 80");
    if ((given.centres === null) !== (given.module === null))
      throw refuse(given.module === null ? "module" : "centres", "centres and module are needed together", "give both, or neither");
  }

  function places(train) {
    return train.length === 2 ? { 0: train[0], 3: train[1] } : Object.assign({}, train);
  }
  function changes(train) {
    var mine = places(train);
    return Object.keys(mine).filter(function (at) { return mine[at] !== there[at]; }).length;
  }
  function spans(first, second) {
    if (given.centres === null) return true;
    var r = first * given.module / 2, s = second * given.module / 2;
    return Math.abs(r - s) < given.centres && given.centres < r + s;
  }
  function idlerFor(a, b) {
    if (given.centres !== null && (a + b + 2) * given.module / 2 >= given.centres) return null;
    var spare = sorted.slice();
    spare.splice(spare.indexOf(a), 1);
    spare.splice(spare.indexOf(b), 1);
    for (var n = 0; n < spare.length; n++) if (spans(a + spare[n], spare[n] + b)) return spare[n];
    return null;
  }
  function compare(one, other) {
    for (var n = 0; n < Math.min(one.length, other.length); n++) if (one[n] !== other[n]) return one[n] - other[n];
    return one.length - other.length;
  }
  function offBy(top, bottom) {
    var error = top / bottom / ratio - 1;
    return Math.abs(error) < 1e-10 ? 0 : error;
  }
  function worst() { return best.length === given.count ? best[best.length - 1] : Infinity; }
  function keep(train, error, fits, idler, count) {
    found.push({ train: train, error: error, fits: fits, idler: idler, changes: count,
      rank: [fits ? 0 : 1, Math.abs(error), count, -Math.min.apply(null, train), train.reduce(function (a, b) { return a + b; })].concat(train) });
    if (!fits) return;
    var at = best.length;
    while (at > 0 && best[at - 1] > Math.abs(error)) at--;
    best.splice(at, 0, Math.abs(error));
    best.length = Math.min(best.length, given.count);
  }
  function bestOrder(a, c, b, d, error) {
    var ranked = [[a, b, c, d], [a, d, c, b], [c, b, a, d], [c, d, a, b]].map(function (t) {
      var room = t[0] + t[1] >= t[2] + given.clearance && t[2] + t[3] >= t[1] + given.clearance && spans(t[0] + t[1], t[2] + t[3]);
      return [room ? 0 : 1, changes(t)].concat(t);
    }).sort(compare)[0];
    keep(ranked.slice(2), error, ranked[0] === 0, null, ranked[1]);
  }
  function simple() {
    var kinds = Array.from(new Set(sorted));
    kinds.forEach(function (a) {
      kinds.forEach(function (b) {
        if (a === b && sorted.indexOf(a) === sorted.lastIndexOf(a)) return;
        var error = offBy(a, b);
        if (Math.abs(error) > worst()) return;
        var idler = idlerFor(a, b);
        keep([a, b], error, idler !== null || given.centres === null, idler, changes([a, b]));
      });
    });
  }
  function walkPairs() {
    var pairs = [], seen = {};
    sorted.forEach(function (p, i) {
      sorted.slice(i + 1).forEach(function (q) {
        if (!seen[p + "," + q]) pairs.push([p * q, p, q]);
        seen[p + "," + q] = true;
      });
    });
    pairs.sort(compare);
    pairs.forEach(function (drivers) {
      var low = 0, high = pairs.length, wanted = drivers[0] / ratio, a = drivers[1], c = drivers[2];
      while (low < high) { var mid = (low + high) >> 1; if (pairs[mid][0] < wanted) low = mid + 1; else high = mid; }
      [[1, low], [-1, low - 1]].forEach(function (walk) {
        for (var n = walk[1]; n >= 0 && n < pairs.length; n += walk[0]) {
          var b = pairs[n][1], d = pairs[n][2], error = offBy(drivers[0], pairs[n][0]);
          if (Math.abs(error) > worst()) break;
          if (a !== b && a !== d && c !== b && c !== d) bestOrder(a, c, b, d, error);
        }
      });
    });
  }
  function row(one) {
    var t = one.train, got = (t.length === 2 ? t[0] / t[1] : t[0] * t[2] / (t[1] * t[3])) * (screw * given.stud);
    var error = one.error === 0 ? 0 : got / lead - 1, pitch = (one.error === 0 ? lead : got) / given.starts;
    var even = function (x, n) { return n % 2 === 0; }, odd = function (x, n) { return n % 2 === 1; };
    return { drivers: t.filter(even), driven: t.filter(odd), idler: one.idler, pitch_mm: pitch, tpi: 25.4 / pitch, error_percent: 100 * error,
      error_mm_per_300: 300 * error, fits: one.fits, wheels_to_change: one.changes };
  }

  var lead = wantedLead(), screw = leadscrewLead(given.leadscrew), gears = given.gears, mounted = given.mounted;
  checkDrawer();
  var sorted = gears.slice().sort(function (a, b) { return a - b; }), there = places(mounted);
  if (!mounted.length) there = {};
  var ratio = lead / (screw * given.stud), found = [], best = [];
  simple();
  if (given.compound) walkPairs();
  var limit = worst();
  found = found.filter(function (one) { return Math.abs(one.error) <= limit; }).sort(function (a, b) { return compare(a.rank, b.rank); });
  function worth(list) {
    return list.filter(function (one) { return Math.abs(one.error) <= Math.max(0.02, Math.abs(list[0].error)); });
  }
  var fitting = worth(found.filter(function (one) { return one.fits; }).slice(0, given.count));
  var others = found.filter(function (one) { return !one.fits; });
  var shown = !fitting.length ? worth(others.slice(0, given.count)) : fitting.concat(others.filter(function (one) {
    return Math.abs(one.error) < Math.abs(fitting[0].error);
  }).slice(0, 3));
  var off = Math.abs(shown[0].error), notes = [], warnings = [];
  var mixed = (given.tpi !== null) !== /tpi|in|["″”]/.test(given.leadscrew.toLowerCase());
  if (off) notes.push("No exact train in this drawer: the best is out by " + written(off * 10000, 1) + " µm over a nut 10 mm long, " +
    written(off * 300, 3) + " mm over 300 mm.");
  if (mixed && off && !gears.some(function (teeth) { return teeth % 127 === 0; }))
    notes.push("Between inch and millimetre only a wheel of 127 teeth (or a multiple of it) is exact.");
  if (mixed) notes.push("Inch thread on a metric leadscrew or the reverse: keep the half-nut closed and reverse the lathe.");
  if (off > 0.005) warnings.push("The nearest train is " + written(off * 100, 2) + " percent off: no thread for a nut.");
  if (!shown[0].fits) warnings.push("None of these trains passes the tooth-sum test: a wheel would foul a shaft.");
  return { rows: shown.map(row), notes: notes, warnings: warnings };
});
