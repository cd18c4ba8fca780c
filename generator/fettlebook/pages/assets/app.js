/* Units and light at a touch; ticks that stay on the device. */
(function () {
  "use strict";
  var root = document.documentElement, store = fettlebook.store;
  var LIGHTS = { device: ["dark", "as the device"], dark: ["light", "dark"], light: ["contrast", "light"], contrast: ["device", "high contrast"] };
  var SIGNS = { device: "\u25d0", dark: "\u25cf", light: "\u25cb", contrast: "\u25a0" };

  function show() {
    var inch = root.dataset.units === "inch", light = root.dataset.light;
    each('[data-does="units"]', button => {
      button.textContent = inch ? "inch" : "mm";
      button.setAttribute("aria-label", inch ? "Units shown: inch. Change to metric" : "Units shown: metric. Change to inch");
    });
    each('[data-does="light"]', button => {
      button.textContent = SIGNS[light];
      button.setAttribute("aria-label", "Light: " + LIGHTS[light][1] + ". Change to " + LIGHTS[LIGHTS[light][0]][1]);
      button.title = "Light: " + LIGHTS[light][1];
    });
  }

  function each(selector, act) { fettlebook.all(selector).forEach(act); }

  document.addEventListener("click", event => {
    var button = event.target.closest("[data-does]");
    if (!button) return;
    if (button.dataset.does === "units") {
      root.dataset.units = root.dataset.units === "inch" ? "metric" : "inch";
      store.set("units", root.dataset.units);
      document.dispatchEvent(new CustomEvent("fettlebook:units"));
    } else if (button.dataset.does === "light") {
      root.dataset.light = LIGHTS[root.dataset.light][0];
      store.set("light", root.dataset.light);
    } else if (button.dataset.does === "untick") {
      each("[data-keep]", box => { box.checked = false; });
      store.remove(ticksKey());
    }
    show();
  });

  function ticksKey() { return "ticks:" + location.pathname.split("/").pop(); }

  function keepTicks() {
    if (fettlebook.job) return;
    var ticked = [];
    each("[data-keep]", box => { if (box.checked) ticked.push(box.dataset.keep); });
    store.set(ticksKey(), ticked);
  }

  function showTicks() {
    var ticked = store.get(ticksKey()) || [];
    if (!fettlebook.job) each("[data-keep]", box => { box.checked = ticked.indexOf(box.dataset.keep) >= 0; });
  }
  each("[data-keep]", box => { box.addEventListener("change", keepTicks); });
  document.addEventListener("fettlebook:job", showTicks);
  window.addEventListener("storage", event => { if (event.key === store.prefix + ticksKey()) showTicks(); });
  showTicks();

  document.addEventListener("fettlebook:notkept", () => {
    if (document.getElementById("notkept")) return;
    var bar = fettlebook.make("p", "This device does not keep what you enter here. Print the sheet, or write it down.", "notkept");
    bar.id = "notkept"; bar.setAttribute("role", "alert");
    document.body.insertBefore(bar, document.body.firstChild);
  });
  show();

  /* Keeping the book on the device: only https and this machine itself allow it; a folder needs nothing more. */
  var keeping = document.getElementById("keeping"), worker = navigator.serviceWorker;
  function tell(words) { if (keeping) keeping.textContent = words; }
  function offer(coming) {
    if (document.getElementById("edition")) return;
    var bar = fettlebook.make("p", "A new edition of the book is on this device. ", "notkept");
    bar.id = "edition"; bar.setAttribute("role", "status");
    bar.append(fettlebook.button("Use it now", () => { coming.postMessage("use the new edition"); }));
    document.body.insertBefore(bar, document.body.firstChild);
  }
  var KEPT = "The book is kept on this device and opens without a network. ";
  function sheets(message) {
    var said = message.data;
    if (!keeping || !said.sheets) return;
    if (said.sheets === "kept") return tell(KEPT + "So are its printed sheets and single files.");
    if (said.sheets === "coming") return tell(KEPT + "Printed sheets: " + said.n + " of " + said.of + " taken in.");
    tell(KEPT + (said.sheets === "failed" ? "The printed sheets could not all be kept: " + said.why + ". " : "Printed sheets and single files stay here once they have been opened. "));
    keeping.append(fettlebook.quiet("Keep all printed sheets too" + (said.mb ? " (" + said.mb + " MB)" : ""), () => { worker.controller.postMessage("keep the sheets"); }));
  }
  if (location.protocol === "file:") tell("This book lies in a folder on this device and needs no network.");
  else if (!worker) tell("This address does not let the book stay on the device or keep the screen on: it is plain http. Ways out: copy the book's folder to the device, save a procedure as one file, or use an https address.");
  else {
    var link = fettlebook.make("link");
    link.rel = "manifest";
    link.href = root.dataset.root + "/manifest.webmanifest";
    document.head.append(link);
    var had = worker.controller;
    worker.addEventListener("message", sheets);
    worker.addEventListener("controllerchange", () => { if (had) location.reload(); });
    worker.register(root.dataset.root + "/sw.js").then(registration => {
      if (registration.waiting && had) offer(registration.waiting);
      registration.addEventListener("updatefound", () => {
        var coming = registration.installing;
        coming.addEventListener("statechange", () => { if (coming.state === "installed" && worker.controller) offer(coming); });
      });
      return worker.ready;
    }).then(registration => { tell(KEPT); registration.active.postMessage("how are the sheets"); }, () => { tell("The book could not be kept on this device; it needs the network here."); });
  }
})();
