// What people said at the machine of a head: steps of its walk, put aside. Each is an entry of the job.

import { record } from '../entry/outbox';
import { entries, job, shown, waitingHere } from './open_job';

// Of a file that was taken also what it does, and what its sheet planned its first seats to read.
export interface Taken { moves?: string | null; planned?: Record<string, string> }
interface Said extends Taken { step: string; done: boolean }

const said = (v: Record<string, unknown> | undefined): Said[] =>
  (typeof v?.['step'] === 'string' ? [{ ...(v as Taken), step: v['step'], done: v['done'] === true }] : []);

// Newest word of each step, what still waits to be sent included.
function wordsOf(head: string): Said[] {
  const stored = entries.value.entries.filter((e) => e.live && e.kind === 'done' && e.head === head).flatMap((e) => said(e.values));
  const unsent = waitingHere.value.filter((w) => w.body['kind'] === 'done' && w.body['head'] === head)
    .flatMap((w) => said(w.body['values'] as Record<string, unknown> | undefined));
  return [...stored, ...unsent];
}

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

// Over once the word stands among those that wait to be sent.
export async function say(head: string, step: string, done: boolean, words: string, taken: Taken = {}): Promise<void> {
  const id = job.value?.id;
  if (id !== undefined) await record(id, { kind: 'done', head, valve: '', values: { step, done, ...taken }, units: shown.value }, words);
}
