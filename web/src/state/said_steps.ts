// What people said at the machine of a head: steps of its walk, put aside. Each is an entry of the job.

import type { CutProgram } from '../api/types';
import { record } from '../entry/outbox';
import { entries, job, shown, waitingHere } from './open_job';

// Of a file that was taken also what it does, and what its sheet planned its first seats to read.
export interface Taken { moves?: string | null; planned?: Record<string, string> }
interface Said extends Taken { step: string; done: boolean }

// What was said to be done of a head, newest last, what still waits to be sent included.
export function doneWords(head: string): Record<string, unknown>[] {
  return [
    ...entries.value.entries.filter((e) => e.live && e.kind === 'done' && e.head === head).map((e) => e.values),
    ...waitingHere.value.filter((w) => w.body['kind'] === 'done' && w.body['head'] === head).map((w) => (w.body['values'] ?? {}) as Record<string, unknown>),
  ];
}

const wordsOf = (head: string): Said[] =>
  doneWords(head).flatMap((v) => (typeof v['step'] === 'string' ? [{ ...(v as Taken), step: v['step'], done: v['done'] === true }] : []));

export function saidOf(head: string): Set<string> {
  const last = new Map(wordsOf(head).map((w) => [w.step, w.done]));
  return new Set([...last].filter(([, done]) => done).map(([step]) => step));
}

// Of the files taken of a head, the newest of each step: what they did, and what their first seats were to read.
export function takenOf(head: string): { moves: Map<string, string>; planned: Record<string, string> } {
  const all = wordsOf(head).filter((w) => w.done);
  return {
    moves: new Map(all.flatMap((w) => (typeof w.moves === 'string' ? [[w.step, w.moves] as const] : []))),
    planned: Object.assign({}, ...all.map((w) => w.planned ?? {})) as Record<string, string>,
  };
}

// What the sheet of these files plans their first seats to read, by seat and figure.
export const plannedIn = (programs: CutProgram[]): Record<string, string> =>
  Object.fromEntries(programs.flatMap((p) => p.first_readings).flatMap((r) => (r.planned_mm === null ? [] : [[`${r.valve} ${r.figure}`, `${r.planned_mm.toFixed(4)} mm`]])));

// Over once the word stands among those that wait to be sent.
export async function say(head: string, step: string, done: boolean, words: string, taken: Taken = {}): Promise<void> {
  const id = job.value?.id;
  if (id !== undefined) await record(id, { kind: 'done', head, valve: '', values: { step, done, ...taken }, units: shown.value }, words);
}
