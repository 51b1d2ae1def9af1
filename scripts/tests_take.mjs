// node scripts/tests_take.mjs FOLDER SECONDS: what the tests of a build folder took, by the report ctest left there
// (tests.xml). Their sum is at most SECONDS, and one of more than five seconds carries the label `long`, so that its small
// draw alone is run in ./check. On a machine that is slow or busy with something else too, both are given twice as much.
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { cpus, loadavg } from "node:os";

const [folder, allowed] = [process.argv[2], Number(process.argv[3])];
const patience = loadavg()[0] > cpus().length + 1 || Math.max(...cpus().map((c) => c.speed)) < 2400 ? 2 : 1;
const took = [...readFileSync(`${folder}/tests.xml`, "utf8").matchAll(/<testcase name="([^"]+)"[^>]*? time="([\d.]+)"/g)]
  .map(([, name, seconds]) => ({ name: name.replaceAll("&quot;", '"').replaceAll("&lt;", "<").replaceAll("&gt;", ">").replaceAll("&amp;", "&"), seconds: Number(seconds) }));
const labelled = new Set(
  JSON.parse(execFileSync("ctest", ["--test-dir", folder, "-L", "long", "--show-only=json-v1"], { encoding: "utf8", maxBuffer: 1 << 28 })).tests.map((t) => t.name),
);
const sum = took.reduce((all, { seconds }) => all + seconds, 0);
console.log(`${took.length} tests take ${sum.toFixed(0)} s one after the other (${allowed * patience} allowed)`);
const slow = took.filter(({ name, seconds }) => seconds > 5 * patience && !labelled.has(name));
for (const { name, seconds } of slow) console.error(`${name} takes ${seconds.toFixed(1)} s: a test of more than five is labelled long (tests/CMakeLists.txt) and draws less (tests/draws.hpp)`);
process.exit(took.length === 0 || sum > allowed * patience || slow.length > 0 ? 1 : 0);
