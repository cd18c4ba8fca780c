/* A motor on another supply: the same as tables/supply.py. It decides nothing. */
fettlebook.table("motor-on-supply", function (given, figures) {
  "use strict";
  var written = fettlebook.written, poles = given.poles;
  if (poles < 2 || poles % 2) throw fettlebook.refuse("poles", "a motor has poles in pairs, " + poles + " cannot be", "for example 4");
  function zone(volts, hertz) {
    return Object.keys(figures.zones).filter(function (name) {
      var z = figures.zones[name];
      return z.volts[0] <= volts && volts <= z.volts[1] && z.hertz[0] <= hertz && hertz <= z.hertz[1];
    })[0] || "outside";
  }
  function verdict(flux, change) {
    var percent = written(100 * flux, 0), w = figures.words;
    return (flux > 1.1 ? w.too_much : flux > figures.strong ? w.much : flux < figures.weak ? w.weak : w.right).replace("{percent}", percent) + "; "
      + (Math.abs(change) < 0.5 ? w.same : (change > 0 ? w.faster : w.slower).replace("{percent}", written(Math.abs(change), 0)));
  }
  function row(name, hertz, volts) {
    var flux = volts / hertz / (given.rated_v / given.rated_hz), change = 100 * (hertz / given.rated_hz - 1), off = 100 * (volts / given.rated_v - 1);
    var v = Math.abs(off), f = Math.abs(change), n = figures.nema;
    return { "case": name, hertz: hertz, volts: volts, synchronous_rpm: 120 * hertz / poles, change_percent: change, volts_percent: off, volts_per_hertz: volts / hertz,
      flux_percent: 100 * flux, torque_percent: 100 * Math.min(flux, 1) * Math.min(flux, 1), iec_zone: zone(off, change), nema_sum_percent: v + f,
      nema_allowed: v <= n.volts && f <= n.hertz && v + f <= n.sum, verdict: name === "plate" ? "as plated" : verdict(flux, change) };
  }
  var supply = row("supply", given.supply_hz, given.supply_v);
  return { rows: [row("plate", given.rated_hz, given.rated_v), supply], warnings: [figures.decides], notes: figures.notes.map(function (words) {
    return words.replace("{volts}", written(given.rated_v / given.rated_hz * given.supply_hz, 0)).replace("{hertz}", String(Number(given.supply_hz.toPrecision(6))))
      .replace("{change}", written(supply.change_percent, 1));
  }) };
});
