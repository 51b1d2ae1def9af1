// node scripts/together.mjs: writes cmake/together.txt anew, the list of which sources are compiled as one. Sources that
// are on the list already keep their unit where they still may, so that little is compiled again.
import { readFileSync, writeFileSync } from "node:fs";
import { libraries, units_of } from "./units.mjs";

const most_lines = 1700; // of a unit; larger ones are slow to compile again after a small change
const list = "cmake/together.txt";

const before = new Map(
  readFileSync(list, "utf8").split("\n").map((l) => l.split(" ")).filter(([path, unit]) => path && unit && path !== "#").map(([path, unit]) => [path, Number(unit)]),
);
const lines = [];
let units = 0;
let alone = 0;
for (const sources of libraries().values())
  units_of(sources.filter((s) => !s.alone), most_lines, (path) => before.get(path)).forEach((unit, number) => {
    for (const s of unit) lines.push(`${s.path} ${number}`);
    units += 1;
    alone += unit.length === 1 ? 1 : 0;
  });
writeFileSync(
  list,
  `# Sources compiled as one: a path below src/, apps/ or tests/ and the number of its unit in its library. Written by
# scripts/together.mjs, which says when two may share one. A source that is not here is compiled alone.
${lines.sort().join("\n")}\n`,
);
console.log(`${lines.length} sources in ${units} units, ${alone} of them with one source`);
