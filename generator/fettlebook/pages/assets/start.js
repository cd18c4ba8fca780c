/* Before anything is drawn: scripts run, which site this is, and how the reader likes it. */
(function () {
  "use strict";
  var root = document.documentElement, own = document.currentScript.dataset;
  root.classList.remove("no-js");
  root.dataset.site = own.site;
  root.dataset.root = own.root;
  function kept(key) {
    try { return JSON.parse(localStorage.getItem("fettlebook:" + own.site + ":" + key)); } catch (fault) { return null; }
  }
  root.dataset.units = kept("units") === "inch" ? "inch" : "metric";
  root.dataset.light = kept("light") || "device";
})();
