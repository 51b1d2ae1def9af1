// node scripts/tests_take.mjs FOLDER SECONDS: what the tests of a build folder took, by the reports they left there. Their
// sum is at most SECONDS, and one of more than five seconds carries the label `long`, so that its small draw alone is run
// in ./check. On a machine that is slow or busy with something else too, both are given twice as much. What was skipped is
// named.
import { readdirSync, readFileSync } from "node:fs";
import { cpus, loadavg } from "node:os";

const [folder, allowed] = [process.argv[2], Number(process.argv[3])];
const patience = loadavg()[0] > cpus().length + 1 || Math.max(...cpus().map((c) => c.speed)) < 2400 ? 2 : 1;
const plain = (name) => name.replaceAll("&quot;", '"').replaceAll("&lt;", "<").replaceAll("&gt;", ">").replaceAll("&amp;", "&");
const cases = (file) => [...readFileSync(file, "utf8").matchAll(/<testcase ([^>]*)/g)].map(([, said]) => Object.fromEntries([...said.matchAll(/(\w+)="([^"]*)"/g)].map(([, key, value]) => [key, plain(value)])));

// What ctest ran: the long ones each by itself, the others many in one process.
const ran = cases(`${folder}/tests.xml`);
const called = (file) => file.replace(/_(\d+)\.xml$/, "/$1");
const together = new Set(ran.map(({ name }) => name).filter((name) => /^\w+\/\d+$/.test(name)));
const reports = readdirSync(`${folder}/tests/took`).filter((file) => together.has(called(file)));
const sum = ran.reduce((all, { time }) => all + Number(time), 0);
// All tests of a room may be long.
const rooms = new Set(ran.filter(({ name }) => !together.has(name)).map(({ name }) => name.replace(/\/.*/, "")));
const empty = reports.filter((file) => !rooms.has(file.replace(/_.*/, "")) && cases(`${folder}/tests/took/${file}`).length === 0);
for (const file of empty) console.error(`${file}: no test was run`);
const short = reports.flatMap((file) => cases(`${folder}/tests/took/${file}`)).filter(({ status }) => status === "run");
console.log(`${short.length + ran.filter(({ name }) => !together.has(name)).length} tests take ${sum.toFixed(0)} s one after the other (${allowed * patience} allowed)`);
for (const { classname, name } of short.filter(({ result }) => result === "skipped")) console.log(`skipped: ${classname}.${name}`);
for (const { name } of ran.filter(({ status }) => status === "notrun" || status === "disabled")) console.log(`skipped: ${name}`);
const slow = short.filter(({ time }) => Number(time) > 5 * patience);
for (const { classname, name, time } of slow)
  console.error(`${classname}.${name} takes ${Number(time).toFixed(1)} s: a test of more than five is labelled long (tests/CMakeLists.txt) and draws less (tests/draws.hpp)`);
process.exit(short.length === 0 || empty.length > 0 || sum > allowed * patience || slow.length > 0 ? 1 : 0);
