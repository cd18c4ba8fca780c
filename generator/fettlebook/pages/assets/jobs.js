/* The list of jobs on this device: go on, save, print, take in a file, throw away on purpose. */
(function () {
  "use strict";
  var list = document.getElementById("jobs");
  if (!list) return;
  var store = fettlebook.store, record = fettlebook.record, make = record.make, said = document.getElementById("jobs-said"), sheet = document.getElementById("jobs-sheet");
  var known = JSON.parse(document.getElementById("jobs-known").textContent);

  function button(words, act) { return record.button(words, act, "button--quiet"); }
  function inBook(job) { return Object.hasOwn(known, job.procedure) ? known[job.procedure] : null; }
  function say(words) { said.textContent = words; said.hidden = !words; }

  function show() {
    list.textContent = "";
    var jobs = store.keys("job:").map(function (k) { return store.get(k); }).filter(function (j) { return j && j.record === 1; });
    jobs.sort(function (a, b) { return (b.saved || b.started) < (a.saved || a.started) ? -1 : 1; });
    if (!jobs.length) list.appendChild(make("li", "No job is kept on this device."));
    jobs.forEach(function (job) {
      var li = list.appendChild(make("li", null, "job-line")), there = inBook(job);
      li.appendChild(make("strong", job.title));
      var marks = Object.keys(job.steps).filter(function (id) { return job.steps[id].state; }).length;
      li.appendChild(make("p", [job.name, job.machine_name || job.machine, "by " + (job.by || "nobody named"), "begun " + record.time(job.started), job.finished ? "finished " + record.time(job.finished) : marks + " steps marked"].filter(Boolean).join(", "), "note"));
      if (there && there.revision !== job.revision) li.appendChild(make("p", "Begun with revision " + job.revision + "; the book now has revision " + there.revision + ".", "flag"));
      if (there) li.appendChild(button("Go on", function () { location.href = "procedures/" + job.procedure + ".html#do=" + job.job + "/" + (job.screen || 0); }));
      else li.appendChild(make("p", "This book has no such procedure; the record can be read and saved.", "flag"));
      li.appendChild(button("Read", function () { sheet.textContent = ""; sheet.appendChild(record.sheet(job)); sheet.scrollIntoView(); }));
      li.appendChild(button("Save as a file", function () { record.saveFile(job); }));
      var sure = false, away = button("Throw away", function () {
        if (!sure) { sure = true; away.textContent = "Touch again to throw it away for good"; return; }
        store.remove("job:" + job.job);
        show();
      });
      li.appendChild(away);
    });
  }

  document.getElementById("jobs-file").addEventListener("change", function (event) {
    var file = event.target.files[0];
    event.target.value = "";
    if (!file) return;
    file.text().then(function (text) {
      var job = record.readFile(text), there = store.get("job:" + job.job);
      if (there && there.edit > job.edit) throw new Error("This device holds a later state of the same job. Save that one as a file first, or throw it away, if you want the one in this file.");
      if (!store.set("job:" + job.job, job)) throw new Error("This device does not keep it: its store is full or refused.");
      say("Taken in: " + job.title + (inBook(job) && inBook(job).revision !== job.revision ? " (made with revision " + job.revision + "; the book has revision " + inBook(job).revision + ")." : "."));
      show();
    }).catch(function (fault) { say(fault.message); });
  });
  window.addEventListener("storage", show);
  show();
})();
