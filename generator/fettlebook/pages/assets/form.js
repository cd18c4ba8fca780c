/* A table's form: reads what is typed, refuses in words beside the field, shows the rows as they are computed. */
(function () {
  "use strict";
  var form = document.querySelector("form[data-table]");
  if (!form) return;
  var name = form.dataset.table, compute = fettlebook.tables[form.dataset.table];
  var figures = (window.fettlebookFigures || {})[name], columns = JSON.parse(form.querySelector(".columns").textContent);
  var answer = form.querySelector(".form__answer"), make = fettlebook.make, waiting = 0;

  function bounds(rules, value, text) {
    var unit = rules.unit && fettlebook.units.units[rules.unit] ? " " + fettlebook.units.units[rules.unit][3] : "";
    if (rules.low !== null && value < rules.low) throw new Error(text + " is below the smallest value that holds here, " + rules.low + unit);
    if (rules.high !== null && value > rules.high) throw new Error(text + " is above the largest value that holds here, " + rules.high + unit);
    if (rules.kind === "whole" && value !== Math.floor(value)) throw new Error(text + " is not a whole number");
    return value;
  }

  function one(rules, text) {
    if (rules.kind === "text" || rules.kind === "choice" || rules.kind === "mapping") return text.trim();
    if (rules.kind === "flag") return text === "true";
    return bounds(rules, fettlebook.readQuantity(text, rules.kind === "quantity" ? rules.unit : ""), text.trim());
  }

  function read(field) {
    var rules = JSON.parse(field.dataset.rules), text = field.querySelector("input,select").value;
    if (!text.trim()) {
      if (rules.required) throw new Error("must be given" + (rules.example ? ", for example " + rules.example : ""));
      return rules.empty;
    }
    if (!rules.many) return one(rules, text);
    var spaced = rules.kind === "text" && / /.test((rules.example || "").split(",")[0].trim());
    var by = spaced || /[,;]/.test(text) || (rules.kind === "quantity" && !/^[-+\d.\s]*$/.test(text)) ? /[,;]/ : /\s+/;
    return text.split(by).filter(part => part.trim()).map(part => one(rules, part));
  }

  function say(field, words) {
    var fault = field.querySelector(".fault"), input = field.querySelector("input,select");
    fault.textContent = words || "";
    fault.hidden = !words;
    input.setAttribute("aria-invalid", words ? "true" : "false");
  }

  function cell(value, column) {
    if (value === null || value === undefined) return "\u2013";
    if (value === true) return "yes";
    if (value === false) return "no";
    if (Array.isArray(value)) return value.map(v => cell(v, column)).join(" \u00d7 ");
    if (typeof value !== "number") return String(value);
    var other = fettlebook.units.other[column.unit];
    if (column.significant !== null) return fettlebook.significant(value, column.significant);
    if (column.decimals === null) return String(+value.toPrecision(12));
    if (other && document.documentElement.dataset.units === "inch") {
      var places = fettlebook.units.otherDecimals[column.unit] || {};
      var decimals = column.unit === "mm" && column.inch !== null ? column.inch : places[column.decimals];
      return fettlebook.written(fettlebook.convert(value, column.unit, other), decimals === undefined ? column.decimals : decimals);
    }
    return fettlebook.written(value, column.decimals);
  }

  function unit(column) {
    var other = fettlebook.units.other[column.unit];
    var shown = other && column.decimals !== null && document.documentElement.dataset.units === "inch" ? other : column.unit;
    return shown ? (fettlebook.units.units[shown] ? fettlebook.units.units[shown][3] : shown) : "";
  }

  function swatch(value) {
    var td = make("td");
    td.innerHTML = '<svg class="swatch" viewBox="0 0 10 10" preserveAspectRatio="none" aria-hidden="true"><rect width="10" height="10"/></svg> ';
    td.querySelector("rect").setAttribute("fill", value);
    td.append(make("code", value));
    return td;
  }

  function draw(result) {
    answer.textContent = "";
    (result.warnings || []).forEach(words => { answer.append(make("p", words, "flag")); });
    var all = (result.columns || columns).filter((column, n) => !n || result.rows.some(row => { var v = row[column.name]; return v !== null && v !== undefined && v !== "" && v.length !== 0; }));
    var table = make("table", undefined, "grid"), head = make("tr");
    var below = all.slice(1).filter(column => column.kind === "text" && result.rows.some(row => String(row[column.name] || "").length > (all.length < 8 ? 30 : 18)));
    var shown = all.filter(column => below.indexOf(column) < 0);
    if (below.length) table.className += " grid--pairs";
    shown.forEach(column => {
      var wide = column.kind === "text" && result.rows.some(row => String(row[column.name] || "").length > 9);
      var th = make("th", column.label + " ", column.kind === "number" ? "num" : "txt" + (wide ? " txt--wide" : column.kind === "list" ? " txt--list" : ""));
      th.scope = "col";
      if (unit(column)) th.append(make("span", unit(column), "unit"));
      head.append(th);
    });
    table.appendChild(make("thead")).appendChild(head);
    var body = table.appendChild(make("tbody"));
    result.rows.forEach(row => {
      var tr = body.appendChild(make("tr"));
      shown.forEach(column => {
        var value = row[column.name];
        if (column.kind === "colour" && value) tr.append(swatch(value));
        else tr.append(make("td", cell(value, column).replace(/^-/, "\u2212"), column.kind === "number" ? "num" : column.kind === "list" ? "txt txt--list" : "txt"));
      });
      if (!below.length) return;
      var under = body.appendChild(make("tr", undefined, "below")).appendChild(make("td"));
      under.colSpan = shown.length;
      below.forEach(column => {
        if (!row[column.name]) return;
        var part = under.appendChild(make("span", undefined, "below__part"));
        part.append(make("span", column.label + ": ", "below__label"));
        part.append(document.createTextNode(String(row[column.name])));
      });
    });
    var scroll = make("div", undefined, "scroll");
    scroll.tabIndex = 0;
    scroll.setAttribute("role", "group");
    scroll.setAttribute("aria-label", "Result");
    scroll.append(table);
    if (result.rows.length) answer.append(scroll);
    (result.notes || []).forEach(words => { answer.append(make("p", words, "note")); });
  }

  function work() {
    var given = {}, faulty = false;
    Array.prototype.forEach.call(form.querySelectorAll(".field"), field => {
      var key = field.querySelector("input,select").name;
      try { given[key] = read(field); say(field, ""); } catch (fault) { faulty = true; say(field, fault.message); }
    });
    if (faulty) { answer.textContent = "Nothing is worked out until the fields marked above are put right."; return; }
    try { draw(compute(given, figures)); } catch (fault) {
      if (!(fault instanceof fettlebook.Refused)) throw fault;
      var field = form.elements[fault.parameter] && form.elements[fault.parameter].closest(".field");
      answer.textContent = "";
      var words = fault.what + (fault.hint ? "; " + fault.hint : "");
      if (field) say(field, words);
      answer.append(make("p", field ? field.querySelector("label").firstChild.textContent.trim() + ": " + words : fault.message, "flag"));
    }
  }

  form.addEventListener("input", () => { clearTimeout(waiting); waiting = setTimeout(work, 120); });
  form.addEventListener("submit", event => { event.preventDefault(); work(); });
  document.addEventListener("fettlebook:units", work);
  work();
})();
