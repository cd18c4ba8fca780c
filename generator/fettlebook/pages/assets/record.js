/* A job's record: saving it as a file, reading one back, and showing it as a sheet. */
(function () {
  "use strict";
  var store = fettlebook.store, make = fettlebook.make;
  var STATES = { done: "done", "not-right": "not right", "left-out": "left out" };

  function time(iso) {
    if (!iso) return "";
    var at = new Date(iso);
    return isNaN(at) ? String(iso) : at.toLocaleString([], { year: "numeric", month: "short", day: "numeric", hour: "2-digit", minute: "2-digit" });
  }

  function fileName(job) {
    var day = (job.started || "").slice(0, 10), safe = (job.procedure + (job.machine ? "-" + job.machine : "")).replace(/[^a-z0-9-]/gi, "");
    return day + "-" + safe + "-" + job.job.replace(/[^a-z0-9]/gi, "") + ".json";
  }

  /* Rounds of levelling are kept beside the job, by machine and job; in the file they are a part of it. */
  function levellingKey(job) { return "levelling:" + job.machine + ":" + job.job; }
  function whole(job) {
    var kept = store.get(levellingKey(job)), rounds = kept && kept.log && kept.log.length ? kept.log : job.levelling;
    return rounds && rounds.length ? Object.assign({}, job, { levelling: rounds }) : job;
  }
  function copyRounds(job, to) {
    var kept = store.get(levellingKey(job));
    if (kept) store.set(levellingKey(Object.assign({}, job, { job: to })), kept);
  }
  function forget(job) { store.remove("job:" + job.job); store.remove(levellingKey(job)); }
  function saveFile(job) { fettlebook.saveAs(fileName(job), whole(job)); }

  /* The job in a FILE, unless this device holds a later state of it. */
  function takeIn(file) {
    return file.text().then(text => {
      var job = readFile(text), there = store.get("job:" + job.job);
      if (there && there.edit > job.edit) throw new Error("This device holds a later state of the same job. Save that one as a file first, or throw it away, if you want the one in this file.");
      if (job.levelling.length) store.set(levellingKey(job), { now: {}, log: job.levelling });
      return job;
    });
  }

  function isMap(thing) { return thing !== null && typeof thing === "object" && !Array.isArray(thing); }

  function short(thing) { return typeof thing === "string" && thing.length <= 5000; }
  function plain(thing) { return Object.values(thing).every(v => v === null || short(v) || typeof v === "number" || typeof v === "boolean"); }
  function date(thing) { return short(thing) && !isNaN(Date.parse(thing)); }
  function flat(thing) { return isMap(thing) && plain(thing); }
  var PARTS = {
    cautions: date, ready: date,
    steps: s => flat(s) && (s.state === undefined || Object.prototype.hasOwnProperty.call(STATES, s.state)),
    readings: r => flat(r) && short(r.name) && ["in", "out", ""].indexOf(r.verdict) >= 0 && (short(r.value) || typeof r.value === "number"),
    worksheets: w => isMap(w) && short(w.title) && flat(w.inputs) && flat(w.shown)
  };

  function words(list) { return list === undefined || (Array.isArray(list) && list.every(short)); }
  function round(r) {
    return isMap(r) && Array.isArray(r.readings) && r.readings.every(flat) && (r.turned === undefined || r.turned === null || short(r.turned) || (Array.isArray(r.turned) && r.turned.every(flat)))
      && words(r.loose) && words(r.stay) && words([r.at || "", r.said || ""]);
  }

  /* The job in a file's text. Throws words for what is not one. */
  function readFile(text) {
    if (text.length > 2000000) throw new Error("This file is too large for a record of a job.");
    var job;
    try { job = JSON.parse(text); } catch (fault) { throw new Error("This file is not a record of a job: it is not JSON, or it is damaged."); }
    if (!isMap(job) || job.record !== 1) throw new Error("This file is not a record of a job from this kind of book.");
    ["procedure", "job", "started", "title"].forEach(key => {
      if (typeof job[key] !== "string" || !job[key] || job[key].length > 300) throw new Error('This record is damaged: "' + key + '" is missing or is not text.');
    });
    if (!/^[a-z0-9-]{1,100}$/.test(job.procedure) || !/^[a-z0-9-]{1,60}$/.test(job.job)) throw new Error("This record is damaged: its names hold signs that no record has.");
    if (!Number.isInteger(job.revision) || job.revision < 1 || isNaN(Date.parse(job.started))) throw new Error("This record is damaged: its revision or its date cannot be read.");
    Object.keys(PARTS).forEach(key => {
      if (job[key] === undefined) job[key] = {};
      if (!isMap(job[key]) || Object.keys(job[key]).some(id => id.length > 120 || !PARTS[key](job[key][id]))) throw new Error('This record is damaged: "' + key + '" cannot be read.');
    });
    if (job.timers === undefined) job.timers = [];
    if (!Array.isArray(job.timers) || !job.timers.every(t => isMap(t) && plain(t) && typeof t.ends === "number" && typeof t.seconds === "number")) throw new Error('This record is damaged: "timers" cannot be read.');
    if (job.levelling === undefined) job.levelling = [];
    if (!Array.isArray(job.levelling) || !job.levelling.every(round)) throw new Error('This record is damaged: "levelling" cannot be read.');
    ["by", "name", "machine", "machine_name", "note"].forEach(key => {
      if (job[key] === undefined || job[key] === null) job[key] = "";
      if (!short(job[key])) throw new Error('This record is damaged: "' + key + '" is not text.');
    });
    if (job.finished !== null && job.finished !== undefined && isNaN(Date.parse(short(job.finished) ? job.finished : ""))) throw new Error('This record is damaged: "finished" is not a date.');
    job.screen = Number.isInteger(job.screen) && job.screen >= 0 ? job.screen : 0;
    job.edit = Number(job.edit) || 0;
    return job;
  }

  function row(body, cells) {
    var tr = body.appendChild(make("tr"));
    cells.forEach((words, n) => { const cell = tr.appendChild(make(n ? "td" : "th", words)); if (!n) cell.scope = "row"; });
  }
  function grid(into, title, heads, rows) {
    if (!rows.length) return;
    into.append(make("h3", title));
    var scroll = make("div", null, "scroll"), table = scroll.appendChild(make("table", null, "grid")), head = table.appendChild(make("thead")).appendChild(make("tr"));
    scroll.tabIndex = 0;
    scroll.setAttribute("role", "group");
    scroll.setAttribute("aria-label", title);
    into.append(scroll);
    heads.forEach(words => { head.appendChild(make("th", words)).scope = "col"; });
    var body = table.appendChild(make("tbody"));
    rows.forEach(cells => { row(body, cells); });
  }

  /* Rounds of levelling: what was read, said and turned. */
  function turnedWords(turned) {
    if (short(turned)) return turned;
    if (!turned) return "as advised";
    return turned.map(m => m.jack + (m.station ? " until " + m.station + " " + m.way + " shows " + (m.shows > 0 ? "+" : "") + fettlebook.written(Number(m.shows) || 0, 1) : " " + fettlebook.written(Number(m.mm) || 0, 3) + " mm")).join(", ") || "nothing";
  }
  function roundsGrid(into, title, rounds) {
    grid(into, title, ["Round", "Readings, long/cross", "Said", "Turned"], rounds.map((r, n) => [
      n + 1 + (r.at ? " \u00b7 " + r.at.replace("T", " ") : ""),
      r.readings.map(x => x.station + ": " + (x.long || "\u2013") + (/\//.test(x.long + x.cross) ? " / " : "/") + (x.cross || "\u2013")).join("; ") + (r.loose && r.loose.length ? "; loose: " + r.loose.join(", ") : ""),
      r.said || "", turnedWords(r.turned)
    ].map(words => words.replace(/(^|\D)-(?=\d)/g, "$1\u2212"))));
  }

  /* The record as a sheet for reading and printing. */
  function sheet(kept) {
    var job = whole(kept);
    var into = make("section", null, "record-sheet");
    into.append(make("h2", "Record: " + job.title));
    var facts = [["Procedure", job.title + ", revision " + job.revision], ["Machine", job.machine_name || job.machine || "not named"], ["Job", job.name || job.job],
      ["By", job.by || "not named"], ["Started", time(job.started)], ["Finished", job.finished ? time(job.finished) : "not finished"]];
    var list = into.appendChild(make("dl", null, "facts"));
    facts.forEach(fact => { var div = list.appendChild(make("div")); div.append(make("dt", fact[0])); div.append(make("dd", fact[1])); });
    grid(into, "Readings", ["Reading", "Found", "Limits", "Verdict"], Object.keys(job.readings).map(id => {
      var r = job.readings[id];
      return [r.name + (r.place ? ", " + r.place : ""), String(r.shown === undefined ? r.value : r.shown), r.limits || "none", { in: "in limits", out: "OUT OF LIMITS" }[r.verdict] || ""];
    }));
    grid(into, "Steps", ["Step", "State", "When", "Note or second name"], Object.keys(job.steps).filter(id => job.steps[id].state).map(id => {
      var s = job.steps[id];
      return [(s.number || id) + " " + (s.words || ""), STATES[s.state] || s.state, time(s.at), [s.second ? "seen by " + s.second : "", s.reason || "", s.note || ""].filter(Boolean).join("; ")];
    }));
    grid(into, "Worksheets", ["Worksheet", "Figure", "Value"], [].concat.apply([], Object.keys(job.worksheets).map(id => {
      var w = job.worksheets[id];
      return Object.keys(w.shown || {}).map(name => [w.title || id, name, String(w.shown[name])]);
    })));
    roundsGrid(into, "Levelling", job.levelling || []);
    if (job.note) { into.append(make("h3", "Note")); into.append(make("p", job.note)); }
    into.append(make("p", "Signed", "sign-here"));
    return into;
  }

  fettlebook.record = { saveFile: saveFile, takeIn: takeIn, roundsGrid: roundsGrid, copyRounds: copyRounds, forget: forget, readFile: readFile, sheet: sheet, time: time, fileName: fileName };
})();
