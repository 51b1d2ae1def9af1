// node scripts/together.mjs: writes cmake/together.txt anew, the list of which sources are compiled as one.
//
// Two sources may share a compilation when neither sees a name of the other's unnamed namespaces (or a name the other
// takes in by `using`): an overload that is meant for one file would else be found in another. So a source goes into
// the first unit of its library whose members know nothing of its names, nor it of theirs, and that is not full.
// Sources that are on the list already keep their unit where they still may, so that little is compiled again.
import { execFileSync } from "node:child_process";
import { existsSync, readFileSync, writeFileSync } from "node:fs";

const most_lines = 1700; // of a unit; larger ones are slow to compile again after a small change
const most_lines_linted = 12000; // reading the headers is most of what lint costs: once for many sources
const list = "cmake/together.txt";

// Sources that CMakeLists.txt names are compiled in a way of their own, alone.
const own_way = readFileSync("CMakeLists.txt", "utf8").match(/\bsrc\/\S+\.cpp/g) ?? [];

const files = (pattern) =>
  execFileSync("git", ["ls-files", "--cached", "--others", "--exclude-standard", ...pattern], { encoding: "utf8" })
    .split("\n")
    .filter((f) => f.endsWith(".cpp") && !own_way.includes(f));

// Comments, texts and preprocessor lines away.
function bare(text) {
  return text
    .replace(/R"(\w*)\([\s\S]*?\)\1"/g, '""')
    .replace(/\/\/.*|\/\*[\s\S]*?\*\/|"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])+'/g, (m) => (m[0] === '"' ? '""' : m[0] === "'" && !/^'\d/.test(m) ? "0" : " "))
    .replace(/^[ \t]*#.*(?:\\\n.*)*$/gm, "");
}

// What a statement at namespace level declares; a function's name ends in "(".
function declared(statement) {
  if (/^(using\s+(enum|namespace)\b|[A-Z_]+\()/.test(statement)) return []; // or a macro: a test
  const s = statement.replace(/\b(template)\s*<[^{;]*?>(?=\s*\w)/g, " ").trim();
  if (/^(using|namespace)\s+\w+\s*=/.test(s)) return [s.replace(/\s+/g, " ")]; // whole, likewise
  let m = s.match(/\b(?:struct|class|enum(?:\s+class)?|union)\s+(\w+)\s*(?:[:{]|final|$)/);
  if (m) return [m[1]];
  if (/^using\b/.test(s)) return [s]; // whole: the same one may stand in both
  m = s.match(/(operator\s*\S+?|\w+)\s*\(/);
  const equals = s.search(/[={[]/);
  if (m && (equals < 0 || m.index < equals)) return [m[1].replace(/\s/g, "") + "("];
  const parts = s.replace(/[({[<][^()]*[)}\]>]/g, "").split(","); // int a = 1, b = 2
  return parts.flatMap((part) => part.match(/(\w+)\s*(?:[={[]|$)/)?.[1] ?? []);
}

// Every name a text speaks freely (not after . -> ::); "name(" where it is called, not where it is declared.
function spoken_in(text) {
  const spoken = new Set();
  for (const m of text.matchAll(/([\w>]\s+[&*]?|[\w>][&*]\s+|\.|->|::)?\b([A-Za-z_]\w*)\b(\s*[(<])?/g)) {
    const [, before = "", name, call] = m;
    if (/^(\.|->|::)/.test(before)) continue;
    spoken.add(name);
    const declares = before !== "" && !/\b(return|else|throw|case|not|and|or)\s+$/.test(text.slice(Math.max(0, m.index - 9), m.index + before.length));
    if (call && !declares) spoken.add(name + "(");
  }
  return spoken;
}

// What a source or header says together with the headers of ours it reads, which a unit's earlier members come before.
const heard = new Map();
function spoken_of(path) {
  if (heard.has(path)) return heard.get(path);
  const all = new Set();
  heard.set(path, all);
  const whole = readFileSync(path, "utf8");
  for (const [, name] of whole.matchAll(/^#include "([^"]+)"/gm))
    for (const root of ["src/", "apps/", "tests/", path.replace(/[^/]*$/, "")])
      if (existsSync(root + name)) {
        for (const n of spoken_of(root + name)) all.add(n);
        break;
      }
  for (const n of spoken_in(bare(whole))) all.add(n);
  return all;
}

// Names of its unnamed namespaces and usings, and what it speaks. A function of the other's is only seen by a call.
function names_of(path) {
  const text = bare(readFileSync(path, "utf8"));
  const own = new Set();
  const takes = new Set(); // whole namespaces and enumerations: only sources that take the same ones share
  const scopes = []; // "named", "unnamed" or "other" of each open brace
  let begin = 0;
  let parens = 0;
  for (let i = 0; i < text.length; ++i) {
    const c = text[i];
    if (c === "(") ++parens;
    if (c === ")") --parens;
    if (parens > 0) continue;
    const at_namespace = scopes.every((s) => s !== "other");
    if (c === "{") {
      const head = text.slice(begin, i).trim();
      const space = head.match(/^(?:inline\s+)?namespace\s*([\w:]*)$/);
      if (space) scopes.push(space[1] ? "named" : "unnamed");
      else {
        if (at_namespace && scopes.includes("unnamed")) {
          for (const n of declared(head + "{")) own.add(n);
          if (/\benum\s+(?!class)/.test(head)) // its enumerators stand open
            for (const [n] of text.slice(i, text.indexOf("}", i)).matchAll(/\w+(?=\s*[,}=]|$)/g)) own.add(n);
        }
        scopes.push("other");
      }
      begin = i + 1;
    } else if (c === "}") {
      scopes.pop();
      begin = i + 1;
    } else if (c === ";") {
      const statement = text.slice(begin, i).trim();
      if (at_namespace && (scopes.includes("unnamed") || /^(static|using)\b/.test(statement)))
        for (const n of declared(statement)) own.add(n);
      if (at_namespace && /^using\s+(enum|namespace)\b/.test(statement)) takes.add(statement);
      begin = i + 1;
    }
  }
  const spoken = spoken_of(path);
  return { own, spoken, said: spoken_in(text), takes: [...takes].sort().join(), lines: text.split("\n").length };
}

const libraries = new Map();
const add = (library, root, sources) =>
  libraries.set(library, sources.map((f) => ({ path: f.slice(root.length), ...names_of(f) })));
for (const folder of new Set(files(["src"]).map((f) => f.split("/")[2]))) add(folder, "src/", files([`src/seatwright/${folder}`]));
const planning = readFileSync("apps/cli/CMakeLists.txt", "utf8").match(/^set\(planning (.*)\)$/m)[1].split(" ");
const cli = files([":(glob)apps/cli/*.cpp"]);
const plans = (f) => planning.includes(f.replace(/.*\/(.*)\.cpp/, "$1"));
add("cli that plans", "apps/", cli.filter(plans));
add("cli", "apps/", cli.filter((f) => !plans(f)));
add("server", "apps/", files(["apps/server"]));
for (const folder of new Set(files(["tests"]).filter((f) => f.split("/").length > 2).map((f) => f.split("/")[1])))
  add(`test ${folder}`, "tests/", files([`:(glob)tests/${folder}/*.cpp`]));

const known = new Map(
  readFileSync(list, "utf8").split("\n").map((l) => l.split(" ")).filter(([path, unit]) => path && unit && path !== "#").map(([path, ...units]) => [path, units.map(Number)]),
);
const sees = (name, of) => {
  const alias = name.match(/^(?:using|namespace) (\w+) =/);
  if (alias) return !of.own.has(name) && of.spoken.has(alias[1]);
  return name.startsWith("using ") ? !of.own.has(name) && of.said.has(name.replace(/.*::/, "")) : of.spoken.has(name);
};
const strangers = (a, b) =>
  a.takes === b.takes && ![...a.own].some((n) => sees(n, b)) && ![...b.own].some((n) => sees(n, a));

// The units of one library, each of at most so many lines; `had`: the unit a source had before.
function units_of(sources, most, had) {
  const units = [];
  const fits = (unit, s) =>
    (unit ?? []).every((other) => strangers(other, s)) && (unit ?? []).reduce((n, o) => n + o.lines, s.lines) <= most;
  const rest = [];
  for (const s of sources) {
    const unit = had(s.path);
    if (unit !== undefined && fits(units[unit], s)) (units[unit] ??= []).push(s);
    else rest.push(s);
  }
  for (const s of rest.sort((a, b) => b.lines - a.lines)) {
    let unit = 0;
    while (units[unit] && !fits(units[unit], s)) ++unit;
    (units[unit] ??= []).push(s);
  }
  return units;
}

const lines = [];
let count = 0;
let alone = 0;
for (const sources of libraries.values()) {
  const [compiled, linted] = [most_lines, most_lines_linted].map((most, i) => units_of(sources, most, (path) => known.get(path)?.[i]));
  const unit_in = (units, s) => units.findIndex((unit) => unit?.includes(s));
  for (const s of sources) lines.push(`${s.path} ${unit_in(compiled, s)} ${unit_in(linted, s)}`);
  const filled = compiled.filter((u) => u?.length > 0);
  count += filled.length;
  alone += filled.filter((u) => u.length === 1).length;
}
writeFileSync(
  list,
  `# Sources compiled as one: a path below src/, apps/ or tests/, the number of its unit in its library and, of the larger
# units that lint reads, the number of that. Written by scripts/together.mjs, which says when two may share one. A source
# that is not here is compiled alone.
${lines.sort().join("\n")}\n`,
);
console.log(`${lines.length} sources in ${count} units, ${alone} of them with one source`);
