/* The list of jobs on this device: go on, save, print, take in a file, throw away on purpose. */
(function () {
  "use strict";
  var list = document.getElementById("jobs");
  if (!list) return;
  var store = fettlebook.store, record = fettlebook.record, make = fettlebook.make, button = fettlebook.quiet, said = document.getElementById("jobs-said"), sheet = document.getElementById("jobs-sheet");
  var known = JSON.parse(document.getElementById("jobs-known").textContent);

  function inBook(job) { return Object.prototype.hasOwnProperty.call(known, job.procedure) ? known[job.procedure] : null; }
  function say(words) { said.textContent = words; said.hidden = !words; }

  function show() {
    list.textContent = "";
    var jobs = store.keys("job:").map(k => store.get(k)).filter(j => j && j.record === 1);
    jobs.sort((a, b) => (b.saved || b.started) < (a.saved || a.started) ? -1 : 1);
    if (!jobs.length) list.append(make("li", "No job is kept on this device."));
    jobs.forEach(job => {
      var li = list.appendChild(make("li", null, "job-line")), there = inBook(job);
      li.append(make("strong", job.title));
      var marks = Object.keys(job.steps).filter(id => job.steps[id].state).length;
      li.append(make("p", [job.name, job.machine_name || job.machine, "by " + (job.by || "nobody named"), "begun " + record.time(job.started), job.finished ? "finished " + record.time(job.finished) : marks + (marks === 1 ? " step marked" : " steps marked")].filter(Boolean).join(", "), "note"));
      if (there && there.revision !== job.revision) li.append(make("p", "Begun with revision " + job.revision + "; the book now has revision " + there.revision + ".", "flag"));
      if (there) li.append(button("Go on", () => { location.href = "procedures/" + job.procedure + ".html#do=" + job.job + "/" + (job.screen || 0); }));
      else li.append(make("p", "This book has no such procedure; the record can be read and saved.", "flag"));
      li.append(button("Read", () => { sheet.textContent = ""; sheet.append(record.sheet(job)); sheet.scrollIntoView(); sheet.focus({ preventScroll: true }); }));
      li.append(button("Save as a file", () => { record.saveFile(job); }));
      var sure = false, away = button("Throw away", () => {
        if (!sure) { sure = true; away.textContent = "Touch again to throw it away for good"; return; }
        record.forget(job);
        show();
      });
      li.append(away);
    });
  }

  document.getElementById("jobs-file").addEventListener("change", event => {
    var file = event.target.files[0];
    event.target.value = "";
    if (!file) return;
    record.takeIn(file).then(job => {
      if (!store.set("job:" + job.job, job)) throw new Error("This device does not keep it: its store is full or refused.");
      say("Taken in: " + job.title + (inBook(job) && inBook(job).revision !== job.revision ? " (made with revision " + job.revision + "; the book has revision " + inBook(job).revision + ")." : "."));
      show();
    }).catch(fault => { say(fault.message); });
  });
  window.addEventListener("storage", show);
  show();
})();
