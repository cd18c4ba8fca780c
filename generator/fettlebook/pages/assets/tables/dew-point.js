/* Will the iron sweat: the same as tables/climate.py. */
fettlebook.table("dew-point", function (given, figures) {
  "use strict";
  var air = given.air, humidity = given.humidity, iron = given.iron, heat = given.heat_to;
  function g(x) { return String(Number(x.toPrecision(6))); }
  if (humidity > 0 && humidity <= 1)
    throw fettlebook.refuse("humidity", g(humidity) + " is read as " + g(humidity) + " percent, drier than any shop",
      "write " + g(100 * humidity) + " if you mean " + g(100 * humidity) + " percent");
  if (!(humidity > 1 && humidity <= 100)) throw fettlebook.refuse("humidity", g(humidity) + " percent lies outside 1 to 100", "for example 70");

  /* Hyland and Wexler, over ice below the triple point. */
  function pressure(celsius) {
    var t = celsius + 273.15, c = celsius <= 0.01 ? figures.ice : figures.water, last = c.length - 1, sum = c[0] / t + c[last] * Math.log(t);
    for (var n = 1; n < last; n++) sum += c[n] * Math.pow(t, n - 1);
    return Math.exp(sum);
  }
  function humidityAt(surface) { return Math.min(100, humidity * pressure(air) / pressure(surface)); }

  var wanted = humidity / 100 * pressure(air), low = -60, high = air;
  for (var n = 0; n < 60; n++) { var m = (low + high) / 2; if (pressure(m) < wanted) low = m; else high = m; }
  var point = (low + high) / 2, margin = iron === null ? null : iron - point;
  var k = Math.log(humidity / 100) + figures.b * air / (figures.c + air);
  return {
    rows: [{
      dew_point_c: point, margin_c: margin, sweats: margin === null ? null : margin <= 0,
      humidity_at_iron_percent: iron === null ? null : humidityAt(iron),
      verdict: margin === null ? "" : margin <= 0 ? "sweats: keep it covered and the doors shut until it is warm"
        : margin < 3 ? "on the edge: 3 °C over the dew point are wanted" : "stays dry",
      dew_point_magnus_c: figures.c * k / (figures.b - k), dew_point_rule_c: humidity >= 50 ? air - (100 - humidity) / 5 : null,
      humidity_after_percent: heat === null ? null : humidityAt(heat)
    }],
    notes: figures.notes, warnings: margin !== null && margin < 3 ? [figures.sweats] : []
  };
});
