/* Working through a procedure at the machine: one step at a time, on the page itself, kept on the device at each touch. */
(function () {
  "use strict";
  var block = document.getElementById("job-data");
  if (!block) return;
  var about = JSON.parse(block.textContent), store = fettlebook.store, make = fettlebook.make, button = fettlebook.button, quiet = fettlebook.quiet, all = fettlebook.all, record = fettlebook.record;
  var article = document.querySelector(".md-content__inner"), root = document.documentElement;
  var job = null, screens = [], now = 0, hidden = [], lock = null, sound = null, known = -1, stale = false, unkept = false, spot = null;

  /* ---------- keeping ---------- */
  function key(id) { return "job:" + id; }
  function jobs() {
    return store.keys("job:").map(k => store.get(k)).filter(j => j && j.record === 1);
  }
  function save() {
    if (!job || stale) return;
    var there = store.get(key(job.job));
    if (there && there.edit !== known) return conflict();
    job.edit = known + 1;
    job.saved = stamp();
    unkept = !store.set(key(job.job), job);
    if (!unkept) { known = job.edit; say("keeping", ""); }
    else say("keeping", "This device no longer keeps what you enter: its store is full or refused. Save the file now.", "Save the file", () => { record.saveFile(job); });
  }
  function conflict() {
    stale = true;
    say("keeping", "This job was changed in another window. Nothing here has overwritten it.", "Use the other one", () => { say("keeping", ""); open(store.get(key(job.job)), now); },
      "Keep this one as a copy", () => { var copy = newId(); job = JSON.parse(JSON.stringify(job)); record.copyRounds(job, copy); job.job = copy; job.name = (job.name || "") + " (copy)"; known = -1; stale = false; say("keeping", ""); fettlebook.job = job; save(); show(now); });
  }
  window.addEventListener("storage", event => {
    if (job && event.key === store.prefix + key(job.job) && event.newValue) {
      var there = JSON.parse(event.newValue);
      if (there && there.edit !== known) conflict();
    }
  });
  window.addEventListener("beforeunload", event => { if (job && unkept) event.preventDefault(); });
  function stamp() { return new Date().toISOString(); }
  function newId() { return Date.now().toString(36) + Math.floor(Math.random() * 46656).toString(36); }

  /* ---------- the bars ---------- */
  var bar = make("section", null, "job"), top = make("div", null, "job__top"), timers = make("div", null, "job__timers"), says = make("div", null, "job__says"), feet = make("div", null, "job__feet");
  top.setAttribute("role", "status");
  bar.setAttribute("aria-label", "This job");
  /* What stands above the bar can always be scrolled clear of it, however many lines the bar has. */
  new ResizeObserver(() => { document.body.style.paddingBottom = root.style.scrollPaddingBottom = bar.isConnected ? bar.offsetHeight + 24 + "px" : ""; }).observe(bar);
  [says, timers, feet].forEach(part => { bar.append(part); });

  /* A line that stays until it is answered; one line for each subject. */
  function say(subject, words) {
    var there = says.querySelector('[data-subject="' + subject + '"]');
    if (there) there.remove();
    if (!words) return;
    var line = make("p", words + " ");
    line.dataset.subject = subject;
    line.setAttribute("role", "alert");
    for (var n = 2; n + 1 < arguments.length; n += 2) line.append(quiet(arguments[n], arguments[n + 1]));
    says.append(line);
  }

  function ask(title, fields, answers) {
    var dialog = make("dialog", null, "ask"), form = dialog.appendChild(make("form")), fault = make("p", "", "fault");
    form.method = "dialog";
    form.appendChild(make("h2", title)).id = "ask-title";
    dialog.setAttribute("aria-labelledby", "ask-title");
    fields.forEach(field => { form.append(field); });
    fault.hidden = true;
    fault.setAttribute("role", "alert");
    form.append(fault);
    answers.forEach((answer, n) => {
      form.appendChild(button(answer[0], () => {
        var before = spot, words = answer[1] ? answer[1]() : "";
        if (words) { fault.textContent = words; fault.hidden = false; return; }
        dialog.close();  /* gives the focus back to where it was before, so it is set anew where the answer led on */
        dialog.remove();
        if (spot !== before) focusOn(spot);
      }, n ? "button--quiet" : "")).type = n ? "button" : "submit";
    });
    form.addEventListener("submit", event => { event.preventDefault(); });
    dialog.addEventListener("close", () => { dialog.remove(); });
    document.body.append(dialog);
    dialog.showModal();
    var first = dialog.querySelector("input,select,textarea");
    if (first) first.focus();
    return words => { fault.textContent = words; fault.hidden = false; };
  }
  function field(words, value, kind) {
    var p = make("p", null, "field"), label = p.appendChild(make("label", words)), id = "ask-" + Math.random().toString(36).slice(2);
    label.htmlFor = id;
    var input = p.appendChild(make(kind || "input"));
    input.id = id;
    input.value = value || "";
    input.autocomplete = "off";
    p.input = input;
    return p;
  }

  function entered(field) { return field.input.value.trim(); }

  /* ---------- opening and closing ---------- */
  function begin() {
    var open_ = jobs().filter(j => j.procedure === about.id && !j.finished);
    var who = field("Your name", store.get("who") || ""), name = field("What this job is called (optional)", "");
    var machine = field("Machine", "", "select");
    [["", "not named"]].concat(about.machines).forEach(m => { machine.input.appendChild(make("option", m[1])).value = m[0]; });
    if (about.machines.length === 1) machine.input.value = about.machines[0][0];
    var answers = [["Start", () => {
      if (!entered(who)) return "Write your name: the record says who did the work.";
      store.set("who", entered(who));
      var picked = about.machines.find(m => m[0] === machine.input.value);
      start({ by: entered(who), name: entered(name), machine: machine.input.value, machine_name: picked ? picked[1] : "" });
    }]];
    open_.forEach(j => { answers.push(["Go on with " + (j.name || j.machine_name || "the job") + " of " + record.time(j.started), () => { open(j, j.screen || 0); }]); });
    answers.push(["Not now"]);
    var fields = [who, machine, name], lone = document.querySelector("[data-lone]"), taken = field("Or take in a record from a file", "");
    if (lone) {
      jobs().filter(j => j.procedure === about.id && j.finished).forEach(j => { answers.splice(-1, 0, ["Finished: " + (j.name || j.machine_name || "the job") + " of " + record.time(j.started), () => { open(j, Infinity); }]); });
      fields.push(taken);
    }
    taken.input.type = "file";
    taken.input.accept = ".json,application/json";
    var refuse = ask("Work through: " + about.title, fields, answers);
    taken.input.addEventListener("change", () => {
      record.takeIn(taken.input.files[0]).then(j => {
        if (j.procedure !== about.id) throw new Error('This is a record of "' + j.title + '". It goes on where that procedure is open.');
        document.querySelector("dialog").close();
        open(j, j.screen);
        save();
      }).catch(fault => { refuse(fault.message); });
    });
  }
  function start(given) {
    known = -1;
    open(Object.assign({ record: 1, job: newId(), procedure: about.id, title: about.title, revision: about.revision, started: stamp(), finished: null,
      cautions: {}, ready: {}, steps: {}, readings: {}, worksheets: {}, timers: [], note: "", edit: -1 }, given), 0);
    save();
  }
  function open(found, at) {
    job = found;
    stale = false;
    known = store.get(key(job.job)) ? job.edit : -1;
    if (!screens.length) build();
    document.body.classList.add("working");
    document.body.append(bar);
    article.parentNode.insertBefore(top, article);
    if (job.revision !== about.revision) say("edition", "This job was begun with revision " + job.revision + "; the page is revision " + about.revision + ". Read the changes before you go on.", "Read", () => { say("edition", ""); });
    else say("edition", "");
    fill();
    store.set("at", job.job);
    awake();
    tellJob();
    go(at);
  }
  /* Worksheets and the page's own ticks show what belongs to the job, or, without one, to the page. */
  function tellJob() { fettlebook.job = job; document.dispatchEvent(new CustomEvent("fettlebook:job")); }
  function close() {
    if (unkept) return say("closing", "This job is not kept on this device. Save the file before you close it.", "Save the file", () => { unkept = false; record.saveFile(job); say("closing", ""); }, "Close without it", () => { unkept = false; say("closing", ""); close(); });
    unhide();
    says.textContent = "";
    document.body.classList.remove("working");
    bar.remove();
    top.remove();
    if (lock) { lock.release().catch(() => { /* gone already */ }); lock = null; }
    history.replaceState(null, "", "#top");
    store.remove("at");
    job = spot = null;
    unfill();
    tellJob();
  }

  /* ---------- the screens: parts of the page itself, all else hidden ---------- */
  function build() {
    var add = (kind, node, title) => { if (node) screens.push({ kind: kind, node: node, title: title }); };
    var section = id => { var h = document.getElementById(id); return h && h.closest("section"); };
    add("cautions", section("cautions"), "Cautions");
    add("ready", section("ready"), "Have ready");
    all(".stage").forEach((stage, n) => {
      var title = stage.querySelector("h3").textContent.replace(/\s+/g, " ").trim();
      all(".step", stage).forEach(step => { screens.push({ kind: "step", node: step, title: title, stage: n }); });
    });
    add("afterwards", section("afterwards"), "Afterwards");
    var end = article.appendChild(make("section", null, "job-end"));
    end.appendChild(make("h2", "Finish")).id = "job-finish";
    end.append(make("div", null, "job-end__body"));
    screens.push({ kind: "finish", node: end, title: "Finish" });
    all("#cautions ~ .caution").forEach(box => {
      var label = make("label", null, "tick"), tick = label.appendChild(make("input"));
      tick.type = "checkbox";
      tick.dataset.caution = box.id;
      label.append(make("span", "I have read this"));
      box.querySelector(".caution__words").appendChild(label);
      ticking(tick, "cautions", box.id);
    });
    all("[data-keep]").forEach(box => { ticking(box, "ready", box.dataset.keep); });
    article.addEventListener("click", within);
    all(".step[data-timer]").forEach(step => {
      step.querySelector(".step__timer").appendChild(button("Start the clock", () => { startTimer(step); }, "job-only"));
    });
    all("[data-reading]").forEach(blankToField);
  }
  function ticking(box, part, name) {
    box.addEventListener("change", () => {
      if (!job) return;
      if (box.checked) job[part][name] = stamp(); else delete job[part][name];
      save();
      say("unread", "");
    });
  }
  function hide(node) { if (node && !node.hidden) { node.hidden = true; hidden.push(node); } }
  function unhide() { hidden.forEach(node => { node.hidden = false; }); hidden = []; }
  function only(node) {
    unhide();
    for (var n = node; n && n !== article; n = n.parentNode) {
      [...n.parentNode.children].forEach(other => { if (other !== n && !/^H[1-3]$/.test(other.tagName)) hide(other); else if (other !== n && n === node) hide(other.tagName === "H3" || node.tagName !== "LI" ? null : other); });
    }
  }

  function focusOn(part) {
    spot = part;
    part.tabIndex = -1;
    part.focus({ preventScroll: true });
  }
  function show(n) {
    now = Math.max(0, Math.min(n, screens.length - 1));
    var s = screens[now];
    if (s.kind === "finish") finish(s.node.querySelector(".job-end__body"));
    only(s.node);
    if (job.screen !== now) { job.screen = now; save(); }
    history.replaceState(null, "", "#do=" + job.job + "/" + now);
    head(s);
    foot(s);
    clock();
    window.scrollTo(0, 0);
    var focus = s.kind === "step" ? s.node.querySelector(".step__do") : s.node.querySelector("h2");
    if (focus) focusOn(focus);
  }
  /* Forwards never past cautions that are not ticked or a hold point that nobody has signed or left out with a reason. */
  function go(n) {
    n = Math.max(0, Math.min(n || 0, screens.length - 1));
    for (var at = 0; at < n; at++) {
      var s = screens[at], unread = s.kind === "cautions" ? unticked(s) : [], kept = s.kind === "step" && of(s);
      if (unread.length) {
        if (now !== at || s.node.hidden || !hidden.length) show(at);
        say("unread", unread.length + (unread.length === 1 ? " caution is" : " cautions are") + " not ticked as read.");
        unread[0].closest(".caution").scrollIntoView({ block: "center" });
        return;
      }
      if (kept && s.node.dataset.hold && !kept.second && kept.state !== "left-out") {
        if (now !== at || !hidden.length) show(at);
        return say("held", "Step " + s.node.dataset.number + " is a hold point. A second person looks and signs before anything after it.");
      }
    }
    show(n);
  }
  function unticked(s) {
    return all("[data-caution]", s.node).filter(box => !job.cautions[box.dataset.caution]);
  }
  /* A link to another part of the page shows that part, with the way back to the step. */
  function within(event) {
    var link = job && event.target.closest('a[href^="#"]'), target = link && document.getElementById(link.hash.slice(1));
    if (!target) return;
    event.preventDefault();
    var step = screens.findIndex(s => s.node === target);
    if (step >= 0) return go(step);
    aside(target.closest("section"), target);
  }
  function aside(part, target) {
    only(part);
    feet.textContent = "";
    feet.append(button("\u2190 Back to the step", () => { show(now); }, "job__next"));
    window.scrollTo(0, 0);
    focusOn(target);
  }
  function head(s) {
    var steps = screens.filter(x => x.kind === "step"), at = steps.indexOf(s);
    top.textContent = "";
    top.append(make("strong", s.title));
    top.append(make("span", at < 0 ? "" : "step " + (at + 1) + " of " + steps.length));
    var state = s.kind === "step" && of(s).state;
    if (state) top.append(make("span", { done: "\u2713 done", "not-right": "\u2717 not right", "left-out": "\u2013 left out" }[state], "state"));
    var meter = make("progress");
    meter.max = screens.length - 1;
    meter.value = now;
    meter.setAttribute("aria-label", "How far");
    top.append(meter);
  }
  function foot(s) {
    feet.textContent = "";
    var back = quiet("\u2190 Back", () => { show(now - 1); });
    back.disabled = now === 0;
    feet.append(back);
    if (s.kind === "step") {
      feet.append(quiet("Not right", () => { notRight(s); }));
      feet.append(quiet("Leave out", () => { leaveOut(s); }));
    }
    feet.append(quiet("Stages", stages));
    feet.append(quiet("Close", close));
    if (s.kind !== "finish") feet.append(button(s.kind === "step" ? "Done, next \u2192" : "Next \u2192", next, "job__next"));
  }
  function next() {
    var s = screens[now];
    if (s.kind === "step" && !doneStep(s)) return;
    go(now + 1);
  }

  var BACK = ["Back to the step"];
  /* ---------- a step's state ---------- */
  function of(s) { return job.steps[s.node.id] || {}; }
  function mark(s, state, more) {
    var was = of(s);
    job.steps[s.node.id] = Object.assign(was.state === state ? was : was.note ? { note: was.note } : {}, { state: state, at: stamp(), number: s.node.dataset.number, words: s.node.dataset.words }, more || {});
    save();
  }
  function doneStep(s) {
    var empty = [], out = [];
    all("[data-reading]", s.node).forEach(cell => {
      var r = job.readings[cell.dataset.reading];
      if (!r || r.value === null || r.value === "") empty.push(cell); else if (r.verdict === "out") out.push(cell);
    });
    if (empty.length) {
      say("reading", (empty.length === 1 ? "A reading is" : empty.length + " readings are") + " not written down. Write " + (empty.length === 1 ? "it" : "them") + " down, or leave the step out with a reason.");
      empty[0].querySelector("input,select").focus();
      return false;
    }
    say("reading", "");
    var kept = of(s), unsigned = s.node.dataset.hold && !kept.second;
    if (out.length && !(kept.state === "done" && kept.reason)) {
      var reason = field("Why it may go on like this", "", "textarea");
      ask("A reading is out of its limits", [reason], [["Not right", () => { mark(s, "not-right"); trouble(); }], ["Go on all the same", () => {
        if (!entered(reason)) return "Write down why, for whoever reads the record.";
        if (unsigned) return void setTimeout(() => { hold(s, entered(reason)); });
        mark(s, "done", { reason: entered(reason) });
        go(now + 1);
      }], BACK]);
      return false;
    }
    if (unsigned) return hold(s);
    mark(s, "done");
    return true;
  }
  function letters(name) { return (name || "").toLowerCase().replace(/[^\p{L}\p{N}]/gu, ""); }
  function hold(s, reason) {
    var name = field("Name of the second person", "");
    ask("Hold point: " + s.node.dataset.hold, [name], [["Seen and right", () => {
      var second = entered(name);
      if (!letters(second)) return "A second person writes their name.";
      if (letters(second) === letters(job.by)) return "That is the name of the person doing the work. A second person looks and signs.";
      mark(s, "done", Object.assign({ second: second, seconded: stamp() }, reason ? { reason: reason } : {}));
      say("held", "");
      go(now + 1);
    }], ["Not right", () => { mark(s, "not-right"); trouble(); }], BACK]);
    return false;
  }
  function leaveOut(s) {
    var reason = field("Reason", "", "textarea");
    ask("Leave this step out", [reason], [["Leave it out", () => {
      if (!entered(reason)) return "Write down the reason.";
      mark(s, "left-out", { reason: entered(reason) });
      say("held", "");
      go(now + 1);
    }], BACK]);
  }
  function notRight(s) {
    var note = field("What is not right", of(s).note || "", "textarea");
    ask("Not right", [note], [["Write it down and look for the cause", () => { mark(s, "not-right", { note: entered(note) }); trouble(); }], BACK]);
  }
  function trouble() {
    var part = document.getElementById("trouble");
    if (!part) return show(now);
    aside(part.closest("section"), part);
  }
  function stages() {
    var list = make("ul", null, "plain stages-list");
    screens.forEach((s, n) => {
      if (s.kind === "step" && n && screens[n - 1].stage === s.stage && screens[n - 1].kind === "step") return;
      var steps = screens.filter(x => x.kind === "step" && x.stage === s.stage);
      var did = steps.filter(x => of(x).state).length;
      list.appendChild(make("li")).appendChild(button(s.title + (s.kind === "step" ? " (" + did + " of " + steps.length + ")" : ""), event => { event.target.closest("dialog").close(); go(n); }, "button--quiet"));
    });
    ask("Go to", [list], [["Stay here"], ["The record so far", () => {
      var end = screens[screens.length - 1].node;
      finish(end.querySelector(".job-end__body"));
      aside(end, end.querySelector("h2"));
    }]]);
  }

  /* ---------- readings ---------- */
  function blankToField(cell) {
    var r = JSON.parse(cell.dataset.rules), input, verdict = make("span", "", "verdict");
    if (r.kind === "flag") {
      input = make("select");
      ["", "yes", "no"].forEach(v => { input.appendChild(make("option", v || "\u2026")).value = v; });
    } else {
      input = make("input");
      input.inputMode = r.kind === "number" ? "decimal" : "text";
      input.autocomplete = "off";
    }
    input.setAttribute("aria-label", r.name + (r.place ? ", " + r.place : "") + (r.unit ? " in " + r.unit_written : ""));
    verdict.setAttribute("role", "status");
    cell.textContent = "";
    cell.append(input);
    if (r.unit) cell.append(make("span", " " + r.unit_written, "unit"));
    cell.append(verdict);
    input.addEventListener("input", () => { if (job) { judge(cell, r, input, verdict); save(); } });
  }
  function judge(cell, r, input, verdict) {
    var text = input.value.trim(), id = cell.dataset.reading;
    tell(r, null, input, verdict);
    if (!text) { delete job.readings[id]; return; }
    var found = { name: r.name, place: r.place, unit: r.unit, limits: r.limits, step: cell.closest(".step").id, at: stamp(), verdict: "", value: text, written: text, shown: text, low: r.low, high: r.high };
    if (r.kind === "number") {
      try { found.value = fettlebook.readQuantity(text, r.unit); } catch (fault) {
        verdict.textContent = fault.message;
        verdict.classList.add("verdict--out");
        input.setAttribute("aria-invalid", "true");
        delete job.readings[id];
        return;
      }
      found.shown = fettlebook.written(found.value, r.decimals) + (r.unit ? " " + r.unit_written : "");
      if (r.low !== null || r.high !== null) found.verdict = (r.low !== null && found.value < r.low) || (r.high !== null && found.value > r.high) ? "out" : "in";
    }
    job.readings[id] = found;
    tell(r, found, input, verdict);
  }
  function tell(r, found, input, verdict) {
    input.removeAttribute("aria-invalid");
    verdict.className = "verdict";
    verdict.textContent = "";
    if (!found) return;
    verdict.textContent = found.verdict === "in" ? "\u2713 in limits" : found.verdict === "out" ? "\u2717 OUT OF LIMITS: " + (r.outside || found.limits) : r.kind === "number" && /[a-z"\u2032\u2033,\/]/i.test(found.written) ? "= " + found.shown : "";
    if (found.verdict) verdict.classList.add("verdict--" + found.verdict);
  }

  /* What was entered before, put back where it belongs. */
  function fill() {
    all("[data-caution]").forEach(box => { box.checked = !!job.cautions[box.dataset.caution]; });
    all("[data-keep]").forEach(box => { box.checked = !!job.ready[box.dataset.keep]; });
    all("[data-reading]").forEach(cell => {
      var r = job.readings[cell.dataset.reading], input = cell.querySelector("input,select");
      input.value = r ? r.written : "";
      tell(JSON.parse(cell.dataset.rules), r, input, cell.querySelector(".verdict"));
    });
  }
  function unfill() {
    all("[data-reading]").forEach(cell => { var input = cell.querySelector("input,select"); input.value = ""; tell({}, null, input, cell.querySelector(".verdict")); });
    all("[data-caution],[data-keep]").forEach(box => { box.checked = false; });
  }

  /* ---------- timers: they count from the clock, so they are right after sleep or a closed page ---------- */
  function startTimer(step) {
    wakeSound();
    job.timers.push({ id: newId(), step: step.id, number: step.dataset.number, label: step.dataset.timerFor || step.dataset.words, seconds: Number(step.dataset.timer), ends: Date.now() + Number(step.dataset.timer) * 1000, told: false });
    save();
    clock();
  }
  function wakeSound() {
    try { sound = sound || new (window.AudioContext || window.webkitAudioContext)(); sound.resume(); } catch (fault) { sound = null; }
  }
  function beep() {
    if (!sound || sound.state !== "running") return;
    for (var n = 0; n < 3; n++) {
      var tone = sound.createOscillator(), loud = sound.createGain(), at = sound.currentTime + n * 0.35;
      tone.frequency.value = 880;
      loud.gain.value = 0.4;
      tone.connect(loud).connect(sound.destination);
      tone.start(at);
      tone.stop(at + 0.22);
    }
    if (navigator.vibrate) navigator.vibrate([300, 150, 300]);
  }
  function span(seconds) {
    var s = Math.abs(seconds > 0 ? Math.ceil(seconds) : Math.trunc(seconds)), h = Math.floor(s / 3600), m = Math.floor(s / 60) % 60;
    return (h ? h + ":" + String(m).padStart(2, "0") : m) + ":" + String(s % 60).padStart(2, "0");
  }
  function clock() {
    if (!job) return;
    while (timers.children.length > job.timers.length) timers.lastChild.remove();
    job.timers.forEach((t, n) => {
      var line = timers.children[n], left = (t.ends - Date.now()) / 1000;
      if (!line || line.dataset.id !== t.id) {
        var made = make("p");
        made.dataset.id = t.id;
        made.append(make("strong", "", "timer__left"));
        made.appendChild(make("span")).setAttribute("role", "status");
        var sure = false, stop = made.appendChild(button("Stop", () => {
          if (!sure && t.ends > Date.now()) { sure = true; stop.textContent = "Touch again to stop"; return; }
          job.timers = job.timers.filter(x => x.id !== t.id); save(); clock();
        }, "button--quiet"));
        if (line) timers.replaceChild(made, line); else timers.append(made);
        line = made;
      }
      line.className = left <= 0 ? "timer timer--over" : "timer";
      line.firstChild.textContent = span(left) + (left > 0 ? " left" : " ago");
      var words = (left > 0 ? "" : "TIME IS UP: ") + t.number + " " + t.label;
      if (line.children[1].textContent !== words) line.children[1].textContent = words;
      if (left > 0 || (t.told && (left < -120 || Date.now() - (beeped[t.id] || 0) < 10000))) return;
      beeped[t.id] = Date.now();
      beep();
      if (!t.told) { t.told = true; save(); }
    });
  }
  var beeped = {};
  setInterval(clock, 500);
  document.addEventListener("visibilitychange", () => { if (!document.hidden && job) { clock(); awake(); } });

  function awake() {
    if (!navigator.wakeLock) return say("awake", location.protocol === "http:" ? "This tablet may go dark here: a plain http address does not let a page keep the screen on. The folder on the tablet, or an https address, does." : "");
    navigator.wakeLock.request("screen").then(got => { lock = got; }, () => { /* low battery or hidden: asked again when it is seen */ });
  }

  /* ---------- the end ---------- */
  function finish(into) {
    into.textContent = "";
    var steps = screens.filter(s => s.kind === "step");
    var open_ = steps.filter(s => !of(s).state), wrong = steps.filter(s => of(s).state === "not-right");
    var out = Object.keys(job.readings).filter(id => job.readings[id].verdict === "out");
    into.append(make("p", open_.length ? open_.length + " of " + steps.length + " steps are still open." : "Every step is marked."));
    if (wrong.length) into.append(make("p", wrong.length + " marked not right: " + wrong.map(s => s.node.dataset.number).join(", ") + ".", "flag"));
    if (out.length) into.append(make("p", out.length + " readings out of limits.", "flag"));
    var note = field("Note for whoever comes next", job.note, "textarea");
    note.input.addEventListener("input", () => { job.note = note.input.value; save(); });
    into.append(note);
    into.append(button(job.finished ? "Open it again" : "Mark the job finished", () => { job.finished = job.finished ? null : stamp(); save(); finish(into); into.querySelector("button").focus(); }));
    into.append(button("Save the record as a file", () => { record.saveFile(job); }));
    into.append(button("Print the record", () => { window.print(); }));
    into.append(make("p", "The file goes into procedures/shop/records/ and is then part of the machine's page. It also opens on another tablet, from the list of jobs.", "note"));
    into.append(record.sheet(job));
  }

  /* ---------- keys, swipes, addresses: a swipe looks through and marks nothing, since a sleeve swipes too ---------- */
  document.addEventListener("keydown", event => {
    if (!job || document.querySelector("dialog[open]") || event.target.matches("textarea,select,input:not([type=checkbox])")) return;
    if (event.key === "ArrowRight" || event.key === "PageDown") go(now + 1);
    else if (event.key === "ArrowLeft" || event.key === "PageUp") show(now - 1);
    else return;
    event.preventDefault();
  });
  var from = null;
  document.addEventListener("touchstart", event => { from = job && event.touches.length === 1 && !event.target.closest(".scroll,input,textarea,select,.job,dialog") ? event.touches[0] : null; }, { passive: true });
  document.addEventListener("touchend", event => {
    if (!from || !job) return;
    var to = event.changedTouches[0], dx = to.clientX - from.clientX, dy = to.clientY - from.clientY;
    from = null;
    if (Math.abs(dx) > 90 && Math.abs(dy) < 60) { if (dx < 0) go(now + 1); else show(now - 1); }
  }, { passive: true });

  function fromAddress() {
    var at = /^#do=([a-z0-9-]+)\/(\d+)$/.exec(location.hash);
    if (!at) return;
    var found = store.get(key(at[1]));
    if (found && found.procedure === about.id && (!job || job.job !== found.job || now !== Number(at[2]))) open(found, Number(at[2]));
  }
  window.addEventListener("hashchange", fromAddress);
  all('[data-does="work"]').forEach(b => { b.addEventListener("click", begin); });
  fettlebook.keepJob = save;
  fromAddress();
})();
