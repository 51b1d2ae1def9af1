// node scripts/lint.mjs: what .clang-tidy asks of every source of the program. Reading headers is most of what it costs, so
// that many sources are read as one, also of several libraries: a name in the unnamed namespace of one library is not seen
// from another's. What was read before is not read again: stamps lie in build/lint, each the digest of what was read, of
// all headers and of the rules.
import { execFile, execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { availableParallelism } from "node:os";
import { libraries, lines_of, units_of } from "./units.mjs";

const most_lines = 12000; // of what is read as one: a gigabyte and half a minute
const folder = "build/lint";
mkdirSync(folder, { recursive: true });

// Each of the units of a library goes to the shortest bin that has none of that library yet.
const bins = [];
for (const [name, sources] of libraries()) {
  if (name.startsWith("test ")) continue;
  for (const unit of units_of(sources, most_lines)) {
    const free = bins.filter((bin) => !bin.of.has(name) && lines_of(bin.sources) + lines_of(unit) <= most_lines);
    let bin = free.sort((a, b) => lines_of(a.sources) - lines_of(b.sources))[0];
    if (!bin) bins.push((bin = { of: new Set(), sources: [] }));
    bin.of.add(name);
    bin.sources.push(...unit);
  }
}

// How the sources are compiled: the include folders and definitions of all of them.
execFileSync("cmake", ["-S", ".", "-B", `${folder}/database`, "-G", "Ninja", "-DSEATWRIGHT_TESTS=OFF", "-DCCACHE_PROGRAM=OFF",
  "-DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON"], { stdio: ["ignore", "ignore", "inherit"] });
const commands = JSON.parse(readFileSync(`${folder}/database/compile_commands.json`, "utf8"));
const flags = [...new Set(commands.flatMap(({ command }) => command.match(/-isystem \S+|-[ID]\S+/g) ?? []))].filter((f) => f !== "-isystem /usr/include").sort().flatMap((f) => f.split(" "));

const git = (...args) => execFileSync("git", args, { encoding: "utf8" });
const digest = (...texts) => texts.reduce((sum, text) => sum.update(text), createHash("sha256")).digest("hex");
const rules = digest(flags.join(), ...git("ls-files", ".clang-tidy", "scripts/lint.mjs", "src/*.hpp", "apps/*.hpp").split("\n").filter(Boolean).map((f) => readFileSync(f)));

async function read(sources) {
  const text = sources.map((s) => `#include "${process.cwd()}/${s.root}${s.path}"\n`).join("");
  const stamp = `${folder}/${digest(rules, text, ...sources.map((s) => readFileSync(s.root + s.path)))}`;
  if (existsSync(stamp)) return "";
  const unit = `${stamp}.cpp`;
  writeFileSync(unit, text);
  return new Promise((done) => {
    execFile("clang-tidy-14", ["--quiet", unit, "--", "-std=c++20", ...flags], { maxBuffer: 1 << 26 }, (fault, said, others) => {
      // What it says on standard error is only how many warnings of others' headers it left out.
      if (fault) return done(`${said}${others}`);
      writeFileSync(stamp, "");
      done("");
    });
  });
}

const waiting = bins.map((bin) => bin.sources).sort((a, b) => lines_of(b) - lines_of(a));
const faults = [];
const lane = async () => {
  for (let one = waiting.shift(); one; one = waiting.shift()) {
    const said = await read(one);
    if (said) faults.push(said);
  }
};
await Promise.all(Array.from({ length: availableParallelism() }, lane));
if (faults.length > 0) {
  console.error(faults.join("\n"));
  process.exit(1);
}
console.log(`lint found nothing in ${bins.reduce((sum, bin) => sum + bin.sources.length, 0)} sources, read as ${bins.length}`);
