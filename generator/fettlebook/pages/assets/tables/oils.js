/* Oils: the same reading of grades, lines and words as tables/oil_grades.py, viscosity.py, oils.py and oil_climate.py. */
(function () {
  "use strict";
  var written = fettlebook.written, figures;

  function g(x) { return String(Number(x.toPrecision(6))); }
  function sig(x, digits) { return fettlebook.significant(x, digits || 3); }
  function say(key, given) { return figures.words[key].replace(/\{(\w+)\}/g, function (all, name) { return given[name]; }); }
  function refuse(parameter, key, given, hint) { throw fettlebook.refuse(parameter, say(key, given), hint && say(hint, given)); }
  function Out(words) { this.words = words; }
  function inWords(parameter, run, before, hint) {
    try { return run(); } catch (fault) {
      if (fault instanceof Out) throw fettlebook.refuse(parameter, (before || "") + fault.words, hint);
      throw fault;
    }
  }

  /* ASTM D341 */
  function y(v) { return Math.log10(Math.log10(v + 0.7 + Math.exp(-1.47 - 1.84 * v - 0.51 * v * v))); }
  function x(t) { return Math.log10(t + 273.15); }
  function lineThrough(v1, t1, v2, t2) {
    var b = (y(v1) - y(v2)) / (x(t2) - x(t1));
    return { a: y(v1) + b * x(t1), b: b };
  }
  function at(line, t) {
    if (!(t >= -40 && t <= 200)) throw new Out(say("temperature", { t: g(t) }));
    var power = line.a - line.b * x(t);
    if (power > Math.log10(Math.log10(2e7 + 0.7))) throw new Out(say("thick", { t: g(t) }));
    var w = Math.pow(10, Math.pow(10, power)) - 0.7;
    if (w < 8) w -= Math.exp(-0.7487 - 3.295 * w + 0.6119 * w * w - 0.3193 * w * w * w);
    if (!(w >= 0.21)) throw new Out(say("thin", { t: g(t) }));
    return w;
  }

  /* ASTM D2270 */
  function basic(v100) {
    if (!(v100 >= 2)) throw new Out(say("index_undefined"));
    var rows = figures.index, low = 0, high = rows.length - 1;
    if (v100 >= rows[high][0])
      return ["L", "H"].map(function (k) { var c = figures.above[k]; return (c[0] * v100 + c[1]) * v100 + c[2]; });
    while (high - low > 1) { var m = (low + high) >> 1; if (rows[m][0] <= v100) low = m; else high = m; }
    var part = (v100 - rows[low][0]) / (rows[high][0] - rows[low][0]);
    return [1, 2].map(function (n) { return rows[low][n] + part * (rows[high][n] - rows[low][n]); });
  }
  function indexOf(v40, v100) {
    var lh = basic(v100);
    if (v40 >= lh[1]) return (lh[0] - v40) / (lh[0] - lh[1]) * 100;
    return (Math.pow(10, (Math.log(lh[1]) - Math.log(v40)) / Math.log(v100)) - 1) / 0.00715 + 100;
  }
  function v100From(v40, index) {
    if (!(v40 > 2) || indexOf(v40, 2) > index) throw new Out(say("too_thin_for_index", { v40: g(v40), index: g(index) }));
    var low = 2, high = v40 * (1 - 1e-9);
    for (var n = 0; n < 60; n++) { var m = (low + high) / 2; if (indexOf(v40, m) < index) low = m; else high = m; }
    return (low + high) / 2;
  }
  function v40From(v100, index) {
    var lh = basic(v100);
    return index <= 100 ? lh[0] - index * (lh[0] - lh[1]) / 100 : lh[1] / Math.pow(v100, Math.log10((index - 100) * 0.00715 + 1));
  }
  function lineFor(oil, index) {
    return oil.at === 40 ? lineThrough(oil.v, 40, v100From(oil.v, index), 100) : lineThrough(v40From(oil.v, index), 40, oil.v, 100);
  }

  /* grades */
  function grades(test) {
    return figures.grades.filter(test).map(function (one) { return { name: one[0], at: one[2], v: one[3], low: one[4], high: one[5] }; });
  }
  function known(name) { return grades(function (one) { return one[0] === name; })[0]; }
  function iso() { return grades(function (one) { return one[1] === "ISO VG"; }); }
  function has(group, number) { return figures.numbers[group].indexOf(number) >= 0; }
  function homes(number) {
    return figures.homes.filter(function (home) { return has(home[0], number + home[2]); })
      .map(function (home) { return home[1].replace("{}", number); });
  }
  function measured(v) { return { name: say("measured", { v40: g(v) }), at: 40, v: v, low: null }; }
  function list(group) { return figures.numbers[group].join(", "); }

  function sae(parameter, shown, number, second, word) {
    var hot = second || number, winter = /W$/.test(number), given = { shown: shown, number: number, second: second };
    if (!!second !== winter) refuse(parameter, second ? "turned" : "winter", given, "sheet");
    var system = ["engine", "gear"].filter(function (s) {
      return (!word || word === s.toUpperCase() || word === "EP" && s === "gear") && (!winter || has(s + "_winter", number)) && has(s, hot);
    })[0];
    given = { shown: shown, number: hot, engine: list("engine"), gear: list("gear") };
    if (!system) refuse(parameter, has("iso", hot) ? "slip" : "no_sae", given, has("iso", hot) ? "slip_hint" : "hint");
    var same = known("SAE " + hot + " " + system);
    if (!same) refuse(parameter, "no_middle", given, "sheet");
    if (second) { same.name = "SAE " + number + "-" + second + " " + system; same.multigrade = true; }
    return same;
  }
  function oilNamed(text, parameter) {
    var shown = text.trim().split(/\s+/).join(" ").slice(0, 40), given = { shown: shown };
    var v = /^([0-9]+(?:[.,][0-9]+)?) ?(?:mm2\/s|mm²\/s|cst)(?: at 40(?: ?°?c)?)?$/.exec(shown.toLowerCase());
    if (v) {
      v = Number(v[1].replace(",", "."));
      if (!(v > 2 && v <= 10000)) refuse(parameter, "outside", given);
      return measured(v);
    }
    var folded = shown.toUpperCase().replace(/[\s_-]+/g, " ").replace(/\bOIL\b/g, "").trim();
    var read = /^(ISO VG|ISO|VG|SAE|AGMA)? ?(?:NO\.? ?)?([0-9]+[AW]?)(?: ?([0-9]+))?( ?GEAR| ?ENGINE| ?COMP| ?EP)?$/.exec(folded);
    if (!read) refuse(parameter, "unknown", given, "hint");
    var number = read[2], second = read[3], word = (read[4] || "").trim(), system = read[1] || (second && /W$/.test(number) ? "SAE" : "");
    if (!system) {
      var found = homes(number + (second ? "-" + second : ""));
      refuse(parameter, "bare" + Math.min(found.length, 2), { shown: shown, homes: found.join(" or ") }, "hint");
    }
    if (system === "SAE") return sae(parameter, shown, number, second, word);
    if (second || word === "GEAR" || word === "ENGINE") refuse(parameter, "mixed", given, "hint");
    var here = system === "AGMA" ? system : "ISO VG", oil = known(here + " " + number);
    if (oil) return oil;
    var others = homes(number).filter(function (home) { return home.indexOf(here) !== 0; }).join(" or ");
    return refuse(parameter, "not_there", { shown: shown, system: here, number: number,
      also: others ? say("also", { homes: others }) : "", known: list(here === "AGMA" ? "agma" : "iso") }, "hint");
  }
  function lineOf(oil, index, parameter) {
    if (index === null && oil.multigrade) refuse(parameter, "multigrade", oil, "multigrade_hint");
    return inWords(parameter, function () { return lineFor(oil, index === null ? figures.assumed : index); }, oil.name + ": ", say("two"));
  }

  fettlebook.table("oil-viscosity", function (given, data) {
    figures = data;
    var v40 = given.v40, v100 = given.v100, index = given.index, assumed = false, oil, line, taken;
    if (given.grade !== null && (v40 !== null || v100 !== null)) refuse("grade", "either");
    if (v40 !== null && v100 !== null) {
      var both = { v40: g(v40), v100: g(v100) };
      if (!(v40 > v100)) refuse("v100", "exchanged", both, "exchanged_hint");
      taken = v100 >= 2 ? indexOf(v40, v100) : null;
      if (index !== null && (taken === null || Math.abs(index - taken) > 5))
        refuse("index", "index_apart", { index: g(index), found: taken === null ? say("index_none") : written(taken, 0) }, "index_apart_hint");
      oil = { name: say("two_points", both), low: null };
      line = lineThrough(v40, 40, v100, 100);
    } else {
      if (given.grade === null && v40 === null) refuse("grade", "needed", {}, "needed_hint");
      oil = given.grade !== null ? oilNamed(given.grade, "grade") : measured(v40);
      line = lineOf(oil, index, "index");
      assumed = index === null;
      taken = assumed ? figures.assumed : index;
    }
    var rows = given.temperatures.map(function (t) {
      var v = inWords("temperatures", function () { return at(line, t); });
      return { temperature_c: t, viscosity_mm2_s: v, times_40c: v / at(line, 40), viscosity_index: taken };
    });
    var v = at(line, 40), hot = inWords("v100", function () { return at(line, 100); }), all = iso();
    var held = all.filter(function (one) { return one.low <= v && v <= one.high; })[0];
    function apart(one) { return Math.max(one.v / v, v / one.v); }
    var near = all.reduce(function (best, one) { return apart(one) < apart(best) ? one : best; });
    var shown = taken === null ? say("index_not_defined") : assumed ? say("assumed", { index: written(taken, 0) }) : written(taken, 0);
    var notes = [say("is", { name: oil.name, v40: sig(v), v100: sig(hot), index: shown }),
      say("grade_is", { grade: held ? held.name : say("no_grade", near) })];
    if (given.grade !== null && oil.low !== null) notes.push(say("band", { low: sig(oil.low), high: sig(oil.high), at: oil.at }));
    return { rows: rows, notes: notes, warnings: Math.min.apply(null, given.temperatures) < -10 ? [say("wax")] : [] };
  });

  fettlebook.table("oil-for-climate", function (given, data) {
    figures = data;
    var index = given.index, taken = index === null ? figures.assumed : index, step = Math.pow(10, 1 / 6);
    function ends(name) {
      var all = given[name];
      if (all.length > 2) refuse(name, "ends", { count: all.length }, "ends_hint");
      var low = Math.min.apply(null, all) + given.rise, high = Math.max.apply(null, all) + given.rise;
      return [low, (low + high) / 2, high];
    }
    function along(line, ts, name) { return ts.map(function (t) { return inWords(name, function () { return at(line, t); }); }); }
    function verdict(steps) {
      var far = Math.abs(steps), side = steps > 0 ? "thick" : "thin";
      return say(far <= 0.5 ? "same" : far <= 1.5 ? "one" : "more", { side: side, steps: written(far, 0) });
    }
    var there = ends("designed_for"), here = ends("here"), maker = oilNamed(given.grade, "grade");
    var wanted = along(lineOf(maker, index, "index"), there, "designed_for"), best = null, least = 0, logs = [];
    iso().forEach(function (oil) {
      try {
        var v = at(lineFor(oil, taken), here[1]), apart = Math.abs(Math.log(v / wanted[1]));
        logs.push(Math.log(v));
        if (best === null || apart < least) { best = oil; least = apart; }
      } catch (fault) { if (!(fault instanceof Out)) throw fault; }
    });
    /* Where a viscosity stands among the grades here, counted from the thinnest. */
    function place(v) {
      v = Math.log(v);
      var n = Math.min(Math.max(logs.filter(function (one) { return one <= v; }).length, 1), logs.length - 1);
      return n - 1 + (v - logs[n - 1]) / (logs[n] - logs[n - 1]);
    }
    if (logs.length < 2) refuse("index", "no_iso", { index: g(taken), t: g(here[1]) });
    function row(what, oil, i, parameter) {
      var found = along(lineOf(oil, i, parameter), here, "here"), ratio = found[1] / wanted[1], steps = place(found[1]) - place(wanted[1]);
      return {
        what: what, grade: oil.name, viscosity_mm2_s: found[1], designed_viscosity_mm2_s: wanted[1], ratio: ratio, steps: steps,
        coldest_ratio: found[0] / wanted[0], hottest_ratio: found[2] / wanted[2], verdict: verdict(steps),
        does: Math.abs(steps) <= 0.5 ? "" : say(steps > 0 ? "does_thick" : "does_thin")
      };
    }
    var first = row("nearest ISO grade", best, taken, "index"), own = row("the maker's own grade", maker, index, "index");
    var stored = (given.store || []).map(function (text) {
      try { return row("in the store", oilNamed(text, "store"), index, "store"); } catch (fault) {
        if (!(fault instanceof fettlebook.Refused)) throw fault;
        return {
          what: "in the store", grade: text, viscosity_mm2_s: null, designed_viscosity_mm2_s: wanted[1], ratio: null, steps: null,
          coldest_ratio: null, hottest_ratio: null, verdict: say("not_compared", fault), does: ""
        };
      }
    });
    function off(one) { return one.steps === null ? 1e9 : Math.abs(one.steps); }
    stored.sort(function (one, two) { return off(one) - off(two); });
    var notes = [say("there_here", { maker: maker.name, there: g(there[1]), wanted: sig(wanted[1]), here: g(here[1]), grade: first.grade,
      found: sig(first.viscosity_mm2_s), own: sig(own.viscosity_mm2_s) }), say(index === null ? "index_assumed" : "index_taken", { index: g(taken) }),
      say("oil_temperature"), say("kind"), say("manual")];
    var compared = stored.filter(function (one) { return one.steps !== null; });
    if (compared.length && compared.every(function (one) { return Math.abs(one.steps) > 0.5; })) {
      var thicker = compared.filter(function (one) { return one.steps > 0; })[0], thinner = compared.filter(function (one) { return one.steps < 0; })[0];
      notes.push(thicker && thinner ? say("between", { thinner: thinner.grade, thicker: thicker.grade }) : say("none_fits", compared[0]));
    }
    var warnings = [];
    if (Math.abs(first.steps) > 0.5) warnings.push(say("no_fit", first));
    if (here[0] < -10) warnings.push(say("wax"));
    if (here[0] !== here[2] && first.coldest_ratio > Math.pow(step, 1.5))
      warnings.push(say("cold_start", { t: g(here[0]), grade: first.grade, times: sig(first.coldest_ratio, 2) }));
    return { rows: [first, own].concat(stored), notes: notes, warnings: warnings };
  });
})();
