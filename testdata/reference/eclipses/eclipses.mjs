// Makes eclipses.json: lunar eclipses of 2020 to 2040, and solar eclipses as
// seen from some cities.
//
//   npm install astronomy-engine@2.1.19
//   node eclipses.mjs > eclipses.json
import * as A from "astronomy-engine";

const lunar = [];
let e = A.SearchLunarEclipse(new Date("2020-01-01T00:00:00Z"));
while (e.peak.date < new Date("2041-01-01")) {
  lunar.push({ tt: +e.peak.tt.toFixed(6), kind: e.kind, penumbra: +e.sd_penum.toFixed(2), partial: +e.sd_partial.toFixed(2), total: +e.sd_total.toFixed(2) });
  e = A.NextLunarEclipse(e.peak);
}
const cities = [["Dallas", 32.78, -96.8, 131, "2024-03-01"], ["Albuquerque", 35.08, -106.65, 1500, "2023-10-01"], ["Madrid", 40.42, -3.7, 650, "2026-08-01"],
  ["Luxor", 25.69, 32.64, 80, "2027-07-01"], ["Sydney", -33.87, 151.21, 20, "2028-07-01"], ["Lima", -12.05, -77.04, 150, "2027-01-01"], ["Helsinki", 60.17, 24.94, 10, "2026-08-01"]];
const solar = cities.map(([city, lat, lon, elev, from]) => {
  const s = A.SearchLocalSolarEclipse(new Date(from), new A.Observer(lat, lon, elev));
  const tt = (x) => (x ? +x.time.tt.toFixed(6) : null);
  return { city, lat, lon, elev, kind: s.kind, covered: +s.obscuration.toFixed(4), begin: tt(s.partial_begin), totalBegin: tt(s.total_begin), peak: tt(s.peak), totalEnd: tt(s.total_end), end: tt(s.partial_end),
    altitude: +s.peak.altitude.toFixed(3) };
});
console.log(JSON.stringify({ source: "astronomy-engine 2.1.19 (MIT): SearchLunarEclipse, SearchLocalSolarEclipse; made by eclipses.mjs",
  units: "tt: days TT from J2000; penumbra, partial, total: half durations in minutes", lunar, solar }).replace(/\},\{/g, "},\n{"));
