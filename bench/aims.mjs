// What is aimed at, by bench and row (aims.json), against what was measured. A limit is a figure that may be reached and not
// passed, of a counter by its name or of the time as `real_time_ms`; { times, of } is so many times that of another row.
import { readFileSync } from "node:fs";

export const aims = () => JSON.parse(readFileSync(new URL("aims.json", import.meta.url), "utf8"));

const inMs = { ns: 1e-6, us: 1e-3, ms: 1, s: 1e3 };

// "without_pause" is the row "without_pause/iterations:1/real_time", "one_reading/10" not "one_reading/1000/…".
const rowOf = (benchmarks, name) => benchmarks.find((b) => b.name === name || b.name.startsWith(`${name}/`));

function figureOf(row, what) {
  if (!row || row.error_occurred) return undefined;
  return what === "real_time_ms" ? row.real_time * inMs[row.time_unit] : row[what];
}

// Each aim of a bench: row, what, the most it may be, what it is; figures that are not there are undefined.
export function held(ofBench, benchmarks) {
  return Object.entries(ofBench ?? {}).flatMap(([name, limits]) => Object.entries(limits).map(([what, limit]) => {
    const most = typeof limit === "number" ? limit : limit.times * (figureOf(rowOf(benchmarks, limit.of), what) ?? NaN);
    return { name, what, most, is: figureOf(rowOf(benchmarks, name), what) };
  }));
}

// A sentence for each that is missed; what was not measured is missed, too.
export function missed(ofBench, benchmarks) {
  return held(ofBench, benchmarks).filter(({ most, is }) => !(is <= most)).map(({ name, what, most, is }) =>
    is === undefined ? `${name}: no ${what} was measured` : Number.isNaN(most) ? `${name}: what its ${what} is held against was not measured` : `${name}: ${what} is ${Number(is.toPrecision(4))}, the aim is ${Number(most.toPrecision(4))}`);
}

// "p99_ms 20.0", for the table.
export const aimsOf = (ofBench, benchmarks, row) => held(ofBench, benchmarks).filter(({ name }) => rowOf(benchmarks, name) === row)
  .map(({ what, most, is }) => `${what} ${Number(most.toPrecision(3))}${is <= most ? "" : " **missed**"}`).join(", ");
