/* Levelling, round by round: readings in, what to turn out, and a log of rounds kept on the device. */
(function () {
  "use strict";
  var place = document.querySelector("[data-levelling]");
  if (!place || !fettlebook.tables["jack-moves"]) return;
  var about = JSON.parse(place.querySelector("script").textContent), form = place.querySelector("form");
  var answer = form.querySelector(".form__answer"), fault = form.querySelector(".fault"), logged = place.querySelector(".levelling__log");
  var key = "levelling:" + about.key, state = fettlebook.store.get(key) || { now: {}, log: [] }, last = null;

  function make(tag, words, kind) {
    var made = document.createElement(tag);
    if (words !== undefined) made.textContent = words;
    if (kind) made.className = kind;
    return made;
  }
  function button(words, quiet, act) {
    var made = make("button", words, "button" + (quiet ? " button--quiet" : ""));
    made.type = "button";
    made.addEventListener("click", act);
    return made;
  }
  function all(selector) { return Array.prototype.slice.call(form.querySelectorAll(selector)); }
  function ticked(name) { return all("input[name=" + name + "]:checked").map(box => box.value); }
  function minus(text) { return String(text).replace(/-(?=\d)/g, "\u2212"); }
  function signed(value) { var text = fettlebook.written(value, 1); return minus(value > 0 && /[1-9]/.test(text) ? "+" + text : text); }

  function readings() {
    return all("input[data-station]").filter(input => input.name === "long").map(function (input) {
      var cross = form.querySelector('input[name="cross"][data-station="' + CSS.escape(input.dataset.station) + '"]');
      return { station: input.dataset.station, long: input.value, cross: cross.value };
    });
  }
  function keep() {
    state.now = { readings: readings(), loose: ticked("loose"), stay: ticked("stay"), wish: {} };
    ["division", "limit", "zero", "vial", "goal", "prefer"].forEach(function (name) { state.now.wish[name] = form.elements[name].value; });
    fettlebook.store.set(key, state);
  }
  function show() {
    (state.now.readings || []).forEach(function (one) {
      ["long", "cross"].forEach(function (way) {
        var input = form.querySelector('input[name="' + way + '"][data-station="' + CSS.escape(one.station) + '"]');
        if (input) input.value = one[way];
      });
    });
    ["loose", "stay"].forEach(function (name) { all("input[name=" + name + "]").forEach(function (box) { box.checked = (state.now[name] || []).indexOf(box.value) >= 0; }); });
    Object.keys(state.now.wish || {}).forEach(function (name) { if (form.elements[name]) form.elements[name].value = state.now.wish[name]; });
  }
  function number(name, unit) {
    try { return fettlebook.readQuantity(form.elements[name].value || "0", unit); }
    catch (wrong) { throw fettlebook.refuse(name, wrong.message); }
  }

  function work() {
    answer.textContent = "";
    fault.hidden = true;
    last = null;
    try {
      var division = number("division", "mm/m"), limit = number("limit", "mm/m"), zero = number("zero", ""), vial = number("vial", "");
      if (!(division >= 0.001 && division <= 20)) throw fettlebook.refuse("division", "must lie between 0.001 and 20 mm/m");
      if (!(limit >= 0.001 && limit <= 5)) throw fettlebook.refuse("limit", "must lie between 0.001 and 5 mm/m");
      if (!(vial >= 2 && vial <= 500)) throw fettlebook.refuse("vial", "must lie between 2 and 500 divisions");
      last = fettlebook.tables["jack-moves"]({ machine: about.machine, readings: readings(), division: division, limit: limit, goal: form.elements.goal.value,
        log: state.log.length ? state.log : null, loose: ticked("loose"), stay: ticked("stay"), prefer: form.elements.prefer.value, zero: zero, "reading-error": 0.1, vial: vial }, null);
    } catch (wrong) {
      if (!(wrong instanceof fettlebook.Refused)) throw wrong;
      fault.textContent = wrong.message;
      fault.hidden = false;
      return;
    }
    answer.appendChild(make("p", minus(last.notes[0]), "levelling__verdict"));
    last.warnings.forEach(words => answer.appendChild(make("p", minus(words), "flag")));
    if (last.turned.length) moves();
    last.notes.slice(1).forEach(words => answer.appendChild(make("p", minus(words), "note")));
    if (last.turned.length || last.verdict === "loose") after();
    answer.scrollIntoView({ block: "nearest" });
  }

  function moves() {
    var table = make("table", undefined, "grid"), head = table.appendChild(make("thead")).appendChild(make("tr")), body = table.appendChild(make("tbody"));
    ["", "Jack", "Way", last.rows[0].coarse === "none, by the bubble" ? "" : "By the screw first", "Watch", "until it shows", "Height [mm]"].forEach(words => head.appendChild(make("th", words)));
    last.rows.filter(row => row.move_mm).forEach(function (row) {
      var tr = body.appendChild(make("tr")), fine = row.bubble_station !== null;
      [row.order, row.jack, row.direction, row.coarse === "none, by the bubble" ? "" : row.coarse, fine ? row.bubble_station + " " + row.bubble_way : "\u2013",
        fine ? signed(row.bubble_divisions) : "\u2013", minus(fettlebook.written(row.move_mm, 3))].forEach(function (words, n) {
        tr.appendChild(make("td", String(words), n === 5 ? "num levelling__target" : n === 6 || n === 0 ? "num" : "txt"));
      });
    });
    answer.appendChild(make("div", undefined, "scroll")).appendChild(table);
  }

  /* What was really turned: as advised, unless something else is written. */
  function after() {
    if (last.turned.length) {
      var line = answer.appendChild(make("p", undefined, "field")), label = line.appendChild(make("label", "Turned something else? Write it in the order turned"));
      var input = line.appendChild(make("input"));
      input.id = "lv-turned"; label.htmlFor = input.id; input.autocomplete = "off";
      line.appendChild(make("span", "empty: as advised. Else jack and height, or jack and what the bubble showed, like "
        + last.rows[0].jack + " +0.12 mm, " + last.rows[0].jack + " " + about.machine.stations[0].name + " cross -1.5", "help"));
    }
    answer.appendChild(button(last.turned.length ? "Turned; read the next round" : "Seated; read again", false, function () {
      var said = input && input.value.trim();
      state.log.push({ readings: readings(), turned: said ? said : last.turned, loose: ticked("loose"), stay: ticked("stay"), at: new Date().toISOString().slice(0, 16), said: last.notes[0] });
      if (said) {
        try { fettlebook.tables["jack-moves"]({ machine: about.machine, readings: readings(), division: 0.02, limit: 0.02, goal: "horizontal", log: state.log, loose: [], stay: [], prefer: "small", zero: 0, "reading-error": 0.1, vial: 10 }, null); }
        catch (wrong) {
          if (!(wrong instanceof fettlebook.Refused)) throw wrong;
          state.log.pop();
          fault.textContent = wrong.message; fault.hidden = false;
          return;
        }
      }
      all("input[data-station]").forEach(function (field) { field.value = ""; });
      all("input[name=loose]").forEach(function (box) { box.checked = false; });
      answer.textContent = "";
      keep(); list();
      form.querySelector("input[name=loose]").focus();
      form.scrollIntoView();
    }));
  }

  function turnedWords(turned) {
    return typeof turned === "string" ? turned : turned.map(m => m.jack + (m.station ? " until " + m.station + " " + m.way + " shows " + signed(m.shows) : " " + minus(fettlebook.written(m.mm, 3)) + " mm")).join(", ") || "nothing";
  }
  function list() {
    logged.textContent = "";
    if (!state.log.length) return;
    logged.appendChild(make("h3", "Rounds so far"));
    var table = make("table", undefined, "grid"), head = table.appendChild(make("thead")).appendChild(make("tr")), body = table.appendChild(make("tbody"));
    ["Round", "Readings, long/cross", "Said", "Turned"].forEach(words => head.appendChild(make("th", words)));
    state.log.forEach(function (round, n) {
      var tr = body.appendChild(make("tr"));
      [n + 1 + (round.at ? " \u00b7 " + round.at.replace("T", " ") : ""), round.readings.map(r => r.station + ": " + (r.long || "\u2013") + "/" + (r.cross || "\u2013")).join("; ") + (round.loose && round.loose.length ? "; loose: " + round.loose.join(", ") : ""),
        round.said || "", turnedWords(round.turned || [])].forEach(words => tr.appendChild(make("td", minus(words), "txt")));
    });
    logged.appendChild(make("div", undefined, "scroll")).appendChild(table);
    var ways = logged.appendChild(make("p", undefined, "actions"));
    ways.appendChild(button("Take back the last round", true, function () {
      var round = state.log.pop();
      state.now = Object.assign(state.now, { readings: round.readings, loose: round.loose, stay: round.stay });
      fettlebook.store.set(key, state);
      show(); list(); work();
    }));
    ways.appendChild(button("Save the rounds as a file", true, function () {
      var link = make("a");
      link.href = URL.createObjectURL(new Blob([JSON.stringify({ machine: about.key, now: state.now, log: state.log }, null, 1) + "\n"], { type: "application/json" }));
      link.download = "levelling-" + about.key + "-" + new Date().toISOString().slice(0, 10) + ".json";
      link.click();
      setTimeout(function () { URL.revokeObjectURL(link.href); }, 1000);
    }));
    ways.appendChild(button("Print", true, function () { window.print(); }));
    ways.appendChild(button("Begin anew", true, function () {
      if (!window.confirm("Forget all rounds on this device?")) return;
      state = { now: state.now, log: [] };
      fettlebook.store.set(key, state);
      list();
    }));
  }

  form.addEventListener("submit", function (event) { event.preventDefault(); work(); });
  form.addEventListener("input", function (event) { if (event.target.name) keep(); });
  form.querySelector("[data-do=work]").addEventListener("click", work);
  show();
  list();
})();
