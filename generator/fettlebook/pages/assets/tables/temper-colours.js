/* Temper colours: the same law of growth as tables/film.py and the same rows as tables/temper_colours.py; and on the
   table's page a slider for the time, which moves a strip of colour over a fixed scale of temperature. */
(function () {
  "use strict";
  var KELVIN = 273.15, LOW = 120, HIGH = 420, LEFT = 14, WIDE = 772;

  function temperatureFor(film, minutes, law, power) {
    var grown = Math.log(film / law.film_nm) - (power || law.power) * Math.log(minutes / law.minutes);
    return 1 / (1 / (law.temperature_c + KELVIN) - grown / law.exponent_k) - KELVIN;
  }

  function sameColour(celsius, minutes, other, law) {
    return 1 / (1 / (celsius + KELVIN) + Math.log(other / minutes) / (2 * law.exponent_k)) - KELVIN;
  }

  function rowOf(named, minutes, law) {
    var low = sameColour(named.low, law.minutes, minutes, law), high = sameColour(named.high, law.minutes, minutes, law);
    var from = temperatureFor(named.from_nm, minutes, law), to = named.to_nm ? temperatureFor(named.to_nm, minutes, law) : null;
    var slow = temperatureFor(named.from_nm, minutes, law, law.slow_power), slowTo = named.to_nm ? temperatureFor(named.to_nm, minutes, law, law.slow_power) : null;
    var reach = [from, to || from].concat(minutes === law.minutes ? [] : [low, high]);
    return {
      colour: named.colour, srgb: named.srgb, low_c: Math.min(low, from, slow), high_c: Math.max(high, to || high, slowTo || slow),
      published_low_c: low, published_high_c: high, computed_low_c: from, computed_high_c: to,
      slow_low_c: slow, slow_high_c: slowTo, film_nm: named.film_nm, published_low_nm: named.published_low_nm, published_nm: named.published_nm, tables: named.tables,
      fitted: Math.min.apply(null, reach) >= law.fitted_c[0] && Math.max.apply(null, reach) <= law.fitted_c[1],
      also: named.also
    };
  }

  function place(celsius) { return LEFT + WIDE * Math.min(1, Math.max(0, (celsius - LOW) / (HIGH - LOW))); }

  /* The strip, its names and its scale as SVG: swatches and names only, lines in the colour of the text. */
  function strip(rows, minutes, figures) {
    var law = figures.growth, last = -99, out = ["power", "slow_power"].map(function (which, n) {
      return '<linearGradient id="temper-' + which + '">' + figures.ladder.map(function (each) {
        var at = (temperatureFor(each[0], minutes, law, law[which]) - LOW) / (HIGH - LOW);
        return '<stop offset="' + Math.min(1, Math.max(0, at)).toFixed(4) + '" stop-color="' + each[1] + '"/>';
      }).join("") + '</linearGradient><rect x="' + LEFT + '" y="' + (n ? 42 : 6) + '" width="' + WIDE +
        '" height="' + (n ? 24 : 36) + '" fill="url(#temper-' + which + ')" stroke="currentColor"/>';
    }).join("");
    rows.forEach(function (row) {
      var x = place((row.computed_low_c + (row.computed_high_c || row.computed_low_c + 20)) / 2);
      if (row.computed_low_c > HIGH - 5 || x - last < 17) return;
      last = x;
      out += '<path d="M' + x.toFixed(1) + ',66v8" stroke="currentColor"/><text transform="translate(' + (x - 5).toFixed(1) + ' 80) rotate(90)">' + row.colour + "</text>";
    });
    for (var c = LOW; c <= HIGH; c += 50 - c % 50) {
      out += '<path d="M' + place(c).toFixed(1) + ',184v8" stroke="currentColor"/><text x="' + place(c).toFixed(1) + '" y="210" text-anchor="middle">' + c + (c + 50 > HIGH ? " \u00b0C" : "") + "</text>";
    }
    return out + '<path d="M' + LEFT + ",184h" + WIDE + '" stroke="currentColor"/>';
  }

  /* Sets the slider and the strip over the rows, once, and keeps all three in step. */
  function show(rows, minutes, figures) {
    var form = document.querySelector('form[data-table="temper-colours"]'), answer = form && form.querySelector(".form__answer");
    if (!answer) return;
    var longest = figures.growth.fitted_minutes[1], box = form.querySelector(".temper-slide");
    if (!box) {
      box = document.createElement("div");
      box.className = "temper-slide";
      box.innerHTML = '<label>Time at temperature, 1 min to 4 h. Upper strip: the film grows fast, lower: slowly.<input type="range" min="0" max="1" step="any"></label>' +
        '<svg viewBox="0 0 800 216" role="img" aria-label="Strip of temper colours over temperature for the time set" fill="currentColor" font-size="16"></svg>';
      answer.parentNode.insertBefore(box, answer);
      box.querySelector("input").addEventListener("input", function (event) {
        event.stopPropagation();
        var time = Math.pow(longest, event.target.value), field = form.elements.time;
        field.value = (time < 10 ? Math.round(time * 2) / 2 : time < 60 ? Math.round(time) : Math.round(time / 5) * 5) + " min";
        field.dispatchEvent(new Event("input", { bubbles: true }));
      });
    }
    var slider = box.querySelector("input");
    if (document.activeElement !== slider) slider.value = Math.log(minutes) / Math.log(longest);
    slider.setAttribute("aria-valuetext", minutes + " min");
    box.querySelector("svg").innerHTML = strip(rows, minutes, figures);
  }

  fettlebook.table("temper-colours", function (given, figures) {
    var law = figures.growth, minutes = given.time;
    var rows = figures.colours.map(function (named) { return rowOf(named, minutes, law); });
    var outside = rows.filter(function (row) { return !row.fitted; }).map(function (row) { return row.colour; });
    show(rows, minutes, figures);
    return {
      rows: rows, notes: figures.notes,
      warnings: (minutes >= figures.long[0] ? [figures.long[1]] : []).concat(outside.length ? ["At " + Number(minutes.toPrecision(6)) + " min these reach outside the " + law.fitted_c[0] + " to " + law.fitted_c[1] +
        " \u00b0C for which the law of growth was fitted; take their figures as a hint only: " + outside.join(", ") + "."] : [])
    };
  });
})();
