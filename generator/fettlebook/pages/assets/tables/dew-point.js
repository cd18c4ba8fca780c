/* Will the iron sweat, and how long to let it warm: the same as tables/climate.py. */
(function () {
  "use strict";
  function g(x) { return String(Number(x.toPrecision(6))); }
  function keep(humidity) {
    if (humidity > 0 && humidity <= 1)
      throw fettlebook.refuse("humidity", g(humidity) + " is read as " + g(humidity) + " percent, drier than any shop",
        "write " + g(100 * humidity) + " if you mean " + g(100 * humidity) + " percent");
    if (!(humidity > 1 && humidity <= 100)) throw fettlebook.refuse("humidity", g(humidity) + " percent lies outside 1 to 100", "for example 70");
  }
  /* Hyland and Wexler, over ice below the triple point. */
  function pressure(celsius, figures) {
    var t = celsius + 273.15, c = celsius <= 0.01 ? figures.ice : figures.water, last = c.length - 1, sum = c[0] / t + c[last] * Math.log(t);
    for (var n = 1; n < last; n++) sum += c[n] * Math.pow(t, n - 1);
    return Math.exp(sum);
  }
  function dewPoint(air, humidity, figures) {
    var wanted = humidity / 100 * pressure(air, figures), low = -60, high = air;
    for (var n = 0; n < 60; n++) { var m = (low + high) / 2; if (pressure(m, figures) < wanted) low = m; else high = m; }
    return (low + high) / 2;
  }

  fettlebook.table("dew-point", function (given, figures) {
    var air = given.air, humidity = given.humidity, iron = given.iron, heat = given.heat_to;
    keep(humidity);
    function humidityAt(surface) { return Math.min(100, humidity * pressure(air, figures) / pressure(surface, figures)); }
    var point = dewPoint(air, humidity, figures), margin = iron === null ? null : iron - point;
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

  fettlebook.table("warm-up-time", function (given, figures) {
    var air = given.air, iron = given.iron, own = given.target === null, written = fettlebook.written;
    keep(given.humidity);
    var point = dewPoint(air, given.humidity, figures), target = own ? point + figures.safe : given.target;
    if (target >= air)
      throw fettlebook.refuse(own ? "humidity" : "target", written(target, 1) + " °C is never reached in air of " + g(air) + " °C",
        own ? "dry or heat the air first: its dew point is " + written(point, 1) + " °C" : "give a target below the air");
    var reach = iron < target ? Math.max(0, Math.log((air - iron) / (air - target))) : 0;
    function hours(film) { return figures.iron.density * figures.iron.heat * given.thickness / 2000 / film / 3600; }
    return { rows: figures.film.map(function (film) {
      var slow = hours(film.low), fast = hours(film.high);
      return { cover: film.cover, target_c: target, hours_low: fast * reach, hours_high: slow * reach, time_constant_low_h: fast, time_constant_high_h: slow };
    }), notes: figures.warm_notes, warnings: iron < point + figures.safe ? [] : ["The iron is warm enough already."] };
  });
})();
