/* A job's record: saving it as a file, reading one back, and showing it as a sheet. */
(function () {
  "use strict";
  var STATES = { done: "done", "not-right": "not right", "left-out": "left out" };

  function make(tag, words, kind) {
    var made = document.createElement(tag);
    if (words !== undefined && words !== null) made.textContent = words;
    if (kind) made.className = kind;
    return made;
  }

  function button(words, act, kind) {
    var made = make("button", words, "button " + (kind || ""));
    made.type = "button";
    made.addEventListener("click", act);
    return made;
  }

  function time(iso) {
    if (!iso) return "";
    var at = new Date(iso);
    return isNaN(at) ? String(iso) : at.toLocaleString([], { year: "numeric", month: "short", day: "numeric", hour: "2-digit", minute: "2-digit" });
  }

  function fileName(job) {
    var day = (job.started || "").slice(0, 10), safe = (job.procedure + (job.machine ? "-" + job.machine : "")).replace(/[^a-z0-9-]/gi, "");
    return day + "-" + safe + "-" + job.job.replace(/[^a-z0-9]/gi, "") + ".json";
  }

  function saveFile(job) {
    var link = make("a");
    link.href = URL.createObjectURL(new Blob([JSON.stringify(job, null, 1) + "\n"], { type: "application/json" }));
    link.download = fileName(job);
    document.body.appendChild(link);
    link.click();
    link.remove();
    setTimeout(function () { URL.revokeObjectURL(link.href); }, 60000);
  }

  function isMap(thing) { return thing !== null && typeof thing === "object" && !Array.isArray(thing); }

  function short(thing) { return typeof thing === "string" && thing.length <= 5000; }
  function plain(thing) { return Object.values(thing).every(function (v) { return v === null || short(v) || typeof v === "number" || typeof v === "boolean"; }); }
  function date(thing) { return short(thing) && !isNaN(Date.parse(thing)); }
  function flat(thing) { return isMap(thing) && plain(thing); }
  var PARTS = {
    cautions: date, ready: date,
    steps: function (s) { return flat(s) && (s.state === undefined || Object.hasOwn(STATES, s.state)); },
    readings: function (r) { return flat(r) && short(r.name) && ["in", "out", ""].indexOf(r.verdict) >= 0 && (short(r.value) || typeof r.value === "number"); },
    worksheets: function (w) { return isMap(w) && short(w.title) && flat(w.inputs) && flat(w.shown); }
  };

  /* The job in a file's text. Throws words for what is not one. */
  function readFile(text) {
    if (text.length > 2000000) throw new Error("This file is too large for a record of a job.");
    var job;
    try { job = JSON.parse(text); } catch (fault) { throw new Error("This file is not a record of a job: it is not JSON, or it is damaged."); }
    if (!isMap(job) || job.record !== 1) throw new Error("This file is not a record of a job from this kind of book.");
    ["procedure", "job", "started", "title"].forEach(function (key) {
      if (typeof job[key] !== "string" || !job[key] || job[key].length > 300) throw new Error('This record is damaged: "' + key + '" is missing or is not text.');
    });
    if (!/^[a-z0-9-]{1,100}$/.test(job.procedure) || !/^[a-z0-9-]{1,60}$/.test(job.job)) throw new Error("This record is damaged: its names hold signs that no record has.");
    if (!Number.isInteger(job.revision) || job.revision < 1 || isNaN(Date.parse(job.started))) throw new Error("This record is damaged: its revision or its date cannot be read.");
    Object.keys(PARTS).forEach(function (key) {
      if (job[key] === undefined) job[key] = {};
      if (!isMap(job[key]) || Object.keys(job[key]).some(function (id) { return id.length > 120 || !PARTS[key](job[key][id]); })) throw new Error('This record is damaged: "' + key + '" cannot be read.');
    });
    if (job.timers === undefined) job.timers = [];
    if (!Array.isArray(job.timers) || !job.timers.every(function (t) { return isMap(t) && plain(t) && typeof t.ends === "number" && typeof t.seconds === "number"; })) throw new Error('This record is damaged: "timers" cannot be read.');
    ["by", "name", "machine", "machine_name", "note"].forEach(function (key) {
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
    cells.forEach(function (words, n) { tr.appendChild(make(n ? "td" : "th", words)); });
  }
  function grid(into, title, heads, rows) {
    if (!rows.length) return;
    into.appendChild(make("h3", title));
    var table = into.appendChild(make("table", null, "grid")), head = table.appendChild(make("thead")).appendChild(make("tr"));
    heads.forEach(function (words) { head.appendChild(make("th", words)); });
    var body = table.appendChild(make("tbody"));
    rows.forEach(function (cells) { row(body, cells); });
  }

  /* The record as a sheet for reading and printing. */
  function sheet(job) {
    var into = make("section", null, "record-sheet");
    into.appendChild(make("h2", "Record: " + job.title));
    var facts = [["Procedure", job.title + ", revision " + job.revision], ["Machine", job.machine_name || job.machine || "not named"], ["Job", job.name || job.job],
      ["By", job.by || "not named"], ["Started", time(job.started)], ["Finished", job.finished ? time(job.finished) : "not finished"]];
    var list = into.appendChild(make("dl", null, "facts"));
    facts.forEach(function (fact) { var div = list.appendChild(make("div")); div.appendChild(make("dt", fact[0])); div.appendChild(make("dd", fact[1])); });
    grid(into, "Readings", ["Reading", "Found", "Limits", "Verdict"], Object.keys(job.readings).map(function (id) {
      var r = job.readings[id];
      return [r.name + (r.place ? ", " + r.place : ""), String(r.shown === undefined ? r.value : r.shown), r.limits || "none", { in: "in limits", out: "OUT OF LIMITS" }[r.verdict] || ""];
    }));
    grid(into, "Steps", ["Step", "State", "When", "Note or second name"], Object.keys(job.steps).filter(function (id) { return job.steps[id].state; }).map(function (id) {
      var s = job.steps[id];
      return [(s.number || id) + " " + (s.words || ""), STATES[s.state] || s.state, time(s.at), [s.second ? "seen by " + s.second : "", s.reason || "", s.note || ""].filter(Boolean).join("; ")];
    }));
    grid(into, "Worksheets", ["Worksheet", "Figure", "Value"], [].concat.apply([], Object.keys(job.worksheets).map(function (id) {
      var w = job.worksheets[id];
      return Object.keys(w.shown || {}).map(function (name) { return [w.title || id, name, String(w.shown[name])]; });
    })));
    if (job.note) { into.appendChild(make("h3", "Note")); into.appendChild(make("p", job.note)); }
    into.appendChild(make("p", "Signed", "sign-here"));
    return into;
  }

  fettlebook.record = { saveFile: saveFile, readFile: readFile, sheet: sheet, make: make, button: button, time: time, fileName: fileName };
})();
