/* Heating plan of a batch: the same rows, words and refusals as tables/heating_plan.py and its parts, curves and colours. */
(function () {
  "use strict";
  var F, PREFIX = /^(aisi|sae|astm|uns|jis|din|bs ?970|bs|w\.? ?nr\.?|werkstoff(?:nummer)?|en ?10\d{3}(?:-\d)?|no\.?)[ :#-]*/,
    SUFFIX = /[ -]*(tool steel|carbon steel|alloy steel|steel|round bar|bar|plate|drill rod|rod)$/;

  function whole(value) { return fettlebook.written(value, 0); }
  function g(value) { return String(Number(value.toPrecision(6))); }
  function own(from, key) { return Object.prototype.hasOwnProperty.call(from, key) ? from[key] : undefined; }
  function words(text) { return text.split(/\s+/).filter(Boolean).join(" "); }
  function refuse(what, hint) { return fettlebook.refuse("parts", words(what), hint); }
  function by(keys) {
    return function (a, b) {
      for (var n = 0, x = keys(a), y = keys(b); n < x.length; n++) if (x[n] !== y[n]) return x[n] < y[n] ? -1 : 1;
      return 0;
    };
  }
  function unique(list) { return list.filter((each, n) => list.indexOf(each) === n); }

  /* A steel by any of its names, and the nearest names for one that is not known. */
  function plain(name) { return name.toLowerCase().replace(/[\s_/()+,'\u2019-]+/g, ""); }
  function tries(name) {
    var bare = words(name.toLowerCase()), found = [bare];
    for (var n = 0; n < 2; n++) found.push(bare = bare.replace(PREFIX, ""), bare = bare.replace(SUFFIX, ""));
    return /^1\d{4}$/.test(bare) ? found.concat("1." + bare.slice(1)) : found;
  }
  function alike(a, from, to, b, low, high) {
    var best = [0, 0, 0], row = {};
    for (var i = from; i < to; i++) {
      var next = {};
      for (var j = low; j < high; j++) if (a[i] === b[j]) {
        var k = next[j] = (row[j - 1] || 0) + 1;
        if (k > best[0]) best = [k, i - k + 1, j - k + 1];
      }
      row = next;
    }
    return best[0] && best[0] + alike(a, from, best[1], b, low, best[2]) + alike(a, best[1] + best[0], to, b, best[2] + best[0], high);
  }
  function hint(name) {
    var bare = plain(tries(name).pop()), kin = own(F.relatives, bare);
    if (kin) return "it is a near relative of " + kin + ", not the same; go by its own sheet, or make a trial piece";
    var near = Object.keys(F.spellings).map(key => [2 * alike(key, 0, key.length, bare, 0, bare.length) / (key.length + bare.length), key])
      .filter(each => each[0] >= 0.7).sort(by(each => each)).reverse().slice(0, 3).map(each => '"' + F.spellings[each[1]] + '"').join(" or ");
    return (near ? "did you mean " + near + "? " : "the table `steels` lists those known; ") + F.unmarked;
  }
  function meaning(name) {
    var found = tries(name).map(text => own(F.names, plain(text))).find(Boolean);
    if (!found) throw refuse('"' + name.slice(0, 40) + '" is not a steel known here', hint(name));
    return found.map(each => typeof each === "string" ? each.replace('"%s"', '"' + name + '"') : each);
  }

  /* Hardness by the published curves, time exchanged by Hollomon and Jaffe. */
  function equal(celsius, hours, other, c) { return (celsius + F.kelvin) * (c + Math.log10(hours)) / (c + Math.log10(other)) - F.kelvin; }
  function at(set, celsius) {
    var t = set[1], last = t.length - 1, n = 1;
    if (!(t[0] - 1e-9 <= celsius && celsius <= t[last] + 1e-9)) return null;
    if (!last) return set[2][0];
    while (n < last && t[n] <= celsius) n++;
    return set[2][n - 1] + (celsius - t[n - 1]) / (t[n] - t[n - 1]) * (set[2][n] - set[2][n - 1]);
  }
  function decades(set, hours) { return Math.abs(Math.log10(hours / set[0])); }
  function from(curve, set, celsius, hours) {
    if (curve.constant === null) return hours / set[0] >= 0.5 && hours / set[0] <= 4 ? at(set, celsius) : null;
    return decades(set, hours) > 2.5 ? null : at(set, equal(celsius, hours, set[0], curve.constant));
  }
  function chosen(curve, hours) {
    var mains = curve.sets.filter(set => set[3]).sort(by(set => [decades(set, hours)]));
    if (mains.length && decades(mains[0], hours) < 1e-9) return mains.slice(0, 1);
    var sides = [mains.find(set => set[0] < hours), mains.find(set => set[0] >= hours)];
    return sides[0] && sides[1] ? sides : mains.slice(0, 2);
  }
  function hardness(curve, celsius, hours) {
    var sum = 0, weight = 0;
    chosen(curve, hours).forEach(function (set) {
      var value = from(curve, set, celsius, hours), w = 1 / Math.max(decades(set, hours), 1e-9);
      if (value !== null) { sum += value * w; weight += w; }
    });
    return weight ? sum / weight : extended(curve, celsius, hours);
  }
  function extended(curve, celsius, hours) {
    var kept = curve.sets.filter(set => set[4]).map(set => from(curve, set, celsius, hours)).filter(value => value !== null), ends = [];
    if (!kept.length) return null;
    chosen(curve, hours).forEach(set => [0, set[1].length - 1].forEach(function (n) {
      ends.push([curve.constant ? equal(set[1][n], set[0], hours, curve.constant) : set[1][n], set[2][n]]);
    }));
    ends.sort(by(end => end));
    var mean = kept.reduce((a, b) => a + b, 0) / kept.length, cool = ends[0], hot = ends[ends.length - 1];
    return celsius <= cool[0] ? Math.max(mean, cool[1]) : celsius >= hot[0] ? Math.min(mean, hot[1]) : mean;
  }
  function points(curve, hours, low, step) {
    var found = [];
    for (var t = low; t <= 760; t += step) { var h = hardness(curve, t, hours); if (h !== null) found.push([t, h]); }
    return found;
  }
  function temperFor(curve, hrc, hours) {
    var found = points(curve, hours, 60, 1), hard = found.map(each => each[1]);
    if (!found.length || hrc < Math.min.apply(null, hard) - 1e-9 || hrc > Math.max.apply(null, hard) + 1e-9) return null;
    return found.filter(each => each[1] >= hrc - 1e-9).pop()[0];
  }

  /* The colour of the film, from slow to fast growth. */
  function colours(celsius, minutes) {
    var law = F.growth, ends = [law.slow_power, law.power].map(power =>
      law.film_nm * Math.pow(minutes / law.minutes, power) * Math.exp(law.exponent_k * (1 / (law.temperature_c + F.kelvin) - 1 / (celsius + F.kelvin))));
    var named = ends.sort((a, b) => a - b).map(function (film) {
      var all = F.colours, name = (all.filter(each => film >= each[0]).pop() || [0, "bright"])[1], fit = F.fitted;
      var fitted = fit[0] <= celsius && celsius <= fit[1] && fit[2] <= minutes && minutes <= fit[3];
      return fitted || (name === "grey" && celsius > fit[0]) || (name === "bright" && film < all[0][0] / 2) ? name : "about " + name;
    });
    var deep = named[1].replace(/^about /, "");
    return named[0].replace(/^about /, "") !== deep ? named[0] + " to " + deep : named[1].length > named[0].length ? named[1] : named[0];
  }

  /* A part as the reader wrote it, with quench and temper chosen. */
  function figure(record, key, unit, place, low, high) {
    var raw = record[key], value;
    if (raw === undefined || raw === null) return null;
    try { value = fettlebook.readQuantity(String(raw), unit); }
    catch (fault) { throw refuse(place + ": " + key + ": " + fault.message, "a part looks like " + F.example); }
    if (!(low <= value && value <= high)) throw refuse((place + ": " + key + " " + raw + " is outside " + low + " to " + high + " " + unit).trim());
    return value;
  }
  function quenchFor(part, steel, wanted) {
    var ways = steel.ways, mild = F.mildest.map(medium => ways.find(way => way[0] === medium)).filter(Boolean);
    if (wanted) mild = ways.filter(way => way[0] === wanted);
    if (!mild.length) throw refuse(part.at + ": " + steel.name + " is not published for " + wanted, "its own: " + ways.map(way => way[0]).join(" or "));
    var way = mild.find(each => each[3] === null || part.section <= each[3]) || mild[mild.length - 1];
    if (way[3] !== null && part.section > way[3]) part.remarks.push("hardens through only to " + g(way[3]) + " mm in " + way[0] + ": a hard shell on a softer core at best");
    part.quench = way[0]; part.low = way[1]; part.high = way[2];
  }
  function stems(text) { return unique((text.toLowerCase().match(/[a-z]+/g) || []).filter(word => word.length > 3).map(word => word.slice(0, 5).replace(/s+$/, ""))); }
  function five(celsius) { return 5 * Math.floor(celsius / 5 + 0.5); }
  function temperOf(part, steel, hrc, temper, hours) {
    if (temper !== null) return [temper, "as written"];
    var curve = own(F.curves, steel.curve || ""), best = null, said = stems(part.does);
    if (hrc !== null && curve) {
      var found = temperFor(curve, hrc, hours), reach = points(curve, hours, 60, 5);
      if (found === null) throw refuse(part.at + ": " + steel.name + " does not get " + g(hrc) + " HRC by tempering for " + g(hours) + " h between " +
        whole(reach.length ? reach[0][0] : 0) + " and " + whole(reach.length ? reach[reach.length - 1][0] : 0) + " \u00b0C");
      return [five(found), "for " + g(hrc) + " HRC"];
    }
    (F.uses[steel.kind] || []).forEach(function (band) {
      var hits = stems(band[2]).filter(stem => said.indexOf(stem) >= 0).length;
      if (hits && (!best || hits > best[0])) best = [hits, five((Math.max(band[0], 150) + band[1]) / 2), "by its use: " + band[2]];
    });
    return best ? best.slice(1) : [F.usual[steel.kind], "usual for such steel; write hardness or temper to choose"];
  }
  function read(record, number, hours) {
    ["name", "steel", "section"].forEach(function (key) {
      if (record[key] === undefined || record[key] === null || !String(record[key]).trim()) throw refuse("part " + number + " has no " + key, "write each like " + F.example);
    });
    var at = "part " + number + ", " + record.name.slice(0, 40), means, part = { name: record.name, at: at, does: record.does || "", remarks: [] };
    try { means = meaning(record.steel); } catch (fault) { throw refuse(at + ": " + fault.what, fault.hint); }
    if (means[0] === null) throw refuse(at + ": " + means[2], means[3]);
    var steel = part.steel = F.steels[means[0]];
    part.said = means[1] || "";
    part.section = figure(record, "section", "mm", at, 0.2, 300);
    part.thinnest = figure(record, "thinnest", "mm", at, 0.1, 300);
    var hrc = figure(record, "hardness", "", at, 10, 68), temper = figure(record, "temper", "degC", at, 60, 720);
    part.count = Math.trunc(figure(record, "count", "", at, 1, 1000) || 1);
    if (part.said) part.remarks.push('"' + record.steel + '" is read as ' + steel.name);
    if (steel.hardens === "no" || steel.hardens === "unknown") { part.soft = true; part.remarks.push(steel.how); return part; }
    var before = part.remarks;
    part.remarks = [];
    quenchFor(part, steel, words(record.quench || "").toLowerCase());
    var how = temperOf(part, steel, hrc, temper, hours);
    part.temper = how[0]; part.why = how[1];
    part.remarks = before.concat(steel.hardens === "case" ? ["carburise it first, on its own; this is the hardening afterwards"] : [], part.remarks);
    return part;
  }

  /* What shares a heating, the order on the hearth, the rounds of tempering. */
  function wrapped(part) { return part.steel.kind === "high-alloy-tool"; }
  function sameWorld(a, b) { return wrapped(a) === wrapped(b) && (a.steel.hardens === "case") === (b.steel.hardens === "case"); }
  function low(parts) { return Math.max.apply(null, parts.map(part => part.low)); }
  function high(parts) { return Math.min.apply(null, parts.map(part => part.high)); }
  function grouped(parts) {
    var groups = [];
    parts.slice().sort(by(p => [p.high, p.low, -p.section, p.name])).forEach(function (part) {
      var home = groups.find(function (group) {
        var all = group.concat(part), a = low(all), b = high(all);
        return (b - a >= 5 || (a === b && all.every(p => p.low <= a && a <= p.high))) && sameWorld(group[0], part);
      });
      if (home) home.push(part); else groups.push([part]);
    });
    return groups.sort(by(group => [low(group)]));
  }
  function soak(part) { return part.steel.soak.map(each => Math.max(each[0], each[1] * (part.section / 25.4))); }
  function warm(section, aim) { return 7850 * 650 * section / 1000 / 4 / 80 * Math.log((aim + 60 - 20) / 60) / 60; }
  function heating(group, n) {
    var parts = group.slice().sort(by(p => [-p.section, p.name])), made = { number: n + 1, parts: parts, low: low(parts), high: high(parts) };
    made.aim = (made.low + made.high) / 2;
    made.soak = Math.max.apply(null, parts.map(p => Math.min.apply(null, soak(p))));
    made.warm = warm(parts[0].section, made.aim);
    return made;
  }
  function place(heat, n) {
    if (heat.parts.length === 1) return "middle of the hearth";
    if (!n) return "at the back, in the way of the waste heat; put on first";
    return (n === heat.parts.length - 1 ? "in front, nearest the tongs" : "beside it, in the middle") +
      (heat.parts[0].section / heat.parts[n].section >= 3 ? "; goes in later, when the thick one is red" : "");
  }
  function cracking(part) {
    var severe = own({ water: 2, brine: 3, oil: 1, air: 0 }, part.quench), ratio = part.section / part.thinnest;
    severe = severe === undefined ? 1 : severe;
    var points = severe + (part.steel.carbon > (severe > 1 ? 0.35 : 0.5) ? 1 : 0) + (ratio >= 3 ? 2 : ratio >= 1.5 ? 1 : 0);
    return "Risk of cracking in " + part.quench + ": " + (points <= 2 ? "low" : points === 3 ? "some" : points === 4 ? "high" : "very high") +
      (ratio > 1 ? ", section changes " + fettlebook.written(ratio, 1) + " to 1" : "");
  }
  function cautions(part) {
    var said = part.remarks.slice(), t = part.temper, kind = part.steel.kind;
    if (["carbon-structural", "alloy-structural", "spring"].indexOf(kind) >= 0 && F.blue[0] <= t && t <= F.blue[1]) said.push("tempered in the range of blue brittleness: choose another hardness if it sees shock");
    if (kind === "alloy-structural" && F.slow[0] <= t && t <= F.slow[1]) said.push("cool it fast from the temper, against temper embrittlement");
    if (part.thinnest) said.push(cracking(part));
    if (wrapped(part)) said.push("wrap it in foil or pack it: bare it scales and loses its skin");
    return said.concat("temper " + part.why).join("; ");
  }
  function hardRow(heat, n, rounds, hours) {
    var part = heat.parts[n], soaks = soak(part), curve = own(F.curves, part.steel.curve || "");
    return {
      part: part.name, count: part.count, steel: part.steel.name, section_mm: part.section, does: part.does, heating: heat.number, place: place(heat, n),
      low_c: part.low, high_c: part.high, heat_c: heat.aim, warm_up_min: warm(part.section, heat.aim), soak_min: Math.min.apply(null, soaks), soak_max_min: Math.max.apply(null, soaks),
      quench: part.quench, quench_order: heat.parts.length - n, temper_order: rounds.findIndex(round => round.parts.indexOf(part) >= 0) + 1, temper_c: part.temper,
      colour: colours(part.temper, hours * 60), hardness_hrc: curve ? hardness(curve, part.temper, hours) : null,
      shares_with: heat.parts.filter(p => p !== part).map(p => p.name).join(", "), note: cautions(part)
    };
  }
  function separations(heatings, rounds) {
    var said = [];
    heatings.slice(1).forEach(function (b, n) {
      var a = heatings[n];
      said.push("Heatings " + a.number + " and " + b.number + " may not be one: " + (!sameWorld(a.parts[0], b.parts[0]) ? "one of them is carburised or wrapped and wants its own fire"
        : b.low > a.high ? "the second needs at least " + whole(b.low) + " \u00b0C, the first must not pass " + whole(a.high) + " \u00b0C (coarse grain, cracks)"
          : "their ranges have less than 5 \u00b0C in common") + ".");
    });
    heatings.forEach(function (heat) {
      var media = unique(heat.parts.map(p => p.quench));
      if (media.length > 1) said.push("Heating " + heat.number + " is quenched in " + media.join(" and ") + ": have each ready, marked and apart, and never take a wet part or tongs to the oil.");
    });
    rounds.forEach(function (round) { if (round.parts.length > 1) said.push("Tempering at " + whole(round.celsius) + " \u00b0C may be shared by " + round.parts.map(p => p.name).join(", ") + "."); });
    return said;
  }

  fettlebook.table("heating-plan", function (given, figures) {
    F = figures;
    var records = given.parts || [], hours = given.time;
    if (!records.length) throw refuse("a list of parts is wanted", "each like " + F.example);
    if (records.length > F.most) throw refuse(records.length + " parts are too many for one plan", "at most " + F.most + "; use count for several alike");
    var all = records.map((record, n) => read(record, n + 1, hours)), names = all.map(p => p.name), twice = names.find((name, n) => names.lastIndexOf(name) !== n);
    if (twice !== undefined) throw refuse('two parts are called "' + twice + '"', "give each its own name; for several alike write count");
    var hard = all.filter(p => !p.soft), soft = all.filter(p => p.soft), heatings = grouped(hard).map(heating), rounds = [], rows = [];
    hard.slice().sort(by(p => [p.temper, -p.section, p.name])).forEach(function (part) {
      var last = rounds[rounds.length - 1];
      if (last && last.celsius === part.temper) last.parts.push(part); else rounds.push({ celsius: part.temper, parts: [part] });
    });
    heatings.forEach(heat => heat.parts.forEach((part, n) => rows.push(hardRow(heat, n, rounds, hours))));
    soft.forEach(part => rows.push({ part: part.name, count: part.count, steel: part.steel.name, section_mm: part.section, does: part.does,
      place: "not on the hearth", shares_with: "", colour: "", note: part.remarks.join("; ") }));
    rows.forEach((row, n) => { row.order = n + 1; });
    var guides = hard.length ? heatings.flatMap(heat => heat.parts).filter(p => p.steel.ac1 !== null && p.low < p.steel.ac1 && p.steel.hardens === "yes")
      .map(p => p.name + ": its published range starts below Ac1 (" + whole(p.steel.ac1) + " \u00b0C); keep to the upper end.") : [];
    return {
      rows: rows, heatings: heatings, rounds: rounds,
      notes: separations(heatings, rounds).concat(soft.some(p => p.steel.hardens === "unknown") ? F.unknown : [], F.notes),
      warnings: unique(soft.map(p => p.name + ", " + p.steel.name + ": " + p.steel.how + ".").concat(all.map(p => p.said).filter(Boolean), guides))
    };
  });
})();
