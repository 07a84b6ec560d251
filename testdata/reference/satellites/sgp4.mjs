// Makes sgp4.json (places) and passes.json (passes over two places).
//
//   npm install satellite.js@7.1.0
//   node sgp4.mjs
import { writeFileSync } from "node:fs";
import * as S from "satellite.js";

const sets = [
  ["Vanguard 1, of the verification set of AIAA 2006-6753", "1 00005U 58002B   00179.78495062  .00000023  00000-0  28098-4 0  4753", "2 00005  34.2682 348.7242 1859667 331.7664  19.3264 10.82419157413667"],
  ["06251, of the same: near the Earth, much drag", "1 06251U 62025E   06176.82412014  .00008885  00000-0  12808-3 0  3985", "2 06251  58.0579  54.0425 0030035 139.1568 221.1854 15.56387291  6774"],
  ["28057, of the same: nearly a circle", "1 28057U 03049A   06177.78615833  .00000060  00000-0  35940-4 0  1836", "2 28057  98.4283 247.6961 0000884  88.1964 271.9322 14.35478080140550"],
  ["29238, of the same: perigee under 220 km", "1 29238U 06022G   06177.28732010  .00766286  10823-4  13334-2 0   101", "2 29238  51.5595 213.7903 0202579  95.2503 267.9010 15.73823839  1061"],
  ["space station, 2008: negative drag", "1 25544U 98067A   08264.51782528 -.00002182  00000-0 -11606-4 0  2927", "2 25544  51.6416 247.4627 0006703 130.5360 325.0288 15.72125391563537"],
  ["space station, 2025", "1 25544U 98067A   25224.47423135  .00010254  00000+0  18430-3 0  9994", "2 25544  51.6349  28.0780 0001172 181.8871 178.2114 15.50477111523893"],
];
const satellites = sets.map(([name, line1, line2]) => {
  const rec = S.twoline2satrec(line1, line2), places = [];
  for (const t of [-1440, -720, -100, -1, 0, 1, 17, 90, 360, 720, 1440, 2880]) {
    const pv = S.sgp4(rec, t);
    if (pv && pv.position) places.push([t, pv.position.x, pv.position.y, pv.position.z]);
  }
  return { name, line1, line2, places };
});
const source = "satellite.js 7.1.0 (MIT, after Vallado et al. 2006); made by sgp4.mjs";
writeFileSync("sgp4.json", JSON.stringify({ source, units: "minutes from the epoch, km (true equator, mean equinox)", satellites }).replace(/\},\{/g, "},\n{") + "\n");

// Passes: where the altitude has a maximum over 10 degrees, and the shadow.
const passes = [];
for (const [lat, lon] of [[40, -105], [-37.81, 144.96]]) {
  const rec = S.twoline2satrec(sets[5][1], sets[5][2]);
  const place = { latitude: S.degreesToRadians(lat), longitude: S.degreesToRadians(lon), height: 0 };
  const look = (ms) => {
    const date = new Date(ms), pv = S.propagate(rec, date), gmst = S.gstime(date);
    const l = S.ecfToLookAngles(place, S.eciToEcf(pv.position, gmst));
    return { alt: (l.elevation * 180) / Math.PI, az: (l.azimuth * 180) / Math.PI, range: l.rangeSat, pos: pv.position };
  };
  const lit = (ms) => S.shadowFraction(S.sunPos(S.jday(new Date(ms))).rsun, look(ms).pos) < 0.5;
  const from = lon < 0 ? Date.UTC(2025, 7, 12, 18) : Date.UTC(2025, 7, 12, 2);
  const cross = (a, b, is) => { while (b - a > 50) { const m = (a + b) / 2; if (is(m)) b = m; else a = m; } return b; };
  let last = look(from - 10000).alt, here = look(from).alt;
  for (let ms = from; ms < from + 86400000; ms += 10000) {
    const next = look(ms + 10000).alt;
    if (here > 10 && here >= last && here > next) {
      let a = ms - 10000, b = ms + 10000;
      while (b - a > 50) { const p = a + (b - a) / 3, q = b - (b - a) / 3; if (look(p).alt < look(q).alt) a = p; else b = q; }
      const top = (a + b) / 2;
      let x = top; while (look(x).alt > 0) x -= 10000;
      const rise = cross(x, x + 10000, (t) => look(t).alt > 0);
      x = top; while (look(x).alt > 0) x += 10000;
      const set = cross(x - 10000, x, (t) => look(t).alt <= 0);
      let shadow = null;
      for (let t = rise; t < set; t += 1000) if (lit(t) !== lit(t + 1000)) { shadow = { at: new Date(t + 500).toISOString(), into: lit(t) }; break; }
      const l = look(top);
      passes.push({ lat, lon, rise: new Date(rise).toISOString(), top: new Date(top).toISOString(), set: new Date(set).toISOString(), altitude: +l.alt.toFixed(2), azimuth: +l.az.toFixed(2), range: +l.range.toFixed(1), shadow, litAtTop: lit(top) });
    }
    last = here; here = next;
  }
}
writeFileSync("passes.json", JSON.stringify({ source, units: "UTC, degrees, km; the set of 2025", line1: sets[5][1], line2: sets[5][2], passes }).replace(/\},\{/g, "},\n{") + "\n");
