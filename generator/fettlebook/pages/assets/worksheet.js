/* Worksheets: work out while typing, say in or out in words, keep what was entered until it is cleared on purpose. */
(function () {
  "use strict";
  var TURN = Math.PI / 180, LARGE = "the result is too large to be written", sheets = {};
  function NoAnswer(words) { this.words = words; }
  function own(map, key) { return Object.prototype.hasOwnProperty.call(map, key); }
  function no(words) { throw new NoAnswer(words); }
  function finite(x) { if (!(Math.abs(x) <= 1e15)) no(LARGE); return x; }
  function arc(f) { return x => { finite(x); if (!(x >= -1 && x <= 1)) no("no angle has such a sine or cosine"); return f(x) / TURN; }; }
  function readings(v, id) {
    var found = own(v, id) ? v[id] : null, all = found !== null && typeof found === "object" ? Object.values(found) : [found];
    if (!all.length || all.some(x => x === null || x === undefined)) no("waits for " + id);
    return all;
  }
  function sum(all) { return all.reduce((a, b) => a + b, 0); }
  var F = {
    get: (v, id, part) => {
      var found = own(v, id) ? v[id] : null;
      if (part) found = found !== null && typeof found === "object" && own(found, part) ? found[part] : null;
      if (found === null || found === undefined) no("waits for " + id + (part ? "." + part : ""));
      if (typeof found === "object") no(id + " has several values");
      return found;
    },
    div: (a, b) => { if (b === 0) no("it would divide by nothing"); return a / b; },
    pow: (base, n) => {
      var out = 1;
      for (var i = 0; i < Math.abs(n); i++) out *= base;
      return n < 0 ? F.div(1, out) : out;
    },
    sqrt: x => { if (finite(x) < 0) no("it would take the root of less than nothing"); return Math.sqrt(x); },
    abs: x => Math.abs(finite(x)),
    min: (...all) => Math.min(...all.map(finite)),
    max: (...all) => Math.max(...all.map(finite)),
    round: (x, n) => Number(fettlebook.written(finite(x), n || 0)),
    sin: x => Math.sin(finite(x) * TURN),
    cos: x => Math.cos(finite(x) * TURN),
    tan: x => Math.tan(finite(x) * TURN),
    ln: x => { if (finite(x) <= 0) no("it would take the logarithm of nothing or less"); return Math.log(x); },
    exp: x => finite(Math.exp(finite(x))),
    asin: arc(Math.asin), acos: arc(Math.acos),
    atan: x => Math.atan(finite(x)) / TURN,
    mean: (v, id) => { var all = readings(v, id); return sum(all) / all.length; },
    largest: (v, id) => Math.max.apply(null, readings(v, id)),
    smallest: (v, id) => Math.min.apply(null, readings(v, id)),
    spread: (v, id) => { var all = readings(v, id); return Math.max.apply(null, all) - Math.min.apply(null, all); },
    sum: (v, id) => sum(readings(v, id)),
    count: (v, id) => readings(v, id).length
  };

  /* The value of one formula, or {words} when there is none. */
  function value(f, v) {
    try {
      var found = f(v, F);
      return typeof found === "boolean" ? found : finite(found);
    } catch (fault) {
      if (fault instanceof NoAnswer) return { words: fault.words };
      throw fault;
    }
  }

  function unit(key) { return key && fettlebook.units.units[key] ? fettlebook.units.units[key][3] : key; }
  function joined(text, u) { return u ? text + (u === "\u00b0" ? u : "\u00a0" + u) : text; }
  /* A figure in its unit, and in the other system's beside it. */
  function shown(found, about) {
    if (found === true) return "yes";
    if (found === false) return "no";
    var text = joined(fettlebook.written(found, about.decimals).replace(/^-/, "\u2212"), unit(about.unit)), other = fettlebook.units.other[about.unit];
    if (!other) return text;
    var decimals = (fettlebook.units.otherDecimals[about.unit] || {})[about.decimals];
    var beside = joined(fettlebook.written(fettlebook.convert(found, about.unit, other), decimals === undefined ? about.decimals : decimals).replace(/^-/, "\u2212"), unit(other));
    return document.documentElement.dataset.units === "inch" ? beside + " (" + text + ")" : text + " (" + beside + ")";
  }

  /* A value that a choice brings, with as many decimals as its table shows. */
  function brought(value, column) {
    if (value === null) return "\u2013";
    return column[4] === null ? joined(String(Number(value.toPrecision(10))), unit(column[3])) : shown(value, { unit: column[3], decimals: column[4] });
  }

  function start(section) {
    var about = sheets[section.dataset.worksheet];
    if (!about) return;
    var named = {}, id = section.dataset.worksheet, fields = section.querySelectorAll(".field[data-input]"), sure = false, clear = section.querySelector("[data-clear]");

    about.inputs.concat(about.results).forEach(one => {
      named[one.id] = one.name;
      Object.keys(one.at || {}).forEach(place => { named[one.id + "." + place] = one.name + ", " + one.at[place]; });
    });

    function kept() { return (fettlebook.job ? (fettlebook.job.worksheets[id] || {}).inputs : fettlebook.store.get("worksheet:" + id)) || {}; }
    function keep(inputs, results) {
      if (fettlebook.job) { fettlebook.job.worksheets[id] = { title: about.title, inputs: inputs, shown: results }; fettlebook.keepJob(); }
      else fettlebook.store.set("worksheet:" + id, inputs);
    }
    function fill() {
      var inputs = kept();
      fields.forEach(field => {
        var entry = field.querySelector("input,select"), start = entry.dataset.start || "";
        entry.value = own(inputs, field.dataset.key) ? inputs[field.dataset.key] : start;
      });
      work(false);
    }
    function read(field, input) {
      var entry = field.querySelector("input,select"), text = entry.value.trim();
      if (input.kind === "flag") return text === "yes";
      if (input.kind === "choice") { var row = input.rows[entry.selectedIndex - 1]; return row ? Object.fromEntries(input.columns.map((c, n) => [c[0], row[n]])) : null; }
      if (!text) return input.standard;
      if (input.unit === "K" && /[\u00b0cf]/i.test(text)) throw new Error("a difference is wanted here; write it in K");
      var found = fettlebook.readQuantity(text, fettlebook.units.units[input.unit] ? input.unit : "");
      if (input.low !== null && found < input.low) throw new Error("below " + joined(String(input.low), unit(input.unit)) + ", the smallest that makes sense here");
      if (input.high !== null && found > input.high) throw new Error("above " + joined(String(input.high), unit(input.unit)) + ", the largest that makes sense here");
      return found;
    }
    function work(save) {
      var v = {}, inputs = {}, results = {}, words = {};
      fields.forEach(field => {
        var input = about.inputs[field.dataset.input], entry = field.querySelector("input,select"), fault = field.querySelector(".fault"), place = field.dataset.place, found = null;
        fault.hidden = true;
        entry.removeAttribute("aria-invalid");
        try { found = read(field, input); } catch (problem) { fault.textContent = problem.message; fault.hidden = false; entry.setAttribute("aria-invalid", "true"); }
        if (entry.value) inputs[field.dataset.key] = entry.value;
        if (place) { v[input.id] = v[input.id] || {}; v[input.id][place] = found; } else v[input.id] = found;
        var echo = field.querySelector(".echo"), figure = typeof found === "number" && entry.value && (isNaN(entry.value) || fettlebook.units.other[input.unit]);
        if (echo && input.kind !== "choice") echo.textContent = figure ? "= " + shown(found, input) : "";
        else if (echo && found) echo.textContent = input.columns.map(c => c[1].toLowerCase() + (c[2] ? " " + c[2] : "") + " = " + brought(found[c[0]], c)).join(", ");
        words[input.id + (place ? "." + place : "")] = typeof found === "number" ? String(Number(found.toPrecision(10))) : null;
        if (place) words[input.id] = Object.keys(v[input.id]).map(p => words[input.id + "." + p]).join(", ").replace(/-/g, "\u2212");
        if (found !== null && typeof found === "object") Object.keys(found).forEach(part => { words[input.id + "." + part] = found[part] === null ? null : String(Number(found[part].toPrecision(10))); });
      });
      Object.keys(about.constants).forEach(name => { v[name] = about.constants[name]; words[name] = String(about.constants[name]); });
      about.results.forEach(result => {
        var box = section.querySelector('[data-result="' + result.id + '"]'), found = value(result.f, v), out = box.querySelector("output"), verdict = box.querySelector(".verdict"), put = box.querySelector(".put-in");
        verdict.textContent = ""; verdict.className = "verdict"; put.textContent = "";
        if (found !== null && typeof found === "object") { v[result.id] = null; out.textContent = found.words.replace(/^waits for ([\w.]+)/, (all, name) => "waits for: " + (named[name] || named[name.split(".")[0]] || name)); out.classList.add("waits"); return; }
        v[result.id] = found;
        out.classList.remove("waits");
        out.textContent = results[result.name] = shown(found, result);
        words[result.id] = typeof found === "number" ? fettlebook.written(found, Math.max(result.decimals, 3)).replace(/(\.\d*?)0+$/, "$1").replace(/\.$/, "") : String(found);
        put.textContent = "= " + result.line.map((piece, n) => { var put = n % 2 && own(words, piece) && words[piece] || piece; return n % 2 && put[0] === "-" ? "(\u2212" + put.slice(1) + ")" : put; }).join("");
        if (result.low === null && result.high === null) return;
        /* Four places beyond what is shown are dropped: 49.623 - 49.620 is 0.003, whatever the last bits say. */
        var near = Number(fettlebook.written(found, result.decimals + 4)), outside = (result.low !== null && near < result.low) || (result.high !== null && near > result.high);
        verdict.textContent = outside ? "\u2717 OUT OF LIMITS. " + result.outside : "\u2713 in limits";
        verdict.className = "verdict verdict--" + (outside ? "out" : "in");
      });
      if (save) keep(inputs, results);
    }
    section.addEventListener("input", () => { work(true); });
    section.addEventListener("submit", event => { event.preventDefault(); });
    clear.addEventListener("click", () => {
      if (!sure) { sure = true; clear.textContent = "Touch again to clear"; setTimeout(() => { sure = false; clear.textContent = "Clear"; }, 4000); return; }
      sure = false;
      clear.textContent = "Clear";
      fields.forEach(field => { var entry = field.querySelector("input,select"); entry.value = entry.dataset.start || ""; });
      work(true);
    });
    document.addEventListener("fettlebook:job", fill);
    window.addEventListener("storage", event => { if (!fettlebook.job && event.key === fettlebook.store.prefix + "worksheet:" + id) fill(); });
    document.addEventListener("fettlebook:units", () => { work(false); });
    fill();
  }

  fettlebook.worksheet = (id, about) => { sheets[id] = about; };
  fettlebook.worksheetValue = value;
  document.addEventListener("DOMContentLoaded", () => { document.querySelectorAll("[data-worksheet]").forEach(start); });
})();
