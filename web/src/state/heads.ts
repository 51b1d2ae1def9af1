// The heads of the job that is open, and which one comes next.

import { entries, headHere, state } from './open_job';

// The heads in the order they were read, the chosen one among them, and the number a new one gets.
export function headsKnown(): { all: string[]; next: string } {
  const known = state.value?.heads ?? [];
  const here = headHere.value;
  const all = known.includes(here) ? known : [...known, here];
  const numbers = all.map(Number).filter(Number.isInteger);
  return { all, next: String(Math.max(0, ...numbers) + 1) };
}

// The head to go on with: the next one on record that is not measured through, else a new one.
export function headAfter(): string {
  const { all, next } = headsKnown();
  const here = headHere.value;
  const valves = state.value?.valves ?? [];
  const measured = (head: string) => {
    const has = new Set(entries.value.entries.filter((e) => e.live && e.kind === 'proof' && e.head === head).map((e) => e.valve));
    return valves.length > 0 && valves.every((v) => has.has(v.id));
  };
  const at = all.indexOf(here);
  return [...all.slice(at + 1), ...all.slice(0, at)].find((h) => h !== here && !measured(h)) ?? next;
}
