// Solves one programme in LP format with HiGHS and prints one line of JSON:
// its status, objective and version. Called by main.go, which says how to
// install it.
//
//	node highs.cjs MODULES FILE.lp SECONDS

const { readFileSync } = require("node:fs");
const { createRequire } = require("node:module");
const { dirname, join, resolve } = require("node:path");

const [modules, file, seconds] = process.argv.slice(2);
const from = createRequire(join(resolve(modules), "x.js"));

from("highs")().then((highs) => {
  const found = highs.solve(readFileSync(file, "utf8"), {
    time_limit: Number(seconds),
    mip_rel_gap: 0,
    mip_abs_gap: 1e-7,
    output_flag: false,
  });
  console.log(JSON.stringify({
    status: found.Status,
    objective: found.ObjectiveValue,
    version: JSON.parse(readFileSync(join(dirname(from.resolve("highs")), "../package.json"), "utf8")).version,
  }));
});
