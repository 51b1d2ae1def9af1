// What people said at the machine of a head: steps of its walk, put aside. Each is an entry of the job.

import { record } from '../entry/outbox';
import { entries, job, shown, waitingHere } from './open_job';

interface Said { step: string; done: boolean }

// Newest word of each step, what still waits to be sent included.
function wordsOf(head: string): Said[] {
  const stored: Said[] = entries.value.entries.filter((e) => e.live && e.kind === 'done' && e.head === head && typeof e.values['step'] === 'string')
    .map((e) => ({ step: String(e.values['step']), done: e.values['done'] === true }));
  const unsent: Said[] = waitingHere.value.filter((w) => w.body['kind'] === 'done' && w.body['head'] === head)
    .flatMap((w) => { const v = w.body['values'] as Record<string, unknown> | undefined; return typeof v?.['step'] === 'string' ? [{ step: v['step'], done: v['done'] === true }] : []; });
  return [...stored, ...unsent];
}

export function saidOf(head: string): Set<string> {
  const last = new Map(wordsOf(head).map((w) => [w.step, w.done]));
  return new Set([...last].filter(([, done]) => done).map(([step]) => step));
}

// Over once the word stands among those that wait to be sent.
export async function say(head: string, step: string, done: boolean, words: string): Promise<void> {
  const id = job.value?.id;
  if (id !== undefined) await record(id, { kind: 'done', head, valve: '', values: { step, done }, units: shown.value }, words);
}
