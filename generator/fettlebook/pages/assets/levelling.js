/* Levelling, round by round: readings in, what to turn out, and a log of rounds kept on the device. */
(function () {
  "use strict";
  var place = document.querySelector("[data-levelling]");
  if (!place || !fettlebook.tables["jack-moves"]) return;
  var about = JSON.parse(place.querySelector("script").textContent), form = place.querySelector("form");
  var answer = form.querySelector(".form__answer"), fault = form.querySelector(".fault"), logged = place.querySelector(".levelling__log");
  var KEPT = ["division", "limit", "zero", "vial", "goal", "prefer", "laid", "reversed"];
  var make = fettlebook.make, store = fettlebook.store, key, state, last = null;

  function button(words, quiet, act) { return fettlebook.button(words, act, quiet ? "button--quiet" : ""); }
  function all(selector) { return Array.prototype.slice.call(form.querySelectorAll(selector)); }
  function ticked(name) { return all("input[name=" + name + "]:checked").map(box => box.value); }
  function minus(text) { return String(text).replace(/(^|\D)-(?=\d)/g, "$1\u2212"); }
  function signed(value) { var text = fettlebook.written(value, 1); return minus(value > 0 && /[1-9]/.test(text) ? "+" + text : text); }

  function readings() {
    return all("input[data-station]").filter(input => input.name === "long").map(input => {
      var cross = form.querySelector('input[name="cross"][data-station="' + CSS.escape(input.dataset.station) + '"]');
      return { station: input.dataset.station, long: input.value, cross: cross.value };
    });
  }
  /* Rounds belong to the job that is open on this machine, or to the machine alone. */
  function belongTo(job) {
    key = "levelling:" + about.key + (job ? ":" + job : "");
    state = Object.assign({ now: {}, log: [] }, store.get(key));
  }
  function whose() {
    var jobs = store.keys("job:").map(k => store.get(k)).filter(j => j && j.machine === about.key && !j.finished), at = store.get("at");
    belongTo(jobs.some(j => j.job === at) ? at : "");
    if (!jobs.length) return;
    var line = make("p", null, "field"), label = line.appendChild(make("label", "These rounds belong to")), pick = line.appendChild(make("select")), back = make("p");
    pick.id = "lv-job"; label.htmlFor = pick.id;
    [{ job: "", title: "no job, the machine alone" }].concat(jobs).forEach(j => { pick.appendChild(make("option", [j.title, j.name, j.started && fettlebook.record.time(j.started)].filter(Boolean).join(", "))).value = j.job; });
    function link() {
      var job = jobs.find(j => j.job === pick.value), a = make("a", "Back to the job", "button button--quiet");
      back.textContent = "";
      if (!job) return;
      a.href = "../procedures/" + job.procedure + ".html#do=" + job.job + "/" + (job.screen || 0);
      back.append(a);
    }
    pick.value = key.split(":")[2] || "";
    pick.addEventListener("change", () => { var job = pick.value; belongTo(job); answer.textContent = ""; form.reset(); pick.value = job; begin(); link(); });
    link();
    form.insertBefore(line, form.firstChild);
    place.append(back);
  }
  function keep() {
    state.now = { readings: readings(), loose: ticked("loose"), stay: ticked("stay"), tried: form.elements.tried.checked, answered: Boolean(last), wish: {} };
    KEPT.forEach(name => { state.now.wish[name] = form.elements[name].value; });
    store.set(key, state);
  }
  /* The reversal check: half the difference is the spot's tilt, half the sum the level's own error. */
  function reversal() {
    var said = form.querySelector(".levelling__reversal"), error, written = [form.elements.laid.value.trim(), form.elements.reversed.value.trim()];
    said.className = "note levelling__reversal";
    said.textContent = "";
    if (!written[0] || !written[1]) return;
    try { written = written.map(words => fettlebook.readQuantity(words, "")); }
    catch (wrong) { said.textContent = wrong.message; return; }
    error = (written[0] + written[1]) / 2;
    var out = Math.abs(error) > 0.25;
    if (out) said.className = "flag levelling__reversal";
    form.elements.zero.value = String(error);
    said.textContent = "The spot tilts by " + figure((written[0] - written[1]) / 2) + ", the level itself is out by " + figure(error) + " divisions. "
      + (Math.abs(error) > 50 ? "No level is out so far: read again." : out ? "More than a quarter: set the level by its maker's instructions and check again. Until then it is taken off every reading and put on every target."
        : "Good enough; it is taken off every reading and put on every target.");
  }
  function figure(value) { var text = fettlebook.written(value, 2); return minus(value > 0 && /[1-9]/.test(text) ? "+" + text : text); }
  function show() {
    form.elements.tried.checked = Boolean(state.now.tried);
    (state.now.readings || []).forEach(one => {
      ["long", "cross"].forEach(way => {
        var input = form.querySelector('input[name="' + way + '"][data-station="' + CSS.escape(one.station) + '"]');
        if (input) input.value = one[way];
      });
    });
    ["loose", "stay"].forEach(name => { all("input[name=" + name + "]").forEach(box => { box.checked = (state.now[name] || []).indexOf(box.value) >= 0; }); });
    Object.keys(state.now.wish || {}).forEach(name => { if (KEPT.indexOf(name) >= 0) form.elements[name].value = state.now.wish[name]; });
    reversal();
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
      if (!(Math.abs(zero) <= 50)) throw fettlebook.refuse("zero", "no level is out by more than 50 divisions");
      if (!form.elements.tried.checked) throw fettlebook.refuse("feet", "first try every foot, tick those that are loose, then tick that every foot was tried", "readings taken with a foot hanging do not show what the jacks do");
      last = fettlebook.tables["jack-moves"]({ machine: about.machine, readings: readings(), division: division, limit: limit, goal: form.elements.goal.value,
        log: state.log.length ? state.log : null, loose: ticked("loose"), stay: ticked("stay"), prefer: form.elements.prefer.value, zero: zero, "reading-error": 0.1, vial: vial }, null);
    } catch (wrong) {
      if (!(wrong instanceof fettlebook.Refused)) throw wrong;
      fault.textContent = wrong.message;
      fault.hidden = false;
      return;
    }
    answer.append(make("p", minus(last.notes[0]), "levelling__verdict"));
    last.warnings.forEach(words => answer.appendChild(make("p", minus(words), "flag")));
    if (last.turned.length) moves();
    last.notes.slice(1).forEach(words => answer.appendChild(make("p", minus(words), "note")));
    if (last.turned.length || last.verdict === "loose") after();
    keep();
  }

  function moves() {
    var table = make("table", undefined, "grid levelling__moves"), head = table.appendChild(make("thead")).appendChild(make("tr")), body = table.appendChild(make("tbody"));
    var turned = last.rows.filter(row => row.move_mm), screwed = turned.some(row => row.coarse !== FINE);
    ["", "Jack", "Way", "By the screw first", "Watch", "until it shows", "In all"].filter((_, n) => n !== 3 || screwed).forEach(words => head.appendChild(make("th", words)));
    turned.forEach(row => {
      var tr = body.appendChild(make("tr")), fine = row.bubble_station !== null;
      var cells = [[row.order, "num"], [row.jack, "txt"], [row.direction, "txt levelling__way"], [row.coarse === FINE ? "\u2013" : row.coarse, "txt levelling__screw"],
        [fine ? row.bubble_station + " " + row.bubble_way : "\u2013", "txt levelling__watch"], [fine ? signed(row.bubble_divisions) : "\u2013", "num levelling__target"],
        [minus(fettlebook.written(row.move_mm, 3)) + " mm" + (row.turns === null ? "" : ", about " + angle(row)), "txt levelling__all"]];
      cells.filter((_, n) => n !== 3 || screwed).forEach(cell => tr.appendChild(make("td", String(cell[0]), cell[1])));
    });
    answer.appendChild(make("div", undefined, "scroll")).appendChild(table);
  }

  var FINE = "none, by the bubble";
  function angle(row) { return [row.turns ? row.turns + " turn" : "", row.flats ? row.flats + " flat" : "", fettlebook.written(row.degrees, 0) + "\u00b0"].filter(Boolean).join(" "); }

  /* What was really turned: as advised, unless something else is written. */
  function after() {
    if (last.turned.length) {
      var line = answer.appendChild(make("p", undefined, "field")), label = line.appendChild(make("label", "Turned something else? Write it in the order turned"));
      var input = line.appendChild(make("input"));
      input.id = "lv-turned"; label.htmlFor = input.id; input.autocomplete = "off";
      line.append(make("span", "empty: as advised. Else jack and height, or jack and what the bubble showed, like "
        + last.rows[0].jack + " +0.12 mm, " + last.rows[0].jack + " " + about.machine.stations[0].name + " cross -1.5", "help"));
    }
    answer.append(button(last.turned.length ? "Turned; read the next round" : "Seated; read again", false, () => {
      var said = input && input.value.trim();
      state.log.push({ readings: readings(), turned: said ? said : last.turned, loose: ticked("loose"), stay: ticked("stay"), at: new Date().toISOString().slice(0, 16), said: last.notes[0] });
      if (said) {
        try { fettlebook.tables["jack-moves"](asked(readings(), state.log), null); }
        catch (wrong) {
          if (!(wrong instanceof fettlebook.Refused)) throw wrong;
          state.log.pop();
          fault.textContent = wrong.message; fault.hidden = false;
          return;
        }
      }
      all("input[data-station]").forEach(field => { field.value = ""; });
      all("input[name=loose], input[name=tried]").forEach(box => { box.checked = false; });
      answer.textContent = "";
      last = null;
      keep(); list();
      form.querySelector("input[name=loose]").focus();
      form.scrollIntoView();
    }));
  }

  function list() {
    logged.textContent = "";
    if (!state.log.length) return;
    fettlebook.record.roundsGrid(logged, "Rounds so far", state.log);
    var ways = logged.appendChild(make("p", undefined, "actions"));
    ways.append(button("Take back the last round", true, () => {
      var round = state.log.pop();
      state.now = Object.assign(state.now, { readings: round.readings, loose: round.loose || [], tried: true });
      store.set(key, state);
      show(); list(); work();
    }));
    ways.append(button("Save the rounds as a file", true, () => {
      fettlebook.saveAs("levelling-" + about.key + "-" + new Date().toISOString().slice(0, 10) + ".json", { levelling: 1, machine: about.key, now: state.now, log: state.log });
    }));
    ways.append(button("Print the rounds", true, () => {
      document.documentElement.classList.add("print-levelling");
      window.print();
    }));
    ways.append(button("Begin anew", true, () => {
      if (!window.confirm("Forget all rounds on this device?")) return;
      state.log = [];
      store.set(key, state);
      list();
    }));
  }

  /* Rounds from a file: nothing is taken over before all of it is known to make sense for this machine. */
  function isMap(thing) { return thing !== null && typeof thing === "object" && !Array.isArray(thing); }
  function taken(text) {
    var file, wrong = "This file holds no rounds of levelling: ";
    if (text.length > 500000) throw new Error(wrong + "it is too large.");
    try { file = JSON.parse(text); } catch (fault) { throw new Error(wrong + "it is not JSON, or it is damaged."); }
    if (!isMap(file) || !Array.isArray(file.log) || !file.log.every(isMap)) throw new Error(wrong + "it has no log.");
    if (file.machine !== about.key) throw new Error("These rounds belong to the machine \"" + String(file.machine).slice(0, 60) + "\", not to this one.");
    var named = about.machine.stations[0].name, log = file.log.map(round => {
      return { readings: round.readings, turned: round.turned === undefined ? null : round.turned, loose: round.loose || [], at: String(round.at || "").slice(0, 16), said: String(round.said || "").slice(0, 500) };
    });
    fettlebook.tables["jack-moves"](asked([{ station: named, long: "0", cross: "0" }], log), null);
    log.forEach(round => {
      if (!Array.isArray(round.readings)) throw new Error(wrong + "a round's readings are not a list.");
      round.readings = round.readings.map(one => ({ station: String(one.station), long: one.long === null || one.long === undefined ? "" : String(one.long), cross: one.cross === null || one.cross === undefined ? "" : String(one.cross) }));
    });
    return { now: isMap(file.now) && isMap(file.now.wish) ? file.now : {}, log: log };
  }
  function asked(readings, log) {
    return { machine: about.machine, readings: readings, division: 0.02, limit: 0.02, goal: "horizontal", log: log.length ? log : null, loose: [], stay: [], prefer: "small", zero: 0, "reading-error": 0.1, vial: 10 };
  }
  place.querySelector("#lv-file").addEventListener("change", event => {
    var file = event.target.files[0], said = place.querySelector(".levelling__brought");
    event.target.value = "";
    said.hidden = true;
    if (file) file.text().then(text => {
      var found = taken(text);
      if (state.log.length && !window.confirm("Put the " + found.log.length + " rounds of the file in place of the " + state.log.length + " on this device?")) return;
      state = found;
      answer.textContent = "";
      last = null;
      if (!store.set(key, state)) throw new Error("This device does not keep it: its store is full or refused.");
      all("input[data-station]").forEach(field => { field.value = ""; });
      show(); list();
    }).catch(wrong => { said.textContent = wrong.message; said.hidden = false; });
  });

  form.addEventListener("submit", event => { event.preventDefault(); work(); });
  form.addEventListener("input", event => {
    if (!event.target.name) return;
    answer.textContent = "";
    fault.hidden = true;
    last = null;
    if (event.target.name === "laid" || event.target.name === "reversed") reversal();
    keep();
  });
  form.querySelector("[data-do=work]").addEventListener("click", () => {
    work();
    (last ? answer : fault).scrollIntoView({ block: last ? "start" : "center" });
  });
  window.addEventListener("afterprint", () => { document.documentElement.classList.remove("print-levelling"); });
  window.addEventListener("storage", event => {
    if (event.key !== store.prefix + key) return;
    belongTo(key.split(":")[2]);
    last = null;
    show(); list();
    answer.textContent = "Changed in another window; this is what stands there now.";
  });
  function begin() {
    last = null;
    show();
    list();
    if (state.now.answered) work();
  }
  whose();
  begin();
})();
