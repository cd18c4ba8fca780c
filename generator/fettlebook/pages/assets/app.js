/* Units and light at a touch; ticks that stay on the device. */
(function () {
  "use strict";
  var root = document.documentElement, store = fettlebook.store;
  var LIGHTS = { device: ["dark", "as the device"], dark: ["light", "dark"], light: ["contrast", "light"], contrast: ["device", "high contrast"] };
  var SIGNS = { device: "\u25d0", dark: "\u25cf", light: "\u25cb", contrast: "\u25a0" };

  function show() {
    var inch = root.dataset.units === "inch", light = root.dataset.light;
    each('[data-does="units"]', function (button) {
      button.textContent = inch ? "inch" : "mm";
      button.setAttribute("aria-label", inch ? "Units shown: inch. Change to metric" : "Units shown: metric. Change to inch");
    });
    each('[data-does="light"]', function (button) {
      button.textContent = SIGNS[light];
      button.setAttribute("aria-label", "Light: " + LIGHTS[light][1] + ". Change to " + LIGHTS[LIGHTS[light][0]][1]);
      button.title = "Light: " + LIGHTS[light][1];
    });
  }

  function each(selector, act) { Array.prototype.forEach.call(document.querySelectorAll(selector), act); }

  document.addEventListener("click", function (event) {
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
      each("[data-keep]", function (box) { box.checked = false; });
      store.remove(ticksKey());
    }
    show();
  });

  function ticksKey() { return "ticks:" + location.pathname.split("/").pop(); }

  function keepTicks() {
    if (fettlebook.job) return;
    var ticked = [];
    each("[data-keep]", function (box) { if (box.checked) ticked.push(box.dataset.keep); });
    store.set(ticksKey(), ticked);
  }

  function showTicks() {
    var ticked = store.get(ticksKey()) || [];
    if (!fettlebook.job) each("[data-keep]", function (box) { box.checked = ticked.indexOf(box.dataset.keep) >= 0; });
  }
  each("[data-keep]", function (box) { box.addEventListener("change", keepTicks); });
  document.addEventListener("fettlebook:job", showTicks);
  showTicks();

  document.addEventListener("fettlebook:notkept", function () {
    if (document.getElementById("notkept")) return;
    var bar = document.createElement("p");
    bar.id = "notkept"; bar.className = "notkept"; bar.setAttribute("role", "alert");
    bar.textContent = "This device does not keep what you enter here. Print the sheet, or write it down.";
    document.body.insertBefore(bar, document.body.firstChild);
  });
  show();

  /* Keeping the book on the device: only https and this machine itself allow it; a folder needs nothing more. */
  var keeping = document.getElementById("keeping");
  function tell(words) { if (keeping) keeping.textContent = words; }
  function offer(worker) {
    if (document.getElementById("edition")) return;
    var bar = document.createElement("p"), button = document.createElement("button");
    bar.id = "edition"; bar.className = "notkept"; bar.setAttribute("role", "status");
    bar.textContent = "A new edition of the book is on this device. ";
    button.type = "button"; button.className = "button"; button.textContent = "Use it now";
    button.addEventListener("click", function () { worker.postMessage("use the new edition"); });
    bar.appendChild(button);
    document.body.insertBefore(bar, document.body.firstChild);
  }
  if (location.protocol === "file:") tell("This book lies in a folder on this device and needs no network.");
  else if (!("serviceWorker" in navigator)) tell("This address does not let the book stay on the device or keep the screen on: it is plain http. Ways out: copy the book's folder to the device, save a procedure as one file, or use an https address.");
  else {
    var link = document.createElement("link");
    link.rel = "manifest";
    link.href = root.dataset.root + "/manifest.webmanifest";
    document.head.appendChild(link);
    var had = navigator.serviceWorker.controller;
    navigator.serviceWorker.addEventListener("controllerchange", function () { if (had) location.reload(); });
    navigator.serviceWorker.register(root.dataset.root + "/sw.js").then(function (registration) {
      if (registration.waiting && had) offer(registration.waiting);
      registration.addEventListener("updatefound", function () {
        var coming = registration.installing;
        coming.addEventListener("statechange", function () { if (coming.state === "installed" && navigator.serviceWorker.controller) offer(coming); });
      });
      return navigator.serviceWorker.ready;
    }).then(function () { tell("The whole book is kept on this device and opens without a network."); }, function () { tell("The book could not be kept on this device; it needs the network here."); });
  }
})();
