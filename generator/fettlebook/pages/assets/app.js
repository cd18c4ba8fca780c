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
    var ticked = [];
    each("[data-keep]", function (box) { if (box.checked) ticked.push(box.dataset.keep); });
    store.set(ticksKey(), ticked);
  }

  each("[data-keep]", function (box) {
    box.checked = (store.get(ticksKey()) || []).indexOf(box.dataset.keep) >= 0;
    box.addEventListener("change", keepTicks);
  });

  document.addEventListener("fettlebook:notkept", function () {
    if (document.getElementById("notkept")) return;
    var bar = document.createElement("p");
    bar.id = "notkept"; bar.className = "notkept"; bar.setAttribute("role", "alert");
    bar.textContent = "This device does not keep what you enter here. Print the sheet, or write it down.";
    document.body.insertBefore(bar, document.body.firstChild);
  });
  show();
})();
