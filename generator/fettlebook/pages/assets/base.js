/* What every script of the book stands on: the shop's store on the device, reading and writing figures, tables. */
(function () {
  "use strict";
  var site = document.documentElement.dataset.site || "fettlebook";
  var UNITS = window.fettlebookUnits || {};
  var tables = {};

  function Refused(parameter, what, hint) {
    this.parameter = parameter;
    this.what = what;
    this.hint = hint || "";
    this.message = parameter + ": " + what + (hint ? "; " + hint : "");
  }

  /* Ties away from zero on the exact binary value, like the Python side: toFixed does just that below 1e21. */
  function written(value, decimals) {
    if (Math.abs(value) >= 1e21) return String(value);
    var text = value.toFixed(decimals);
    return /[1-9]/.test(text) ? text : text.replace("-", "");
  }

  function significant(value, digits) {
    if (value === 0) return "0";
    var power = Number(value.toExponential().split("e")[1]);
    return written(value, Math.max(0, digits - 1 - power));
  }

  function unitNamed(text) {
    text = text.trim().replace(/\s+/g, " ");
    if (UNITS.units[text]) return text;
    var folded = text.toLowerCase();
    if (UNITS.spellings[folded]) return UNITS.spellings[folded];
    var same = Object.keys(UNITS.units).filter(key => key.toLowerCase() === folded);
    if (same.length === 1) return same[0];
    throw new Error('"' + text + '" is not a unit known here');
  }

  function convert(value, from, to) {
    var a = UNITS.units[from], b = UNITS.units[to];
    /* An angle where a slope is wanted is taken by its tangent: levels are engraved either way. */
    if (a[0] === "angle" && b[0] === "slope" && Math.abs(value * a[1]) < 90) return 1000 * Math.tan(value * a[1] * Math.PI / 180) / b[1];
    if (a[0] !== b[0]) throw new Error(from + " measures " + a[0] + ", " + to + " measures " + b[0]);
    return (value * a[1] + a[2] - b[2]) / b[1];
  }

  var VULGAR = /[\u00bc-\u00be\u2150-\u215e\u2189]/g;

  /* The number that a text starts with, and the unit written after it. Same rules as tables/quantities.py. */
  function leading(text, like) {
    var shown = text.trim();
    var plain = shown.replace(VULGAR, (sign, at) => {
      var form = sign.normalize("NFKC").replace("\u2044", "/");
      return (at > 0 && /\d/.test(shown[at - 1]) ? " " : "") + form;
    }).replace(/\u2044/g, "/").replace(/\u2212/g, "-").replace(/\u00a0/g, " ");
    if (!plain) throw new Error("nothing is written here; write a number");
    if (/^[-+]?\d{1,3}(,\d{3})+(?!\d)/.test(plain) && !/^[-+]?0,/.test(plain))
      throw new Error('"' + shown + '" could be a thousand or a decimal comma; write it with a point or without a comma');
    plain = plain.replace(/(\d),(?=\d)/, "$1.");
    var mixed = /^([-+]?)(?:(\d+)(?:\s+|-))?(\d+)\s*\/\s*(\d+)/.exec(plain);
    if (mixed) {
      if (Number(mixed[4]) === 0) throw new Error('"' + shown + '" divides by zero');
      var value = Number(mixed[2] || 0) + Number(mixed[3]) / Number(mixed[4]);
      return [mixed[1] === "-" ? -value : value, plain.slice(mixed[0].length).trim()];
    }
    var number = /^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?/.exec(plain);
    if (!number) throw new Error('"' + shown + '" does not start with a number; write one like ' + ("12.7 " + like).trim());
    var rest = plain.slice(number[0].length).trim();
    if (/^[,/\d]/.test(rest)) throw new Error('"' + shown + '" is not one number; write one figure and its unit, like ' + ("12.7 " + like).trim());
    return [Number(number[0]), rest];
  }

  function readQuantity(text, unit) {
    var found = leading(String(text), (UNITS.units[unit] || [0, 0, 0, unit])[3]);
    if (!isFinite(found[0])) throw new Error('"' + text + '" is not a finite number');
    if (!found[1]) return found[0];
    if (!unit) throw new Error('"' + String(text).trim() + '" has a unit where a plain number is wanted; leave out "' + found[1] + '"');
    if (found[1] === unit) return found[0];
    return convert(found[0], unitNamed(found[1]), unitNamed(unit));
  }

  /* One store for all pages opened from files: keys carry the site's name. Says so when the device refuses. */
  var store = {
    prefix: "fettlebook:" + site + ":",
    get: key => {
      try { return JSON.parse(localStorage.getItem(store.prefix + key)); } catch (fault) { return null; }
    },
    set: (key, value) => {
      try { localStorage.setItem(store.prefix + key, JSON.stringify(value)); return true; }
      catch (fault) { document.dispatchEvent(new CustomEvent("fettlebook:notkept", { detail: fault })); return false; }
    },
    remove: key => { try { localStorage.removeItem(store.prefix + key); } catch (fault) { /* nothing was kept */ } },
    keys: start => {
      var found = [];
      try {
        for (var n = 0; n < localStorage.length; n++) {
          var key = localStorage.key(n);
          if (key.indexOf(store.prefix + (start || "")) === 0) found.push(key.slice(store.prefix.length));
        }
      } catch (fault) { /* refused: nothing is kept */ }
      return found;
    }
  };

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
  /* A file made here, handed to whatever the device does with downloads. */
  function saveAs(name, content) {
    var link = make("a");
    link.href = URL.createObjectURL(new Blob([JSON.stringify(content, null, 1) + "\n"], { type: "application/json" }));
    link.download = name;
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => { URL.revokeObjectURL(link.href); }, 60000);
  }

  window.fettlebook = {
    make: make,
    button: button,
    quiet: (words, act) => button(words, act, "button--quiet"),
    all: (selector, within) => [...(within || document).querySelectorAll(selector)],
    saveAs: saveAs,
    tables: tables,
    table: (name, compute) => { tables[name] = compute; },
    refuse: (parameter, what, hint) => new Refused(parameter, what, hint),
    Refused: Refused,
    written: written,
    significant: significant,
    readQuantity: readQuantity,
    convert: convert,
    unitNamed: unitNamed,
    units: UNITS,
    store: store
  };
})();
