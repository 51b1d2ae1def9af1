// Which sources can be read as one compilation: cmake/together.txt, which scripts/together.mjs writes.
//
// Two sources may share one when neither sees a name of the other's unnamed namespaces (or a name the other takes in by
// `using`): an overload that is meant for one file would else be found in another.
import { execFileSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";

// Sources that CMakeLists.txt names are compiled in a way of their own, alone.
const own_way = readFileSync("CMakeLists.txt", "utf8").match(/\bsrc\/\S+\.cpp/g) ?? [];

const files = (pattern) =>
  execFileSync("git", ["ls-files", "--cached", "--others", "--exclude-standard", ...pattern], { encoding: "utf8" })
    .split("\n")
    .filter((f) => f.endsWith(".cpp"));

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

// The sources of each library, of the command line, the server and each folder of tests: path below its root, what its
// unnamed namespaces declare, what it says, how long it is and whether CMakeLists.txt compiles it in a way of its own.
export function libraries() {
  const all = new Map();
  const add = (library, root, sources) =>
    all.set(library, sources.map((f) => ({ path: f.slice(root.length), root, alone: own_way.includes(f), ...names_of(f) })));
  for (const folder of new Set(files(["src"]).map((f) => f.split("/")[2]))) add(folder, "src/", files([`src/seatwright/${folder}`]));
  const planning = readFileSync("apps/cli/CMakeLists.txt", "utf8").match(/^set\(planning (.*)\)$/m)[1].split(" ");
  const cli = files([":(glob)apps/cli/*.cpp"]);
  const plans = (f) => planning.includes(f.replace(/.*\/(.*)\.cpp/, "$1"));
  add("cli that plans", "apps/", cli.filter(plans));
  add("cli", "apps/", cli.filter((f) => !plans(f)));
  add("server", "apps/", files(["apps/server"]));
  for (const folder of new Set(files(["tests"]).filter((f) => f.split("/").length > 2).map((f) => f.split("/")[1])))
    add(`test ${folder}`, "tests/", files([`:(glob)tests/${folder}/*.cpp`]));
  return all;
}

const sees = (name, of) => {
  const alias = name.match(/^(?:using|namespace) (\w+) =/);
  if (alias) return !of.own.has(name) && of.spoken.has(alias[1]);
  return name.startsWith("using ") ? !of.own.has(name) && of.said.has(name.replace(/.*::/, "")) : of.spoken.has(name);
};
const strangers = (a, b) =>
  a.takes === b.takes && ![...a.own].some((n) => sees(n, b)) && ![...b.own].some((n) => sees(n, a));

export const lines_of = (unit) => unit.reduce((sum, s) => sum + s.lines, 0);

// The units of one library, each of at most `most` lines; `had`: the unit a source had before, which it keeps where it may.
export function units_of(sources, most, had = () => undefined) {
  const units = [];
  const fits = (unit, s) => unit.every((other) => strangers(other, s)) && lines_of(unit) + s.lines <= most;
  const rest = [];
  for (const s of sources) {
    const unit = had(s.path);
    if (unit !== undefined && fits(units[unit] ?? [], s)) (units[unit] ??= []).push(s);
    else rest.push(s);
  }
  for (const s of rest.sort((a, b) => b.lines - a.lines)) {
    let unit = 0;
    while (units[unit] && !fits(units[unit], s)) ++unit;
    (units[unit] ??= []).push(s);
  }
  return units;
}
