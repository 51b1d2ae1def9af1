// node bench/figures.mjs NAME RESULTS COMMIT: docs/figures/NAME.md, of a bench's JSON or of the tables another one printed. A
// figure that misses its aim (aims.json) is named, and the exit status is 1: the table is written all the same.
import { readFileSync } from "node:fs";
import { arch, cpus, loadavg, release } from "node:os";
import { aims, aimsOf, missed } from "./aims.mjs";

// Of the first processor, as the kernel says; some machines do not tell how fast it is.
const processor = readFileSync("/proc/cpuinfo", "utf8").split("\n\n")[0];
const mhz = Number(/^cpu MHz\s*:\s*([\d.]+)/m.exec(processor)?.[1] ?? 0);
const speed = mhz > 0 ? ` at ${(mhz / 1000).toFixed(1)} GHz` : "";
const wide = /\bavx512f\b/.test(processor) ? "with AVX-512" : /\bavx2\b/.test(processor) ? "with AVX2, without AVX-512" : "without AVX2";

const [name, path, commit] = process.argv.slice(2);
const results = readFileSync(path, "utf8");
const { context, benchmarks } = path.endsWith(".json") ? JSON.parse(results) : { context: { date: new Date().toISOString() } };
const ofBench = aims()[name];
const known = new Set(["name", "run_name", "run_type", "family_index", "per_family_instance_index", "repetitions",
  "repetition_index", "threads", "iterations", "real_time", "cpu_time", "time_unit", "label", "aggregate_name", "aggregate_unit", "error_occurred", "error_message"]);
const figure = (x) => (x === 0 ? "0" : Number(x).toPrecision(3).replace(/e\+?/, "e"));

console.log(`# Measured: ${name}

Written by \`bench/figures ${name}\`; not to be changed by hand.

${context.date.slice(0, 10)}, commit ${commit}; ${arch()}, ${cpus().length} cores${speed}, ${wide}, Linux ${release()}, load ${loadavg()[0].toFixed(1)}
when it was written.
`);
if (!benchmarks) {
  console.log(results.trim());
  process.exit(0);
}
console.log(`| what | time | processor time | besides |${ofBench ? " at most |" : ""}
|---|---:|---:|---|${ofBench ? "---|" : ""}`);
for (const b of benchmarks) {
  const rest = Object.entries(b).filter(([key]) => !known.has(key)).map(([key, value]) => `${key} ${figure(value)}`);
  const row = b.error_occurred ? ["", "", b.error_message] : [`${figure(b.real_time)} ${b.time_unit}`, `${figure(b.cpu_time)} ${b.time_unit}`, [b.label, ...rest].filter(Boolean).join(", ")];
  if (ofBench) row.push(aimsOf(ofBench, benchmarks, b));
  console.log(`| ${b.name} | ${row.join(" | ")} |`);
}
for (const fault of missed(ofBench, benchmarks)) {
  console.error(`${name}: ${fault}`);
  process.exitCode = 1;
}
