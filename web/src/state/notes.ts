// What people noted of a head, a seat or a reading: words, a photograph, the head's name. Each is an entry of the job that
// no stage reads; what still waits to be sent stands among them.

import type { EntryKind } from '../api/types';
import { record } from '../entry/outbox';
import { entries, job, shown, waitingHere } from './open_job';

export interface Note {
  key: string;
  valve: string; // empty: of the whole head
  words: string;
  photograph: string | null; // its SHA-256; null: none, or not sent yet
  unsent: boolean; // with its photograph, if it has one
  reading: number | null; // the entry it is about
  by: string;
  at: string;
  entry?: number; // of one that is stored
}

const kind: EntryKind = 'note';
const before = 'note: '; // how a note was stored before it was a kind of its own

export function notesOf(head: string): Note[] {
  const stored = entries.value.entries.filter((e) => e.live && e.head === head).flatMap((e): Note[] => {
    const { words, photograph, reading, step, done } = e.values;
    const common = { key: String(e.id), valve: e.valve, unsent: false, by: e.by, at: e.at, entry: e.id };
    if (e.kind === 'done' && done === true && typeof step === 'string' && step.startsWith(before)) return [{ ...common, words: step.slice(before.length), photograph: null, reading: null }];
    if (e.kind !== kind || (words === undefined && photograph === undefined)) return [];
    return [{ ...common, words: String(words ?? ''), photograph: typeof photograph === 'string' ? photograph : null, reading: typeof reading === 'number' ? reading : null }];
  });
  const unsent = waitingHere.value.filter((w) => w.body['kind'] === kind && w.body['head'] === head).flatMap((w): Note[] => {
    const values = (w.body['values'] ?? {}) as Record<string, unknown>;
    if (values['words'] === undefined && values['jpeg'] === undefined) return [];
    return [{ key: w.key, valve: String(w.body['valve'] ?? ''), words: String(values['words'] ?? ''), photograph: null, unsent: true, reading: typeof values['reading'] === 'number' ? values['reading'] : null, by: w.by?.name ?? '', at: w.madeAt }];
  });
  return [...stored, ...unsent];
}

// What a person calls the head: a name or the number cast on it. Empty: only the number it has here.
export function nameOfHead(head: string): string {
  const said = [
    ...entries.value.entries.filter((e) => e.live && e.kind === kind && e.head === head).map((e) => e.values['name']),
    ...waitingHere.value.filter((w) => w.body['kind'] === kind && w.body['head'] === head).map((w) => (w.body['values'] as Record<string, unknown> | undefined)?.['name']),
  ];
  return said.filter((n): n is string => typeof n === 'string').at(-1) ?? '';
}

export const headWords = (head: string): string => (nameOfHead(head) === '' ? head : `${head}, ${nameOfHead(head)}`);

export function note(head: string, valve: string, values: { words?: string; jpeg?: string; name?: string; reading?: number }): Promise<unknown> {
  const id = job.value?.id;
  if (id === undefined) return Promise.resolve();
  const what = values.name !== undefined ? `name of head ${head}: ${values.name}` : `${values.jpeg ? 'photograph' : 'note'} on ${valve === '' ? '' : `${valve}, `}head ${head}`;
  return record(id, { kind, head, valve, values, units: shown.value }, what);
}
