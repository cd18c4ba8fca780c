/* Levelling on jacks: the same answers as tables/levelling*.py. Rows: first the long reading of every station, then the cross. */
fettlebook.table("jack-moves", function (given) {
  "use strict";
  var refuse = fettlebook.refuse, written = fettlebook.written, abs = Math.abs, max = Math.max, min = Math.min;
  var EX = "for example feet=4 length=1600 width=450 pitch=2", EXR = "for example 1: +0.5/-1; 2: 0/-0.5", EXL = "for example F1 +0.12 mm or R1 2 cross -1.5";

  /* small things */
  function short(x) { return String(Number(x.toPrecision(6))); }
  function range(n) { return Array.from({ length: n }, (_, i) => i); }
  function fill(n, v) { return range(n).map(() => v); }
  function isMap(x) { return x !== null && typeof x === "object" && !Array.isArray(x); }
  function total(list) { return list.reduce((a, b) => a + b, 0); }
  function dot(a, b) { var t = 0; for (var i = 0; i < a.length; i++) t += a[i] * b[i]; return t; }
  function times(m, v) { return m.map(row => dot(row, v)); }
  function least(values, equal) {
    var best = 0;
    values.forEach(function (v, i) { if (v < values[best] - (equal || 1e-9) * abs(values[best])) best = i; });
    return best;
  }
  function json(text, name) {
    try { return JSON.parse(text); }
    catch (fault) { throw refuse(name, text.slice(0, 40) + " ... is not valid JSON", "or write it as text, without braces and brackets"); }
  }
  function figure(value, unit, name, where, hint) {
    try { return fettlebook.readQuantity(String(value), unit); }
    catch (fault) { throw refuse(name, where + ": " + fault.message, hint); }
  }
  function index(list, name, parameter, what) {
    var wanted = String(name).trim().toLowerCase(), at = list.findIndex(each => each.name.toLowerCase() === wanted);
    if (at < 0) throw refuse(parameter, "there is no " + what + ' "' + String(name).trim().slice(0, 40) + '"', "this machine has " + list.map(e => e.name).join(", "));
    return at;
  }

  /* the machine */
  function bad(what, hint) { return refuse("machine", what, hint); }
  function listed(machine, key) {
    if (!Array.isArray(machine[key]) || !machine[key].length)
      throw bad("it lists no " + key, "write them in the machine file, or a line like " + EX.slice(12));
    return machine[key];
  }
  function length(place, key, where, usual) {
    var value = place[key];
    if (value === null || value === undefined) {
      if (usual === undefined) throw bad(where + " has no " + key, "measure it from the first foot");
      return usual;
    }
    var mm = figure(value, "mm", "machine", where + ": " + key);
    if (!(abs(mm) <= 1e5)) throw bad(where + ": " + key + " " + value + " is out of all proportion", "write it in mm");
    return mm;
  }
  function pitchOf(foot, where) {
    if (foot.screw_pitch_mm === null || foot.screw_pitch_mm === undefined) return null;
    var text = String(foot.screw_pitch_mm).trim(), inch = /tpi$/i.test(text), at = where + ": screw_pitch_mm";
    var thread = /^(?:[Mm]\d+(?:\.\d+)?[xX×](\d+(?:\.\d+)?)|\d+(?:\/\d+)?-(\d+)(?: ?UN[CF]?)?)$/.exec(text);
    var pitch = inch ? 25.4 / figure(text.slice(0, -3), "", "machine", at)
      : thread ? (thread[1] ? Number(thread[1]) : 25.4 / Number(thread[2])) : figure(text, "mm", "machine", at);
    if (!(pitch > 0 && pitch <= 6.5)) throw bad(where + ": a pitch of " + text.slice(0, 20) + " mm is not one of an adjusting screw", 'if that is threads per inch write "' + text.slice(0, 20) + ' TPI"');
    return pitch;
  }
  function unlike(list, what) {
    list.forEach(function (each) {
      if (!each.name) throw bad("one of the " + what + " has no name");
      if (list.filter(other => other.name.toLowerCase() === each.name.toLowerCase()).length > 1) throw bad("two " + what + ' are called "' + each.name.slice(0, 40) + '"');
    });
  }
  function named(each, n) { return String(each.name === undefined ? n + 1 : each.name).trim(); }
  function layoutFrom(machine) {
    if (typeof machine === "string") machine = /^\s*\{/.test(machine) ? json(machine.trim(), "machine") : fromLine(machine);
    if (!isMap(machine)) throw bad("feet and stations are wanted here", EX);
    var feet = listed(machine, "feet").map(function (foot, n) {
      if (!isMap(foot)) throw bad("foot " + (n + 1) + " is not a mapping with name, x_mm and y_mm");
      var name = named(foot, n), where = "foot " + name.slice(0, 40), jack = foot.jack === undefined ? true : foot.jack;
      if (typeof jack !== "boolean") throw bad(where + ": jack is neither true nor false");
      var up = length(foot, "travel_up_mm", where, 10), down = length(foot, "travel_down_mm", where, 10);
      if (up < 0 || down < 0) throw bad(where + ": a travel below zero is impossible", "write how far it can still go");
      return { name: name, x: length(foot, "x_mm", where), y: length(foot, "y_mm", where), jack: jack, pitch: pitchOf(foot, where), up: up, down: down };
    }).sort((a, b) => a.x - b.x || a.y - b.y);
    if (feet.length > 40) throw bad(feet.length + " feet are more than the 40 that can be worked out here");
    unlike(feet, "feet");
    var stations = listed(machine, "stations").map(function (station, n) {
      if (!isMap(station)) throw bad("station " + (n + 1) + " is not a mapping with name and x_mm");
      var name = named(station, n);
      return { name: name, x: length(station, "x_mm", "station " + name.slice(0, 40)) };
    });
    if (stations.length > 60) throw bad(stations.length + " stations are more than the 60 that can be worked out here");
    unlike(stations, "stations");
    stations.sort((a, b) => a.x - b.x);
    var groups = [];
    feet.forEach(function (foot, j) {
      var last = groups[groups.length - 1];
      if (last && foot.x - feet[last[0]].x < 60) last.push(j); else groups.push([j]);
    });
    if (!feet.some(foot => foot.jack))
      throw bad("every foot is fixed, so there is nothing to turn", "mark the feet that stand on a screw with jack: true; a fixed foot is set by packing");
    if (feet.length < 3 || groups.length < 2 || !groups.some(g => g.some(j => feet[j].y !== feet[g[0]].y)))
      throw bad("the feet do not hold a bed: at least three are needed, at two places along it, two of them across", "look at x_mm and y_mm of each foot");
    return { feet: feet, stations: stations, groups: groups };
  }
  function fromLine(text) {
    var known = ["feet", "length", "width", "stations", "pitch", "travel", "fixed"], said = {};
    text.replace(/\s*=\s*/g, "=").trim().split(/\s+(?=[^\s=]+=)/).forEach(function (part) {
      var at = part.indexOf("="), key = at < 0 ? part : part.slice(0, at);
      if (at < 0 || known.indexOf(key) < 0) throw bad('"' + part.slice(0, 40) + '" is not one of ' + known.join("=, ") + "=", EX);
      said[key] = part.slice(at + 1).trim();
    });
    function number(key, low, high, usual) {
      if (said[key] === undefined) {
        if (usual === undefined) throw bad(key + "= is missing", EX);
        return usual;
      }
      var found = figure(said[key], key === "length" || key === "width" ? "mm" : "", "machine", key, EX);
      if (!(found >= low && found <= high)) throw bad(key + "=" + said[key] + " lies outside " + low + " to " + (high > 99999 ? "100000" : high));
      return found;
    }
    var count = Math.trunc(number("feet", 4, 40));
    if (count % 2) throw bad(count + " feet do not stand in pairs", "write an odd number of feet as a machine file");
    var along = number("length", 100, 1e5), width = number("width", 50, 1e4), pairs = count / 2, places = Math.trunc(number("stations", 1, 60, count + 1));
    var fixed = (said.fixed || "").split(",").map(name => name.trim().toLowerCase()).filter(Boolean), feet = [];
    range(pairs).forEach(function (n) {
      [["F", -width / 2], ["R", width / 2]].forEach(function (side) {
        var name = side[0] + (n + 1);
        feet.push({ name: name, x_mm: along * n / (pairs - 1), y_mm: side[1], screw_pitch_mm: said.pitch, travel_up_mm: said.travel, travel_down_mm: said.travel, jack: fixed.indexOf(name.toLowerCase()) < 0 });
      });
    });
    var unknown = fixed.filter(name => !feet.some(foot => foot.name.toLowerCase() === name)).sort();
    if (unknown.length) throw bad('there is no foot "' + unknown[0].slice(0, 40) + '"', "the pairs are called F1 and R1, F2 and R2 ...");
    return { feet: feet, stations: range(places).map(function (n) { return { name: String(n + 1), x_mm: places > 1 ? along / (places - 1) * n : along / 2 }; }) };
  }

  var L = layoutFrom(given.machine), feet = L.feet, N = feet.length, M = L.stations.length, division = given.division;
  function place(row) { return "station " + L.stations[row % M].name + (row < M ? " long" : " cross"); }

  /* readings and log */
  function divisions(value, where, name) {
    if (value === null || value === undefined || (typeof value === "string" && ["", "-", "\u2013", "?", "x", "none", "null"].indexOf(value.trim().toLowerCase()) >= 0)) return null;
    if (typeof value === "boolean") throw refuse(name, where + ": a yes or no is not a reading");
    var found = typeof value === "number" ? value : figure(value, "", name, where, "write divisions with a sign; - where nothing was read");
    if (!(abs(found) <= 500)) throw refuse(name, where + ": " + value + " divisions is more than any level shows", "write divisions, not mm/m");
    return found;
  }
  function pair(text, name) {
    var spaced = " " + text + " ", parts = /\s\/\s/.test(spaced) ? spaced.split(/\s\/\s/) : text.split("/");
    if (parts.length !== 2) throw refuse(name, '"' + text.trim().slice(0, 40) + '" is not a long and a cross reading with a slash between', EXR + "; with fractions leave a space on both sides: 1 1/2 / -1/4");
    return { long: parts[0].trim(), cross: parts[1].trim() };
  }
  function both(value) {
    if (typeof value === "string") return pair(value, "readings");
    if (isMap(value)) return value;
    return Array.isArray(value) ? { long: value[0], cross: value[1] } : { long: value };
  }
  function readingsFrom(value, name) {
    if (typeof value === "string") value = /^\s*[[{]/.test(value) ? json(value.trim(), name) : value.split(/[;\n]/).filter(part => part.trim()).map(function (part) {
      var at = part.indexOf(":");
      if (at < 0) throw refuse(name, '"' + part.trim().slice(0, 40) + '" has no ":" after the station', EXR);
      return Object.assign({ station: part.slice(0, at) }, pair(part.slice(at + 1), name));
    });
    if (isMap(value)) value = Object.keys(value).map(function (key) { return Object.assign({ station: key }, both(value[key])); });
    if (!Array.isArray(value)) throw refuse(name, "readings are wanted here", EXR);
    var rows = fill(2 * M, null);
    value.forEach(function (one) {
      if (!isMap(one) || one.station === undefined) throw refuse(name, "a reading names no station", EXR);
      var m = index(L.stations, one.station, name, "station");
      ["long", "cross"].forEach(function (way, n) {
        var row = m + n * M, found = divisions(one[way], place(row), name);
        if (found === null) return;
        if (rows[row] !== null && rows[row] !== found)
          throw refuse(name, place(row) + " is given twice, as " + short(rows[row]) + " and as " + short(found), "the two contradict one another; read it again and write it once");
        rows[row] = found;
      });
    });
    if (rows.every(v => v === null)) throw refuse(name, "there is no reading in it", EXR);
    return rows;
  }
  function turnedText(text) {
    var jack = text.split(" ")[0], known = feet.map(f => f.name).filter(name => text.toLowerCase().startsWith(name.toLowerCase() + " "));
    known.forEach((name, n) => { if (!n || name.length > jack.length) jack = name; });
    var found = /^(?:(.+?)\s+(long|cross)\s+)?(\S.*?)\s*(mm|turns?|flats?|deg|\u00b0)?$/i.exec(text.slice(jack.length).trim());
    if (!found) throw refuse("log", '"' + text.slice(0, 40) + '" does not say what was turned', EXL);
    return found[1] ? { jack: jack, station: found[1], way: found[2].toLowerCase(), shows: found[3] } : { jack: jack, mm: found[3], unit: (found[4] || "mm").toLowerCase() };
  }
  function moveOf(one) {
    if (!isMap(one) || one.jack === undefined) throw refuse("log", "a move names no jack", "for example F1 +0.12 mm");
    var j = index(feet, one.jack, "log", "foot"), where = "jack " + feet[j].name, unit = one.unit || "mm", each = 1;
    if (one.station !== null && one.station !== undefined && one.station !== "") {
      var m = index(L.stations, one.station, "log", "station"), way = String(one.way === undefined ? "cross" : one.way).toLowerCase();
      if (way !== "long" && way !== "cross") throw refuse("log", where + ': "' + way.slice(0, 20) + '" is neither long nor cross');
      var shows = divisions(one.shows, where, "log");
      if (shows === null) throw refuse("log", where + ": it does not say what the bubble showed in the end", "for example R1 2 cross -1.5");
      return { foot: j, mm: 0, row: m + (way === "cross" ? M : 0), shows: shows * division - zero };
    }
    if (unit !== "mm") {
      if (feet[j].pitch === null) throw refuse("log", where + ": its screw's pitch is not known, so " + unit + " say nothing", "write mm");
      each = feet[j].pitch * ({ t: 1, f: 1 / 6 }[unit[0]] || 1 / 360);
    }
    var mm = (divisions(one.mm, where, "log") || 0) * each;
    if (abs(mm) > 50) throw refuse("log", where + ": a move of " + short(mm) + " mm is out of all proportion", "write mm");
    return { foot: j, mm: mm, row: -1, shows: 0 };
  }
  function turnedFrom(value) {
    if (typeof value === "string") return value.split(/[,;]/).map(part => part.trim()).filter(Boolean).map(part => moveOf(turnedText(part)));
    if (isMap(value)) return Object.keys(value).map(function (name) { return moveOf(typeof value[name] === "string" ? turnedText(name + " " + value[name]) : { jack: name, mm: value[name] }); });
    if (!Array.isArray(value)) throw refuse("log", "what was turned is not a list", "for example F1 +0.12 mm, R1 2 cross -1.5");
    return value.map(moveOf);
  }
  function roundOf(text) {
    var at = text.indexOf(">");
    return { readings: at < 0 ? text : text.slice(0, at), turned: at < 0 ? null : text.slice(at + 1) };
  }
  function logFrom(value) {
    if (value === null || value === undefined || value === "" || (Array.isArray(value) && !value.length)) return [];
    if (typeof value === "string") value = /^\s*\[/.test(value) ? json(value.trim(), "log") : value.split("|").map(roundOf);
    if (!Array.isArray(value)) throw refuse("log", "a list of earlier rounds is wanted here", "for example 1: +0.5/-1; 2: 0/-0.5 > F1 +0.12 mm");
    if (value.length > 60) throw refuse("log", "more than 60 rounds", "start a new log");
    return value.map(function (one) {
      if (typeof one === "string") one = roundOf(one);
      if (!isMap(one) || one.readings === undefined) throw refuse("log", "a round has no readings", "for example 1: +0.5/-1; 2: 0/-0.5 > F1 +0.12 mm");
      var loose = one.loose || [];
      if (typeof loose === "string") loose = loose.split(/[;,]/);
      if (!Array.isArray(loose)) throw refuse("log", "loose is not a list of feet");
      return { r: trueReadings(readingsFrom(one.readings, "log")), turned: one.turned === null || one.turned === undefined ? null : turnedFrom(one.turned),
        loose: loose.map(name => index(feet, name, "log", "foot")) };
    });
  }
  function trueReadings(rows) { return rows.map(v => v === null ? null : v * division - zero); }

  var zero = given.zero * division, noise = given["reading-error"] * division, limit = given.limit, goal = given.goal;
  var now = trueReadings(readingsFrom(given.readings, "readings")), loose = (given.loose || []).map(name => index(feet, name, "loose", "foot"));
  var log = logFrom(given.log), stay = (given.stay || []).map(name => index(feet, name, "stay", "foot"));
  if (feet.every((foot, j) => !foot.jack || stay.indexOf(j) >= 0)) throw refuse("stay", "no jack is left that may move", "name only the jacks that must not move");

  /* small dense least squares */
  function solveMany(matrix, right) {
    var n = matrix.length, w = matrix.map((row, i) => row.concat(right[i])), i, j, k, c;
    for (k = 0; k < n; k++) {
      var best = k;
      for (i = k + 1; i < n; i++) if (abs(w[i][k]) > abs(w[best][k])) best = i;
      var swap = w[k]; w[k] = w[best]; w[best] = swap;
      for (i = k + 1; i < n; i++) {
        var factor = w[i][k] / w[k][k];
        if (factor) for (j = k; j < w[i].length; j++) w[i][j] -= factor * w[k][j];
      }
    }
    for (k = n - 1; k >= 0; k--) for (c = n; c < w[k].length; c++) {
      for (j = k + 1; j < n; j++) w[k][c] -= w[k][j] * w[j][c];
      w[k][c] /= w[k][k];
    }
    return w.map(row => row.slice(n));
  }
  function solve(matrix, right) { return solveMany(matrix, right.map(v => [v])).map(row => row[0]); }
  function normal(tall, right) {
    var columns = tall[0].map((_, j) => tall.map(row => row[j]));
    return [columns.map(a => columns.map(b => dot(a, b))), columns.map(a => dot(a, right))];
  }
  function bounded(q, c, low, high) {
    var n = c.length, held = {}, never = {}, x;
    function settle() {
      var free = range(n).filter(j => !(j in held));
      var found = solve(free.map(i => free.map(j => q[i][j])), free.map(function (i) {
        return c[i] - total(Object.keys(held).map(j => q[i][j] * held[j]));
      }));
      x = range(n).map(j => j in held ? held[j] : 0);
      free.forEach(function (j, at) { x[j] = found[at]; });
    }
    range(n).forEach(function (j) { if (low[j] === high[j]) held[j] = never[j] = low[j]; });
    settle();
    for (var turn = 0; turn < 6 * n + 6; turn++) {
      var out = 0, far = -Infinity;
      range(n).forEach(function (j) { var d = max(low[j] - x[j], x[j] - high[j]); if (d > far) { far = d; out = j; } });
      if (far > 1e-12) held[out] = x[out] < low[out] ? low[out] : high[out];
      else {
        var loosest = null, most = 1e-12;
        Object.keys(held).forEach(function (j) {
          if (j in never) return;
          var slope = dot(q[j], x) - c[j], inward = x[j] === low[j] ? -slope : slope;
          if (inward > most) { most = inward; loosest = j; }
        });
        if (loosest === null) break;
        delete held[loosest];
      }
      settle();
    }
    return x.map((v, j) => min(max(v, low[j]), high[j]));
  }

  /* what each jack does */
  function shares(at, x) {
    var out = fill(at.length, 0), right = at.findIndex(a => a >= x);
    if (right < 0) right = at.length - 1;
    if (right === 0 || x >= at[at.length - 1]) { out[right] = 1; return out; }
    var part = (x - at[right - 1]) / (at[right] - at[right - 1]);
    out[right - 1] = 1 - part; out[right] = part;
    return out;
  }
  function footMatrix() {
    var places = [], heights = [], tilts = [], known = [];
    L.groups.forEach(function (g, k) {
      var mean = total(g.map(j => feet[j].y)) / g.length, spread = total(g.map(j => (feet[j].y - mean) * (feet[j].y - mean)));
      var tilt = spread > 1 ? fill(N, 0) : null;
      places.push(total(g.map(j => feet[j].x)) / g.length);
      if (tilt) { known.push(k); g.forEach(function (j) { tilt[j] = (feet[j].y - mean) / spread; }); }
      heights.push(range(N).map(j => (g.indexOf(j) >= 0 ? 1 / g.length : 0) - (tilt ? mean * tilt[j] : 0)));
      tilts.push(tilt);
    });
    var at = known.map(k => places[k]);
    L.groups.forEach(function (g, k) {
      if (!tilts[k]) shares(at, places[k]).forEach(function (share, t) { heights[k] = heights[k].map((h, j) => h - feet[g[0]].y * share * tilts[known[t]][j]); });
    });
    return L.stations.map(function (s) {
      var k = min(max(places.filter(p => p < s.x).length, 1), places.length - 1), span = (places[k] - places[k - 1]) / 1000;
      return range(N).map(j => (heights[k][j] - heights[k - 1][j]) / span);
    }).concat(L.stations.map(function (s) {
      var part = shares(at, s.x);
      return range(N).map(j => 1000 * total(part.map((share, t) => share * tilts[known[t]][j])));
    }));
  }
  function beamMatrix(give, twist) {
    var xs = feet.map(f => (f.x - feet[0].x) / 1000), ys = feet.map(f => f.y / 1000);
    var left = xs.map(function (a, i) {
      return xs.map(function (b, j) { var gap = abs(a - b); return Math.pow(gap, 3) / 12 - twist * ys[i] * ys[j] * gap / 2 + (i === j ? give : 0); }).concat([1, a, ys[i]]);
    }).concat([fill(N, 1), xs, ys].map(arms => arms.concat([0, 0, 0])));
    var loads = solveMany(left, range(N + 3).map(i => range(N).map(j => +(i === j))));
    return [0, 1].reduce(function (all, way) {
      return all.concat(L.stations.map(function (s) {
        var at = (s.x - feet[0].x) / 1000;
        var arms = xs.map((x, j) => way ? -twist * ys[j] * abs(at - x) / 2 : (at - x) * abs(at - x) / 4).concat(way ? [0, 0, 1] : [0, 1, 0]);
        return range(N).map(j => total(arms.map((a, i) => a * loads[i][j])));
      }));
    }, []);
  }
  var START = footMatrix(), beams = null, open = (function () {
    var basis = [];
    [fill(N, 1), feet.map(f => f.x / 1000), feet.map(f => f.y / 1000)].forEach(function (rest) {
      basis.forEach(function (b) { var share = dot(b, rest); rest = rest.map((v, i) => v - share * b[i]); });
      var size = Math.sqrt(dot(rest, rest));
      if (size > 1e-9) basis.push(rest.map(v => v / size));
    });
    return range(N).map(i => range(N).map(j => +(i === j) - total(basis.map(b => b[i] * b[j]))));
  })();
  function candidates() {
    if (!beams) {
      beams = [START];
      [0.01, 0.03, 0.1, 0.3, 1, 3].forEach(function (give) { [7, 20, 60].forEach(function (twist) { beams.push(beamMatrix(give, twist)); }); });
    }
    return beams;
  }

  /* learning from the log */
  function lifts(matrix, change) {
    var out = fill(N, 0);
    change.moves.forEach(function (m) {
      var lift = m.mm;
      if (m.row >= 0) {
        var gain = matrix[m.row][m.foot], start = change.start[m.row];
        if (abs(gain) <= 0.05 || start === null) return;
        lift = (m.shows - start - dot(matrix[m.row], out)) / gain;
      }
      out[m.foot] += lift;
    });
    return out;
  }
  function squares(found, told, rows) { return total(rows.map(function (i) { var d = found[i] - told[i]; return d * d; })); }
  function read(rows) { return range(rows.length).filter(i => rows[i] !== null); }
  function missed(matrix, change) { return squares(change.found, times(matrix, lifts(matrix, change)), read(change.found)); }
  function size2(matrix, s) {
    var sizes = matrix.map(row => total(row.map((a, j) => abs(a * s[j]))));
    return dot(sizes, sizes) / sizes.length;
  }
  function mixed(changes) {
    var all = candidates(), doubts = changes.map(c => 4 * noise * noise + 0.0025 * size2(START, lifts(START, c)));
    var scores = all.map(a => -total(changes.map((c, t) => missed(a, c) / doubts[t])) / 6);
    var top = max.apply(null, scores), weights = scores.map(s => Math.exp(s - top)), sum = total(weights);
    return START.map((row, i) => row.map((_, j) => total(all.map((a, k) => weights[k] * a[i][j])) / sum));
  }
  function learned(changes) {
    changes = changes.filter(c => c.moves.length && read(c.found).length);
    if (!changes.length) return START;
    var mix = mixed(changes), S = changes.map(c => lifts(mix, c));
    var reach = S.map(s => times(open, s).map(v => 0.1 * 0.1 * v));
    var doubts = S.map(s => 4 * noise * noise + 0.3 * 0.0025 * size2(mix, s));
    return mix.map(function (row, i) {
      var known = range(changes.length).filter(t => changes[t].found[i] !== null);
      if (!known.length) return row;
      var pulls = solve(known.map(t => known.map(u => dot(S[t], reach[u]) + (t === u ? doubts[t] : 0))),
        known.map(t => changes[t].found[i] - dot(row, S[t])));
      return row.map((a, j) => a + total(known.map((t, n) => pulls[n] * reach[t][j])));
    });
  }
  function foretold(before, change) { var matrix = mixed(before.concat([change])); return times(matrix, lifts(matrix, change)); }
  function suspicion(before, last) {
    if (!last.moves.length) return null;
    var rows = read(last.found), told = foretold(before, last), miss = squares(last.found, told, rows);
    var size = total(rows.map(i => told[i] * told[i])), floor = 4 * noise * noise * rows.length;
    if (!rows.length || miss <= size / 9 + 4 * floor) return null;
    var part = size ? Math.sqrt(miss / size) : 0, kinds = [];
    function other(foot, factor) {
      return { start: last.start, found: last.found, moves: last.moves.map(function (m) { return m.foot === foot ? Object.assign({}, m, { mm: factor * m.mm }) : m; }).filter(m => factor || m.foot !== foot) };
    }
    range(N).forEach(function (j) {
      var his = last.moves.filter(m => m.foot === j);
      if (!his.length) return;
      kinds.push([squares(last.found, foretold(before, other(j, 0)), rows), "idle", j, -1]);
      if (his.every(m => m.row < 0)) kinds.push([squares(last.found, foretold(before, other(j, -1)), rows), "backwards", j, -1]);
    });
    ["long", "cross"].forEach(function (kind, n) {
      kinds.push([squares(last.found, told.map((v, i) => (i < M) === !n ? -v : v), rows), kind, -1, -1]);
    });
    if (rows.length >= 5) rows.forEach(function (k) { kinds.push([squares(last.found, told, rows.filter(i => i !== k)), "reading", -1, k]); });
    var best = least(kinds.map(k => k[0])), found = kinds[best];
    var next = min.apply(null, kinds.filter((_, n) => n !== best).map(k => k[0]));
    if (!(found[0] <= 0.2 * miss + floor && found[0] * 2 + floor < next)) found = [0, rows.every(i => abs(last.found[i]) <= 2 * noise) ? "nothing" : "unknown", -1, -1];
    return { kind: found[1], part: part, foot: found[2], row: found[3] };
  }

  /* the next move */
  function offLevel(rows) {
    if (goal === "horizontal") return rows;
    return [rows.slice(0, M), rows.slice(M)].reduce(function (all, part) {
      var seen = part.filter(v => v !== null), mean = seen.length ? total(seen) / seen.length : 0;
      return all.concat(part.map(v => v === null ? null : v - mean));
    }, []);
  }
  function sizes(rows) { return offLevel(rows).filter(v => v !== null).map(abs); }
  function worst(rows) { return max.apply(null, sizes(rows)); }
  function after(matrix, rows, d) { return rows.map((v, i) => v === null ? null : v + dot(matrix[i], d)); }
  function small(d) { return d.map(v => abs(v) < 0.002 ? 0 : v); }
  function leastMoves(matrix, rows, low, high) {
    var free = goal === "untwisted", seen = read(rows);
    var parts = normal(seen.map(i => matrix[i].concat(free ? [+(i < M), +(i >= M)] : [])), seen.map(i => -rows[i])), q = parts[0];
    for (var i = 0; i < q.length; i++) {
      if (i >= N) { q[i][i] += 1e-5 / 1e6; continue; }
      for (var j = 0; j < N; j++) q[i][j] -= 0.002 / N;
      q[i][i] += 0.002 + 1e-5;
    }
    var wide = free ? [1e9, 1e9] : [];
    return bounded(q, parts[1], low.concat(wide.map(w => -w)), high.concat(wide)).slice(0, N);
  }
  function bendShare(bend) {
    var ends = L.groups[0].concat(L.groups[L.groups.length - 1]);
    return min.apply(null, bend.map((b, j) => b ? (ends.indexOf(j) >= 0 ? 0.4 : 0.15) / abs(b) : 1));
  }
  function gentle(d, low, high) {
    var bend = times(open, d), share = bendShare(bend);
    if (share >= 1) return d;
    var less = d.map((v, j) => v - (1 - share) * bend[j]), held = range(N).filter(j => low[j] === high[j]);
    if (held.length) { var shift = less[held[0]]; less = less.map(v => v - shift); }
    return less.every((v, j) => v >= low[j] - 0.001 && v <= high[j] + 0.001) ? less : d.map(v => share * v);
  }
  function fewer(matrix, rows, low, high, d) {
    var left = max(worst(after(matrix, rows, d)), 0.75 * limit) * (1 + 1e-9), most = 1.3 * total(d.map(abs)), best;
    do {
      best = null;
      range(N).forEach(function (j) {
        if (!d[j]) return;
        var a = low.slice(), b = high.slice();
        a[j] = b[j] = 0;
        var e = small(leastMoves(matrix, rows, a, b)), size = total(e.map(abs));
        if (size <= most && worst(after(matrix, rows, e)) <= left && (!best || size < best[0] * (1 - 1e-9))) best = [size, e, a, b];
      });
      if (best) { d = best[1]; low = best[2]; high = best[3]; }
    } while (best);
    return [d, low, high];
  }
  function movesMm(matrix, rows, low, high) {
    var d = leastMoves(matrix, rows, low, high), found;
    if (given.prefer === "few") d = fewer(matrix, rows, low, high, d)[0];
    if (given.prefer === "raise") {
      var lowest = min.apply(null, d), up = d.map(v => v - lowest), none = fill(N, 0);
      found = low.every((a, j) => a < high[j]) && up.every((v, j) => v <= high[j]);
      d = found ? up : leastMoves(matrix, rows, none, high);
      low = none;
    }
    return withoutTrifles(matrix, rows, gentle(d, low, high).map((v, j) => abs(v) < 0.002 ? 0 : min(max(v, low[j]), high[j])));
  }
  function withoutTrifles(matrix, rows, d) {
    for (;;) {
      var there = range(N).filter(j => d[j] && abs(d[j]) < 0.02), j = there[least(there.map(j => abs(d[j])), 1e-6)];
      var less = d.map((v, i) => i === j ? 0 : v);
      if (!there.length || worst(after(matrix, rows, less)) > 0.5 * limit) return d;
      d = less;
    }
  }
  function watched(matrix, rows, j) {
    var best = -1, most = 0.05;
    rows.forEach(function (v, i) { var gain = abs(matrix[i][j]); if (v !== null && gain > most * (1 + 1e-9)) { best = i; most = gain; } });
    return best;
  }
  function sequence(matrix, rows, d, order, screws, share) {
    var here = after(matrix, rows, d.map(v => v * (1 - share)));
    return order.map(function (j) {
      var row = watched(matrix, rows, j), then = after(matrix, here, range(N).map(i => i === j ? d[j] * share : 0)), last = d[j] * share;
      var step = { foot: j, mm: d[j], screws: screws, last: last, each: screws ? (d[j] - last) / screws : 0, row: row, before: row < 0 ? 0 : here[row], after: row < 0 ? 0 : then[row], expected: then };
      here = then;
      return step;
    });
  }
  function stepsFor(matrix, rows, d) {
    var order = [], count = d.filter(Boolean).length;
    while (order.length < count) order.push(least(d.map((v, j) => order.indexOf(j) >= 0 ? 0 : -abs(v)), 1e-6));
    var portions = min(4, max.apply(null, [1].concat(d.map(v => Math.floor(abs(v) / 0.4) + 1)))), share = 1 / portions;
    var found = sequence(matrix, rows, d, order, portions - 1, share), sight = given.vial * division, last = after(matrix, rows, d), most = 1;
    found.forEach(function (s) {
      if (s.row >= 0 && abs(s.after) > sight && abs(last[s.row]) < 0.5 * sight) most = min(most, (sight - abs(last[s.row])) / abs(s.after - last[s.row]));
    });
    if (most * share < share) found = sequence(matrix, rows, d, order, max(portions - 1, 1), most * share);
    return found.map(s => s.row < 0 || abs(s.after) <= sight * (1 + 1e-9) ? s : Object.assign(s, { row: -1, before: 0, after: 0 }));
  }
  function movesOf(list) {
    var turned = [];
    range(list.length ? list[0].screws : 0).forEach(() => list.forEach(s => turned.push({ foot: s.foot, mm: s.each, row: -1, shows: 0 })));
    return turned.concat(list.map(s => s.row >= 0 ? { foot: s.foot, mm: 0, row: s.row, shows: s.after } : { foot: s.foot, mm: s.last, row: -1, shows: 0 }));
  }

  /* one round */
  function unexplained(matrix, rows, seen) {
    var part = seen.map(i => matrix[i]), right = seen.map(i => rows[i]), sums = normal(part, right);
    sums[0].forEach(function (row, j) { row[j] += 1e-4; });
    var lift = solve(sums[0], sums[1]), rests = right.map((r, n) => r - dot(part[n], lift));
    return [dot(rests, rests), rests];
  }
  function doubtful(matrix, rows) {
    var seen = read(rows);
    if (seen.length < N + 2) return -1;
    var whole = unexplained(matrix, rows, seen);
    if (max.apply(null, whole[1].map(abs)) < max(2 * division, 8 * noise)) return -1;
    var left = seen.map(k => unexplained(matrix, rows, seen.filter(i => i !== k))[0]), best = least(left);
    return left[best] * 10 < whole[0] && left[best] * 2 < min.apply(null, left.filter((_, n) => n !== best)) ? seen[best] : -1;
  }
  function contrary(matrix, rows) {
    var seen = read(rows);
    if (seen.length < N + 2) return 0;
    var whole = unexplained(matrix, rows, seen), size = total(sizes(rows).map(v => v * v));
    if (max.apply(null, whole[1].map(abs)) < max(2 * division, 8 * noise) || whole[0] <= 0.25 * size) return 0;
    return min(whole[0] / size, 1);
  }
  function advise(changes, rows, hanging) {
    var off = offLevel(rows), at = least(off.map(v => v === null ? 1 : -abs(v)));
    var here = { verdict: "loose", readings: rows, row: at, worst: abs(off[at]), steps: [], expected: rows, doubted: -1, contrary: 0, best: 0 };
    if (hanging) return here;
    if (here.worst <= limit) { here.verdict = here.worst <= limit - noise ? "done" : "edge"; return here; }
    var matrix = learned(changes), doubt = doubtful(matrix, rows), gone = fill(N, 0);
    here.doubted = doubt;
    var kept = rows.map((v, i) => i === doubt ? null : v);
    if (doubt < 0) here.contrary = contrary(matrix, kept);
    if (here.contrary > 0.5) { here.verdict = "contrary"; return here; }
    changes.forEach(function (c) { lifts(matrix, c).forEach(function (s, j) { gone[j] += s; }); });
    function may(j) { return feet[j].jack && stay.indexOf(j) < 0; }
    var low = range(N).map(j => may(j) ? -max(feet[j].down + gone[j], 0) : 0), high = range(N).map(j => may(j) ? max(feet[j].up - gone[j], 0) : 0);
    here.verdict = "stuck";
    here.best = here.worst;
    if (!low.some((a, j) => a < high[j])) return here;
    var done = stepsFor(matrix, kept, movesMm(matrix, kept, low, high)), expected = done.length ? done[done.length - 1].expected : kept;
    function sum2(list) { return total(sizes(list).map(v => v * v)); }
    here.best = sizes(expected).length ? worst(expected) : 0;
    if (!done.length || (here.best > here.worst - noise && sum2(expected) > 0.9 * sum2(kept))) { here.best = min(here.best, here.worst); return here; }
    return Object.assign(here, { verdict: "go on", steps: done, expected: expected });
  }

  var changes = [], odd = null;
  log.forEach(function (earlier, n) {
    var next = n + 1 < log.length ? log[n + 1] : { r: now, loose: loose };
    var change = { start: earlier.r, moves: earlier.turned || movesOf(advise(changes, earlier.r, earlier.loose.length).steps),
      found: earlier.r.map((v, i) => v === null || next.r[i] === null || next.loose.length ? null : next.r[i] - v) };
    odd = suspicion(changes, change);
    if (odd) change.found = change.found.map((v, i) => odd.kind === "reading" && i !== odd.row ? v : null);
    changes.push(change);
  });
  var advice = advise(changes, now, loose.length), steps = advice.steps;

  /* words */
  function signed(v) { var text = written(v, 1); return v > 0 && /[1-9]/.test(text) ? "+" + text : text; }
  function shown(v) { return (v + zero) / division; }
  function inDivisions(rows) {
    var text = rows.map(v => v === null ? "-" : signed(shown(v)));
    return L.stations.map((s, m) => s.name + ": " + text[m] + "/" + text[m + M]).join("; ");
  }
  function line(values) {
    var xs = L.stations.map(s => s.x / 1000), at = read(values);
    if (!at.length) return [0, 0, values];
    var middle = total(at.map(i => xs[i])) / at.length, mean = total(at.map(i => values[i])) / at.length;
    var spread = total(at.map(i => (xs[i] - middle) * (xs[i] - middle)));
    var slope = spread > 1e-9 ? total(at.map(i => (xs[i] - middle) * values[i])) / spread : 0;
    return [mean, slope * (xs[at[at.length - 1]] - xs[at[0]]), values.map((v, i) => v === null ? null : v - mean - slope * (xs[i] - middle))];
  }
  function shapeWords() {
    var a = line(advice.readings.slice(0, M)), b = line(advice.readings.slice(M)), rests = a[2].concat(b[2]), row = least(rests.map(v => -abs(v || 0)));
    return [["pitch", a[0], "tailstock end high", "headstock end high"], ["roll", b[0], "rear high", "front high"],
      ["twist", b[1], "rear rises towards the tailstock end", "rear falls towards the tailstock end"], ["bend", a[1], "hollow, the middle is low", "humped, the middle is high"],
      ["rest", rests[row] || 0, place(row) + " stands out high", place(row) + " stands out low"]].map(function (p) {
      return p[0] + ": " + (abs(p[1]) < division / 4 ? "none worth speaking of" : (p[1] > 0 ? p[2] : p[3]) + " by " + written(abs(p[1]) / division, 1) + " divisions");
    }).join("; ");
  }
  function names(list) { return list.map(j => feet[j].name).join(" and "); }
  var state = place(advice.row) + " is worst with " + written(advice.worst / division, 1) + " divisions (" + written(advice.worst, 3) + " mm/m)" +
    (goal === "untwisted" ? " from the mean" : "") + ", limit " + written(limit, 3) + " mm/m";
  var gaps = now.filter(v => v === null).length, best = written(advice.best, 3);
  var more = gaps ? " " + gaps + " of " + 2 * M + " readings are missing: take them too before you trust this." : "";
  var notes = [{
    loose: "First seat foot " + names(loose) + ": bring it up until it just bears, then read every station again. Readings taken with a foot hanging do not show what the jacks do.",
    done: "Done, stop turning: " + state + "." + more,
    edge: "Inside the limit, but by less than the level can tell: " + state + ". Read that station again; turn nothing." + more,
    contrary: "Turn nothing yet: the readings contradict one another; " + state + ".",
    stuck: "Stop: " + state + ", and the jacks that are free bring it no lower than " + best + " mm/m. Look for wear or dirt at that station, a wrong reading, or a foot that cannot move.",
    "go on": "Go on: " + state + ". After this round " + best + " mm/m is expected."
  }[advice.verdict], "What is left: " + shapeWords() + "."];
  if (steps.length) {
    var how = "urn one jack after the other, in this order, until the bubble at its station shows the figure given"
      + (steps.some(s => s.row < 0) ? "; where no bubble is named, the last portion by the screw as well" : ""), P = steps[0].screws;
    notes.push("Expect afterwards, long/cross in divisions: " + inDivisions(advice.expected) + ".",
      P ? (P === 1 ? "Once" : P + " times") + " round all jacks by the screw, one portion each, so that no foot is left hanging; then t" + how + "." : "T" + how + "; degrees are only a guide.",
      "Before the next readings try every foot: none may be loose. A turning test has the last word; tighten holding-down bolts evenly, read again then, after some days, and at working temperature.");
  }
  var warnings = [];
  if (loose.length && log.length && log[log.length - 1].loose.length)
    warnings.push("A foot is loose for the second round running: stop turning and look at the floor, the packing and the foot.");
  if (odd) {
    var jack = odd.foot < 0 ? "" : feet[odd.foot].name, turned = " readings went the other way: was the level turned end for end, or its sign taken wrongly?";
    warnings.push("The last round changed the readings " + written(100 * odd.part, 0) + " percent otherwise than foretold. " + {
      idle: "It looks as if jack " + jack + " did nothing: its foot is off the floor, or the screw is seized or slips. Try it; if so, name it among those that stay.",
      backwards: "It looks as if jack " + jack + " went the other way: try which way its screw lifts.",
      long: "All long" + turned, cross: "All cross" + turned, reading: odd.row < 0 ? "" : "Only " + place(odd.row) + " disagrees: read it again.",
      nothing: "Nothing changed at all: were the old readings written again, or was nothing turned? If jacks were turned, their feet hang or their screws slip.",
      unknown: "Look for a loose foot, a seized screw, a reading with the wrong sign, or the wrong jack turned; nothing is learnt from that round."
    }[odd.kind]);
  }
  if (advice.doubted >= 0)
    warnings.push("The reading at " + place(advice.doubted) + " fits neither its neighbours nor anything the jacks can do; it is left out here. Clean that spot and read it again; if it stays, the way is worn there.");
  if (advice.contrary)
    warnings.push("The readings contradict one another: " + written(100 * advice.contrary, 0) + " percent of what they show (in squares) is nothing that jacks can make or mend. Read every station again with the level laid the same way round, the carriage in one place and no foot loose, before you turn anything.");
  var blind = range(N).filter(j => feet[j].jack && watched(START, now, j) < 0);
  if (blind.length && (advice.verdict === "go on" || advice.verdict === "stuck")) warnings.push("No reading taken shows what jack " + names(blind) + " does: read the stations near it.");
  var bend = times(open, range(N).map(j => total(steps.map(s => s.foot === j ? s.mm : 0))));
  if (steps.length && bendShare(bend) <= 1.001) {
    var most = least(bend.map(b => -abs(b)));
    warnings.push("This bends the bed as far as one round should (" + written(abs(bend[most]), 2) + " mm at foot " + feet[most].name + "); a foot may go light. Try every foot afterwards.");
  }
  var far = now.filter(v => v !== null && abs(v + zero) > given.vial * division * (1 + 1e-9)).length;
  if (far) warnings.push(far + (far === 1 ? " reading lies" : " readings lie") + " beyond the " + short(given.vial) + " divisions that the vial shows: read or guessed? Take the large tilt out with a coarser level first.");
  if (limit < noise) warnings.push("The limit is finer than the level can be read (" + written(noise, 4) + " mm/m).");

  function screw(mm, pitch) {
    var sixths = abs(mm) / pitch * 6, whole = Math.floor(sixths + 1e-9);
    return [Math.floor(whole / 6), whole % 6, max(0, (sixths - whole) * 60)];
  }
  function turnOf(mm, pitch) {
    if (!pitch) return written(abs(mm), 2) + " mm";
    var t = screw(mm, pitch);
    return [t[0] ? t[0] + " turn" : "", t[1] ? t[1] + " flat" : "", t[2] >= 0.5 ? written(t[2], 0) + " deg" : ""].filter(Boolean).join(" ") || "0 deg";
  }
  function coarse(step, pitch) {
    var parts = step.screws ? [step.screws + " x " + turnOf(step.each, pitch)] : [];
    if (step.row < 0) parts.push("1 x " + turnOf(step.last, pitch));
    return parts.join(" + ") || "none, by the bubble";
  }
  var rows = steps.map(function (s, n) {
    var foot = feet[s.foot], t = foot.pitch ? screw(s.mm, foot.pitch) : [null, null, null], fine = s.row >= 0;
    return { order: n + 1, jack: foot.name, direction: s.mm > 0 ? "raise" : "lower", turns: t[0], flats: t[1], degrees: t[2], move_mm: s.mm, portions: s.screws + 1,
      coarse: coarse(s, foot.pitch), bubble_station: fine ? L.stations[s.row % M].name : null, bubble_way: fine ? (s.row < M ? "long" : "cross") : null,
      bubble_before_divisions: fine ? shown(s.before) : null, bubble_divisions: fine ? shown(s.after) : null, expected: inDivisions(s.expected) };
  });
  feet.forEach(function (foot, j) {
    if (!foot.jack || steps.some(s => s.foot === j)) return;
    var seat = loose.indexOf(j) >= 0, none = seat ? null : 0;
    rows.push({ order: seat ? 1 : null, jack: foot.name, direction: seat ? "raise until it bears" : "leave", turns: none, flats: none, degrees: none, move_mm: none });
  });
  return { rows: rows, notes: notes, warnings: warnings, verdict: advice.verdict, turned: movesOf(steps).map(function (m) {
    return m.row < 0 ? { jack: feet[m.foot].name, mm: m.mm } : { jack: feet[m.foot].name, station: L.stations[m.row % M].name, way: m.row < M ? "long" : "cross", shows: shown(m.shows) };
  }) };
});
