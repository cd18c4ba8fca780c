/* The heating plan's form: parts as the reader writes them, kept on the device, and the plan as a sheet to print. */
(function () {
  "use strict";
  var home = document.querySelector("[data-plan]"), figures = (window.fettlebookFigures || {})["heating-plan"], waiting = 0;
  if (!home || !figures) return;
  var form = home.querySelector("form"), list = home.querySelector(".plan__parts"), blank = home.querySelector("template"), sheet = home.querySelector(".plan__sheet");
  var fault = home.querySelector(".plan__fault"), store = fettlebook.store, sample = JSON.parse(home.querySelector("script").textContent);

  function make(tag, words, kind) {
    var made = document.createElement(tag);
    if (words !== undefined) made.textContent = words;
    if (kind) made.className = kind;
    return made;
  }
  function add(to, tag, words, kind) { return to.appendChild(make(tag, words, kind)); }
  function shown(value, unit, decimals) {
    var other = document.documentElement.dataset.units === "inch" ? { degC: "degF", mm: "in" }[unit] : "";
    return fettlebook.written(other ? fettlebook.convert(value, unit, other) : value, other === "in" ? 3 : decimals || 0) + "\u00a0" + fettlebook.units.units[other || unit][3];
  }
  function degrees(celsius) { return shown(celsius, "degC"); }
  function cards() { return Array.prototype.slice.call(list.children); }
  function number() { cards().forEach((card, n) => { card.querySelector("legend b").textContent = n + 1; }); }

  function card(part) {
    var made = list.appendChild(blank.content.firstElementChild.cloneNode(true)), more = made.querySelector("details");
    made.querySelectorAll("[data-key]").forEach(function (input) {
      if (part && part[input.dataset.key] !== undefined) input.value = part[input.dataset.key];
      if (input.value && more.contains(input)) more.open = true;
    });
    number();
    return made;
  }
  function written(one) {
    var part = {};
    one.querySelectorAll("[data-key]").forEach(function (input) { if (input.value.trim()) part[input.dataset.key] = input.value.trim(); });
    return part;
  }
  function fill(state) {
    list.textContent = "";
    state.parts.forEach(card);
    form.elements.time.value = state.time;
    work();
  }
  function wrong(place, words) {
    place.querySelector(".fault").textContent = words;
    place.querySelector(".fault").hidden = !words;
    place.classList.toggle("plan__wrong", Boolean(words));
  }

  function work() {
    var all = cards(), used = all.filter(one => Object.keys(written(one)).length), hours;
    store.set("heating-plan", { parts: all.map(written), time: form.elements.time.value });
    all.concat(form.elements.time.closest("p")).forEach(place => wrong(place, ""));
    fault.textContent = "";
    try {
      hours = fettlebook.readQuantity(form.elements.time.value || "1", "h");
      if (!(hours >= 0.05 && hours <= 24)) throw new Error("the tempering time must lie between 0.05 and 24 h");
    } catch (told) { wrong(form.elements.time.closest("p"), told.message); sheet.textContent = ""; return; }
    sheet.textContent = "";
    if (!used.length) { fault.textContent = "Write a part above, with its name, its steel and its thickest section."; return; }
    try { draw(fettlebook.tables["heating-plan"]({ parts: used.map(written), time: hours }, figures), hours); } catch (told) {
      if (!(told instanceof fettlebook.Refused)) throw told;
      var at = /^part (\d+)(?:, .*?)?(?:: |(?= has no ))/.exec(told.what), hint = told.hint && told.hint.indexOf("{") < 0 ? "; " + told.hint : "";
      fault.textContent = "No plan until the part marked above is put right.";
      if (at) wrong(used[at[1] - 1], told.what.slice(at[0].length).trim() + hint);
      else fault.textContent = told.what + hint;
    }
  }

  /* The session by the clock, as tables/heating_plan.py lays it out: [kind, from, to, degrees, mark]. */
  function clock(plan, hours) {
    var now = 0, found = [], quench = null;
    plan.heatings.forEach(function (heat) {
      var warm = now + heat.warm, soaked = warm + heat.soak, end = soaked + 2 * heat.parts.reduce((sum, part) => sum + part.count, 0);
      found.push(["warm", now, warm, heat.aim], ["soak", warm, soaked, heat.aim, heat.number], ["quench", soaked, end, heat.aim]);
      if (quench === null) quench = soaked;
      now = end;
    });
    if (plan.rounds.length) found.push(["ready", quench, now, plan.rounds[0].celsius]);
    plan.rounds.forEach(function (round, n) { found.push(["temper", now, now += hours * 60, round.celsius, "T" + (n + 1)]); });
    return found;
  }
  function plot(plan, hours) {
    var all = clock(plan, hours), end = all[all.length - 1][2] * 1.02, top = 200 * (Math.floor(Math.max.apply(null, all.map(s => s[3])) / 200) + 1);
    var x = minutes => (60 + 720 * minutes / end).toFixed(1), y = celsius => (330 - 300 * celsius / top).toFixed(1), oven = "", out = "", step;
    var path = (points, width) => { out += '<path d="M' + points.map(p => x(p[0]) + "," + y(p[1])).join("L") + '" stroke-width="' + width + '"/>'; };
    all.forEach(function (s) {
      var rise = [], fire = s[3] + 60;
      if (s[0] === "warm") {
        for (var n = 0; n <= 24; n++) rise.push([s[1] + n / 24 * (s[2] - s[1]), fire - (fire - 20) * Math.exp(-Math.log((fire - 20) / 60) * n / 24)]);
        path(rise, 3.5);
      } else if (s[0] === "soak") path([[s[1], s[3]], [s[2], s[3]]], 3.5);
      else if (s[0] === "quench") { path([[s[1], s[3]], [s[2], s[3]]], 1.5); path([[s[1], s[3]], [s[1], 20]], 3.5); path([[s[2], s[3]], [s[2], 20]], 3.5); }
      else oven += (oven ? "L" : "M") + x(s[1]) + "," + y(s[3]) + "L" + x(s[2]) + "," + y(s[3]);
      if (s[4]) out += '<text x="' + x((s[1] + s[2]) / 2) + '" y="' + (y(s[3]) - 7) + '" text-anchor="middle" font-weight="700">' + s[4] + "</text>";
    });
    if (oven) out += '<path d="' + oven + '" stroke-width="2.5" stroke-dasharray="9 5"/>';
    for (var c = 0; c <= top; c += 200) out += '<path d="M54,' + y(c) + 'h726" stroke-width=".6" opacity=".5"/><text x="48" y="' + (+y(c) + 5) + '" text-anchor="end">' + degrees(c).split("\u00a0")[0] + "</text>";
    step = [5, 10, 20, 30, 60, 120, 240, 480, 1440].find(each => end / each <= 9) || 1440 * Math.ceil(end / 12960);
    for (var m = 0; m <= end; m += step) out += '<path d="M' + x(m) + ',330v6"/><text x="' + x(m) + '" y="353" text-anchor="middle">' + (step < 60 ? m + " min" : m / 60 + " h") + "</text>";
    return '<svg viewBox="0 0 800 362" role="img" aria-label="Temperature over time; the figures stand in the tables below" fill="none" stroke="currentColor" font-size="16">' +
      out.replace(/<text /g, '<text fill="currentColor" stroke="none" ') + '<text x="54" y="18" fill="currentColor" stroke="none">' + degrees(0).split("\u00a0")[1] + "</text></svg>";
  }

  function table(heads, rows) {
    var scroll = add(sheet, "div", undefined, "scroll"), made = add(scroll, "table", undefined, "grid"), head = add(add(made, "thead"), "tr"), body = add(made, "tbody");
    scroll.tabIndex = 0;
    heads.forEach(words => { add(head, "th", words).scope = "col"; });
    rows.forEach(function (row) {
      var tr = add(body, "tr");
      row.cells.forEach(words => add(tr, "td", words));
      if (row.note) add(add(body, "tr", undefined, "below"), "td", row.note).colSpan = heads.length;
    });
  }
  function named(row) { return row.part + (row.count > 1 ? " \u00d7 " + row.count : ""); }

  function draw(plan, hours) {
    add(sheet, "h3", "Your heating plan");
    add(sheet, "p", "Date:                                   Worked by:", "plan__date");
    plan.warnings.forEach(words => add(sheet, "p", words, "flag"));
    if (plan.heatings.length) {
      add(sheet, "figure", undefined, "drawing").innerHTML = plot(plan, hours) +
        "<figcaption>Wide line: the thickest part on the hearth, by heating. Dashed: the tempering oven, by round (T1 and on).</figcaption>";
    }
    plan.heatings.forEach(function (heat) {
      var mine = plan.rows.filter(row => row.heating === heat.number);
      add(sheet, "h4", "Heating " + heat.number + ": " + degrees(heat.aim) + " (" + degrees(heat.low) + " to " + degrees(heat.high) + ")");
      table(["Part, in order on", "Steel", "Section", "Soak", "Quench", "Turn", "Done"], mine.map((row, n) => ({
        cells: [n + 1 + ". " + named(row), row.steel, shown(row.section_mm, "mm", 1), fettlebook.written(row.soak_min, 0) + "\u00a0min", row.quench, row.quench_order, "\u2610"],
        note: "Lies " + row.place + ". Comes to heat in about " + Math.max(1, Math.round(row.warm_up_min)) + " min. " + (row.does ? "Use: " + row.does + ". " : "") + row.note.charAt(0).toUpperCase() + row.note.slice(1) + "."
      })));
    });
    if (plan.rounds.length) {
      add(sheet, "h4", "Tempering, each round " + Number(hours.toPrecision(3)) + " h from when the part is at heat");
      table(["Round", "Temper at", "Part", "Colour, bright steel", "Hardness, HRC", "Done"], plan.rows.filter(row => row.temper_order).sort((a, b) => a.temper_order - b.temper_order).map(row => ({
        cells: ["T" + row.temper_order, degrees(row.temper_c), named(row), row.colour, row.hardness_hrc === null ? "\u2013" : fettlebook.written(row.hardness_hrc, 0), "\u2610"]
      })));
    }
    var soft = plan.rows.filter(row => !row.heating);
    if (soft.length) add(sheet, "h4", "Not on the hearth");
    soft.forEach(row => add(sheet, "p", named(row) + ", " + row.steel + ": " + row.note + "."));
    add(sheet, "h4", "Keep apart, and take care");
    var notes = add(sheet, "ul");
    plan.notes.forEach(words => add(notes, "li", words));
  }

  home.addEventListener("click", function (event) {
    var act = event.target.dataset.do;
    if (act === "add") card().querySelector("input").focus();
    else if (act === "remove") { event.target.closest("li").remove(); number(); }
    else if (act === "sample") { fill(sample); return; }
    else if (act === "empty") { fill({ parts: [{}], time: "1 h" }); return; }
    else if (act === "print") { document.documentElement.classList.add("print-plan"); window.print(); return; }
    else return;
    work();
  });
  window.addEventListener("afterprint", function () { document.documentElement.classList.remove("print-plan"); });
  form.addEventListener("input", function () { clearTimeout(waiting); waiting = setTimeout(work, 200); });
  form.addEventListener("submit", function (event) { event.preventDefault(); work(); });
  document.addEventListener("fettlebook:units", work);
  fill(store.get("heating-plan") || sample);
})();
