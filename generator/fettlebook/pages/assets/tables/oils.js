/* Oils: the same reading of grades, the same lines and the same words as tables/oil_grades.py, oils.py and oil_climate.py. */
(function () {
  "use strict";
  var refuse = fettlebook.refuse, written = fettlebook.written, significant = fettlebook.significant;
  var KELVIN = 273.15, LIMIT = Math.log10(Math.log10(2e7 + 0.7));

  function g(x, digits) { return String(Number(x.toPrecision(digits || 6))); }
  function sig(x, digits) { return significant(x, digits || 3); }
  function Out(words) { this.words = words; }
  function inWords(parameter, hint, before, run) {
    try { return run(); } catch (fault) {
      if (fault instanceof Out) throw refuse(parameter, before + fault.words, hint);
      throw fault;
    }
  }

  /* ASTM D341 */
  function zOf(v) {
    if (!(v >= 0.21 && v <= 2e7)) throw new Out(g(v) + " mm²/s lies outside 0.21 to 20000000 mm²/s");
    return v + 0.7 + Math.exp(-1.47 - 1.84 * v - 0.51 * v * v);
  }
  function lineThrough(v1, t1, v2, t2) {
    var y1 = Math.log10(Math.log10(zOf(v1))), y2 = Math.log10(Math.log10(zOf(v2)));
    var x1 = Math.log10(t1 + KELVIN), b = (y1 - y2) / (Math.log10(t2 + KELVIN) - x1);
    return { a: y1 + b * x1, b: b };
  }
  function at(line, t) {
    if (!(t >= -40 && t <= 200)) throw new Out(g(t) + " °C lies outside -40 to 200 °C");
    var power = line.a - line.b * Math.log10(t + KELVIN);
    if (power > LIMIT) throw new Out("at " + g(t) + " °C the oil would be thicker than 20000000 mm²/s");
    var w = Math.pow(10, Math.pow(10, power)) - 0.7;
    var v = w < 8 ? w - Math.exp(-0.7487 - 3.295 * w + 0.6119 * w * w - 0.3193 * w * w * w) : w;
    if (!(v >= 0.21)) throw new Out("at " + g(t) + " °C the oil would be thinner than 0.21 mm²/s");
    return v;
  }

  /* ASTM D2270 */
  function basic(v100, figures) {
    if (!(v100 >= 2)) throw new Out("the viscosity index is not defined below 2 mm²/s at 100 °C");
    var rows = figures.index, last = rows.length - 1;
    function above(c) { return (c[0] * v100 + c[1]) * v100 + c[2]; }
    if (v100 >= rows[last][0]) return [above(figures.above.L), above(figures.above.H)];
    var low = 0, high = last;
    while (high - low > 1) { var middle = (low + high) >> 1; if (rows[middle][0] <= v100) low = middle; else high = middle; }
    var part = (v100 - rows[low][0]) / (rows[high][0] - rows[low][0]);
    return [1, 2].map(function (n) { return rows[low][n] + part * (rows[high][n] - rows[low][n]); });
  }
  function indexOf(v40, v100, figures) {
    var lh = basic(v100, figures);
    if (v40 >= lh[1]) return (lh[0] - v40) / (lh[0] - lh[1]) * 100;
    return (Math.pow(10, (Math.log(lh[1]) - Math.log(v40)) / Math.log(v100)) - 1) / 0.00715 + 100;
  }
  function v100From(v40, index, figures) {
    if (!(v40 > 2) || indexOf(v40, 2, figures) > index)
      throw new Out(g(v40) + " mm²/s at 40 °C with index " + g(index) + " is thinner than 2 mm²/s at 100 °C, where the index is not defined");
    var low = 2, high = v40 * (1 - 1e-9);
    for (var n = 0; n < 60; n++) { var m = (low + high) / 2; if (indexOf(v40, m, figures) < index) low = m; else high = m; }
    return (low + high) / 2;
  }
  function v40From(v100, index, figures) {
    var lh = basic(v100, figures);
    if (index <= 100) return lh[0] - index * (lh[0] - lh[1]) / 100;
    return lh[1] / Math.pow(v100, Math.log10((index - 100) * 0.00715 + 1));
  }

  /* grades */
  function oilOf(grade) { return { name: grade[0], at: grade[2], v: grade[3], low: grade[4], high: grade[5] }; }
  function known(name, figures) {
    var found = figures.grades.filter(function (grade) { return grade[0] === name; })[0];
    return found ? oilOf(found) : null;
  }
  function iso(figures) { return figures.grades.filter(function (grade) { return grade[1] === "ISO VG"; }).map(oilOf); }
  function homes(number, n) {
    function has(group, x) { return n[group].indexOf(x) >= 0; }
    var found = [];
    if (has("iso", number)) found.push("ISO VG " + number);
    if (has("engine", number) || has("engine_winter", number)) found.push("SAE " + number + " (engine oil)");
    if (has("engine_winter", number + "W")) found.push("SAE " + number + "W (engine oil)");
    if (has("gear", number) || has("gear_winter", number)) found.push("SAE " + number + " gear");
    if (has("gear_winter", number + "W")) found.push("SAE " + number + "W gear");
    if (has("agma", number)) found.push("AGMA " + number);
    return found;
  }
  function bare(number, n) {
    var found = homes(number, n), start = "is a number without its system";
    if (!found.length) return start + ", and no system known here has that number";
    if (found.length === 1) return start + ": is " + found[0] + " meant? No other system has that number";
    return start + ": it could be " + found.join(" or ") + ", which are different oils";
  }
  function notThere(number, here, n) {
    var others = homes(number, n).filter(function (home) { return home.indexOf(here) !== 0; });
    return here + " has no grade " + number + "." + (others.length ? " It is a number of another system: " + others.join(" or ") + "." : "") +
      " " + here + " numbers are " + n[here === "AGMA" ? "agma" : "iso"].join(", ");
  }
  function sae(parameter, shown, number, second, word, figures) {
    var n = figures.numbers, hot = second || number, winter = /W$/.test(number), start = '"' + shown + '": ';
    if (!second && winter || second && !winter)
      throw refuse(parameter, start + (second ? "a multigrade begins with its winter number, like " + number + "W-" + second
        : "a winter number alone sets only a lower limit at 100 °C and limits in the cold, so it names no thickness at work"),
        "give v40 from the oil's data sheet");
    var system = ["engine", "gear"].filter(function (s) {
      return (!word || word === s.toUpperCase() || word === "EP" && s === "gear") && (!winter || n[s + "_winter"].indexOf(number) >= 0) && n[s].indexOf(hot) >= 0;
    })[0];
    if (!system && n.iso.indexOf(hot) >= 0)
      throw refuse(parameter, start + "SAE has no grade " + hot + ". " + hot + " is an ISO viscosity grade: ISO VG " + hot + " is " + hot +
        " mm²/s at 40 °C (its name may be rounded). SAE numbers are set at 100 °C and mean something else, so an SAE number is never an ISO VG number",
        'write "ISO VG ' + hot + '" if the drum says so');
    if (!system)
      throw refuse(parameter, start + "SAE has no grade " + hot + "; it has engine oils " + n.engine.join(", ") + ", gear oils " + n.gear.join(", "), figures.hint);
    var same = known("SAE " + hot + " " + system, figures);
    if (!same) throw refuse(parameter, '"' + shown + '" has no upper limit, so it has no middle', "give v40 from the data sheet");
    if (second) { same.name = "SAE " + number + "-" + second + " " + system; same.multigrade = true; }
    return same;
  }
  function oilNamed(text, parameter, figures) {
    var shown = text.trim().split(/\s+/).join(" ").slice(0, 40);
    var measured = /^([0-9]+(?:[.,][0-9]+)?) ?(?:mm2\/s|mm²\/s|cst)(?: at 40(?: ?°?c)?)?$/.exec(shown.toLowerCase());
    if (measured) {
      var v = Number(measured[1].replace(",", "."));
      if (!(v > 2 && v <= 10000)) throw refuse(parameter, '"' + shown + '" lies outside 2 to 10000 mm²/s at 40 °C');
      return { name: g(v) + " mm²/s at 40 °C", at: 40, v: v, low: null, high: null };
    }
    var folded = shown.toUpperCase().replace(/[\s_-]+/g, " ").replace(/\bOIL\b/g, "").trim();
    var read = /^(ISO VG|ISO|VG|SAE|AGMA)? ?(?:NO\.? ?)?([0-9]+[AW]?)(?: ?([0-9]+))?( ?GEAR| ?ENGINE| ?COMP| ?EP)?$/.exec(folded);
    if (!read) throw refuse(parameter, '"' + shown + '" is not an oil grade known here', figures.hint);
    var system = read[1], number = read[2], second = read[3], word = (read[4] || "").trim();
    if (!system) throw refuse(parameter, '"' + shown + '" ' + bare(number + (second ? "-" + second : ""), figures.numbers), figures.hint);
    if (system === "SAE") return sae(parameter, shown, number, second, word, figures);
    if (second || word === "GEAR" || word === "ENGINE") throw refuse(parameter, '"' + shown + '" mixes two number systems', figures.hint);
    var here = system === "AGMA" ? "AGMA" : "ISO VG", oil = known(here + " " + number, figures);
    if (!oil) throw refuse(parameter, '"' + shown + '": ' + notThere(number, here, figures.numbers), figures.hint);
    return oil;
  }
  function lineOf(oil, index, parameter, figures) {
    if (index === null && oil.multigrade)
      throw refuse(parameter, oil.name + " is a multigrade: its viscosity index must be given, since the usual assumption does not hold",
        "read it off the data sheet, like 140");
    var taken = index === null ? figures.assumed : index;
    return inWords(parameter, "give the two viscosities of the data sheet instead", oil.name + ": ", function () {
      return oil.at === 40 ? lineThrough(oil.v, 40, v100From(oil.v, taken, figures), 100) : lineThrough(v40From(oil.v, taken, figures), 40, oil.v, 100);
    });
  }

  fettlebook.table("oil-viscosity", function (given, figures) {
    var v40 = given.v40, v100 = given.v100, index = given.index, oil = null, line, name, taken;
    if (given.grade !== null && (v40 !== null || v100 !== null)) throw refuse("grade", "give either a grade or a viscosity at 40 °C, not both");
    if (v40 !== null && v100 !== null) {
      if (!(v40 > v100))
        throw refuse("v100", "an oil is thinner at 100 °C than at 40 °C; " + g(v100) + " is not below " + g(v40) + " mm²/s", "were the two exchanged?");
      taken = v100 >= 2 ? indexOf(v40, v100, figures) : null;
      if (index !== null && (taken === null || Math.abs(index - taken) > 5))
        throw refuse("index", "an index of " + g(index) + " does not belong to these two viscosities; they give " +
          (taken === null ? "none, being below 2 mm²/s at 100 °C" : written(taken, 0)), "leave the index out, or the viscosity at 100 °C");
      name = g(v40) + " mm²/s at 40 °C and " + g(v100) + " at 100 °C";
      line = lineThrough(v40, 40, v100, 100);
      index = 0;
    } else {
      if (given.grade === null && v40 === null)
        throw refuse("grade", "a grade, or the viscosity at 40 °C as v40, must be given", 'for example "ISO VG 46"');
      oil = given.grade !== null ? oilNamed(given.grade, "grade", figures) : { name: g(v40) + " mm²/s at 40 °C", at: 40, v: v40, low: null };
      line = lineOf(oil, index, "index", figures);
      name = oil.name;
      taken = index === null ? figures.assumed : index;
    }
    var rows = given.temperatures.map(function (t) {
      var v = inWords("temperatures", "", "", function () { return at(line, t); });
      return { temperature_c: t, viscosity_mm2_s: v, times_40c: v / at(line, 40), viscosity_index: taken };
    });
    var here = at(line, 40), hot = inWords("v100", "", "", function () { return at(line, 100); }), all = iso(figures);
    var held = all.filter(function (x) { return x.low <= here && here <= x.high; })[0];
    function apart(x) { return Math.max(x.v / here, here / x.v); }
    var nearest = all.reduce(function (best, x) { return apart(x) < apart(best) ? x : best; });
    var notes = [
      name + ": " + sig(here) + " mm²/s at 40 °C, " + sig(hot) + " mm²/s at 100 °C, " + (taken === null
        ? "viscosity index not defined, since it is thinner than 2 mm²/s at 100 °C" : "viscosity index " + written(taken, 0) + (index === null ? ", assumed" : "")) + ".",
      "By its thickness at 40 °C it is " + (held ? held.name : "no ISO grade: it falls between grades or beyond them; nearest is " + nearest.name) + "."
    ];
    if (oil && oil.low !== null)
      notes.push("The middle of the grade is taken; a drum may hold anything from " + sig(oil.low) + " to " + sig(oil.high) + " mm²/s at " + oil.at + " °C.");
    return { rows: rows, notes: notes, warnings: Math.min.apply(null, given.temperatures) >= -10 ? [] : [WAX + "look for the pour point on its data sheet."] };
  });
  var WAX = "Below about -10 °C wax can form in a mineral oil and it thickens more than the line says; ";

  var STEP = Math.pow(10, 1 / 6);
  function verdict(steps) {
    var side = steps > 0 ? "thick" : "thin", far = Math.abs(steps);
    return far <= 0.5 ? "as thick as the maker meant" : far <= 1.5 ? "one grade too " + side : written(far, 0) + " grades too " + side;
  }

  fettlebook.table("oil-for-climate", function (given, figures) {
    var index = given.index, taken;
    function ends(name) {
      var list = given[name];
      if (list.length > 2) throw refuse(name, list.length + " temperatures are given", "give one, or the lowest and the highest");
      var low = Math.min.apply(null, list) + given.rise, high = Math.max.apply(null, list) + given.rise;
      return [low, (low + high) / 2, high];
    }
    var there = ends("designed_for"), here = ends("here"), maker = oilNamed(given.grade, "grade", figures);
    var makerLine = lineOf(maker, index, "index", figures);
    taken = index === null ? figures.assumed : index;
    var wanted = there.map(function (t) { return inWords("designed_for", "", "", function () { return at(makerLine, t); }); });
    var best = null, least = 0;
    iso(figures).forEach(function (oil) {
      try {
        var apart = Math.abs(Math.log(at(lineThrough(oil.v, 40, v100From(oil.v, taken, figures), 100), here[1]) / wanted[1]));
        if (best === null || apart < least) { best = oil; least = apart; }
      } catch (fault) { if (!(fault instanceof Out)) throw fault; }
    });
    if (best === null) throw refuse("index", "with an index of " + g(taken) + " no ISO grade can be worked out at " + g(here[1]) + " °C");
    function row(what, oil, i, parameter) {
      var line = lineOf(oil, i, parameter, figures);
      var found = here.map(function (t) { return inWords("here", "", "", function () { return at(line, t); }); });
      var ratio = found[1] / wanted[1], steps = Math.log(ratio) / Math.log(STEP);
      return {
        what: what, grade: oil.name, viscosity_mm2_s: found[1], designed_viscosity_mm2_s: wanted[1], ratio: ratio, steps: steps,
        coldest_ratio: found[0] / wanted[0], hottest_ratio: found[2] / wanted[2], verdict: verdict(steps),
        does: Math.abs(steps) <= 0.5 ? "" : figures.does[steps > 0 ? "thick" : "thin"]
      };
    }
    var first = row("nearest ISO grade", best, taken, "index"), own = row("the maker's own grade", maker, index, "index");
    var stored = (given.store || []).map(function (text) {
      try { return row("in the store", oilNamed(text, "store", figures), index, "store"); }
      catch (fault) {
        if (!(fault instanceof fettlebook.Refused)) throw fault;
        return {
          what: "in the store", grade: text, viscosity_mm2_s: null, designed_viscosity_mm2_s: wanted[1], ratio: null, steps: null,
          coldest_ratio: null, hottest_ratio: null, verdict: "not compared: " + fault.what, does: ""
        };
      }
    });
    function off(x) { return x.steps === null ? Infinity : Math.abs(x.steps); }
    stored.sort(function (x, y) { return off(x) === off(y) ? 0 : off(x) - off(y); });
    var notes = [
      maker.name + " at " + g(there[1]) + " °C is " + sig(wanted[1]) + " mm²/s; here at " + g(here[1]) + " °C " + first.grade + " is " +
        sig(first.viscosity_mm2_s) + " mm²/s, and " + maker.name + " itself would be " + sig(own.viscosity_mm2_s) + ".",
      "A viscosity index of " + g(taken) + " is " + (index === null ? "assumed" : "taken") + " for every oil."
    ].concat(figures.climate_notes);
    var compared = stored.filter(function (x) { return x.steps !== null; });
    if (compared.length && compared.every(function (x) { return Math.abs(x.steps) > 0.5; })) {
      var thicker = compared.filter(function (x) { return x.steps > 0; })[0], thinner = compared.filter(function (x) { return x.steps < 0; })[0];
      notes.push("Nothing in the store is as thick as the maker meant; " + (thicker && thinner
        ? thinner.grade + " and " + thicker.grade + " lie either side of it, and two oils of one kind can be mixed (see Mixing two oils)."
        : "the nearest, " + compared[0].grade + ", is " + compared[0].verdict + "."));
    }
    var warnings = [];
    if (Math.abs(first.steps) > 0.5) warnings.push("No ISO grade fits: the nearest, " + first.grade + ", is " + first.verdict + ".");
    if (here[0] < -10) warnings.push(WAX + "look for the pour point.");
    if (here[0] !== here[2] && first.coldest_ratio > Math.pow(STEP, 1.5))
      warnings.push("At the coldest, " + g(here[0]) + " °C, " + first.grade + " is " + sig(first.coldest_ratio, 2) +
        " times as thick as the maker meant for a cold start: warm the oil or the room, and run slowly first.");
    return { rows: [first, own].concat(stored), notes: notes, warnings: warnings };
  });
})();
