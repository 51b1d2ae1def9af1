// What people said at the machine of a head: steps of its walk, put aside, notes. Each is an entry of the job.

import type { Entry } from '../api/types';
import { record } from '../entry/outbox';
import { entries, job, shown, waitingHere } from './open_job';

const notePrefix = 'note: ';
export const longestNote = 100; // letters: a step's name has 120

interface Said { step: string; done: boolean; entry?: Entry }

// Newest word of each step, what still waits to be sent included.
function wordsOf(head: string): Said[] {
  const stored: Said[] = entries.value.entries.filter((e) => e.live && e.kind === 'done' && e.head === head && typeof e.values['step'] === 'string')
    .map((e) => ({ step: String(e.values['step']), done: e.values['done'] === true, entry: e }));
  const unsent: Said[] = waitingHere.value.filter((w) => w.body['kind'] === 'done' && w.body['head'] === head)
    .flatMap((w) => { const v = w.body['values'] as Record<string, unknown> | undefined; return typeof v?.['step'] === 'string' ? [{ step: v['step'], done: v['done'] === true }] : []; });
  return [...stored, ...unsent];
}

export function saidOf(head: string): Set<string> {
  const last = new Map(wordsOf(head).map((w) => [w.step, w.done]));
  return new Set([...last].filter(([, done]) => done).map(([step]) => step));
}

export const notesOf = (head: string): { words: string; by: string; at: string }[] => wordsOf(head)
  .filter((w) => w.done && w.step.startsWith(notePrefix)).map((w) => ({ words: w.step.slice(notePrefix.length), by: w.entry?.by ?? '', at: w.entry?.at ?? '' }));

export function say(head: string, step: string, done: boolean, words: string): void {
  const id = job.value?.id;
  if (id !== undefined) void record(id, { kind: 'done', head, valve: '', values: { step, done }, units: shown.value }, words);
}

export const note = (head: string, words: string) => say(head, `${notePrefix}${words.slice(0, longestNote)}`, true, `note on head ${head}`);
