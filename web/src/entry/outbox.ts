// The one queue of this browser, and how its entries are sent. A change of the job document is made on a
// version: if the job moved on meanwhile but not at the places changed, the change is made again on the new
// version; if the same place holds another value by now, the person chooses.

import { ask, Away, get, Refusal, session } from '../api/client';
import { valueAt } from '../api/tree';
import type { Edit, Entry, EntryKind, Job, TreeValue } from '../api/types';
import type { LengthUnit } from '../numbers/quantity';
import type { Delta } from '../api/delta';
import { disk } from './disk';
import { EntryQueue, type NewEntry, type Outcome } from './queue';
import { readsHere } from './reads_here';
import type { Waiting } from './waiting';

const rebaseTries = 5; // each needs another person's change in between

const me = () => session.peek()?.person ?? null;
// An entry goes under the name of whoever made it, or waits for that person to sign in again.
export const isMine = (entry: Pick<Waiting, 'by'>): boolean => entry.by === undefined || entry.by.id === (session.value?.person?.id ?? 0);

export const outbox = new EntryQueue(disk, send, (entry) => me() !== null && isMine(entry));

// The page's state that an entry's answer may bring up to date: what to ask for with the entry, and what came
// of it.
export const follower = {
  query: (_job: string): string => '',
  heard: (_job: string, _query: string, _delta: Delta): void => {},
};

interface EditBody { version: number; edits: Edit[]; what: string; base: Record<string, TreeValue | undefined> }

async function send(entry: Waiting): Promise<Outcome> {
  if (!session.value?.person) return { kind: 'away' };
  try {
    if ('edits' in entry.body) return await sendEdits(entry, entry.body as unknown as EditBody);
    const query = follower.query(entry.job);
    const { delta, ...answer } = await ask<{ delta?: Delta }>(entry.method, `${entry.path}${query}`, { ...entry.body, client_key: entry.key, made_at: entry.madeAt });
    if (delta) follower.heard(entry.job, query, delta);
    return { kind: 'taken', answer };
  } catch (fault) {
    return outcomeOf(fault);
  }
}

function outcomeOf(fault: unknown): Outcome {
  if (fault instanceof Refusal) {
    // Signed out, or the server is busy: the entry is not at fault.
    if (fault.status === 401 || fault.status === 429 || fault.status >= 500) return { kind: 'away' };
    return { kind: 'refused', sentence: fault.message };
  }
  if (fault instanceof Away) return { kind: 'away' };
  return { kind: 'refused', sentence: String(fault) };
}

async function sendEdits(entry: Waiting, body: EditBody): Promise<Outcome> {
  let version = body.version;
  for (let attempt = 0; attempt < rebaseTries; ++attempt) {
    try {
      const answer = await ask<Job>('POST', entry.path, { version, edits: body.edits, what: body.what });
      return { kind: 'taken', answer };
    } catch (fault) {
      if (!(fault instanceof Refusal) || fault.status !== 409) throw fault;
    }
    const now = await get<Job>(`/jobs/${entry.job}`);
    const moved = body.edits.filter((e) => !same(valueAt(now.tables, e.key), body.base[e.key])
      && !same(valueAt(now.tables, e.key), e.value));
    if (moved.length > 0) {
      const theirs = moved.map((e) => ({ key: e.key, value: valueAt(now.tables, e.key), by: now.changed_by }));
      return { kind: 'differs', theirs,
        sentence: `${now.changed_by} changed ${moved.length === 1 ? 'the same figure' : 'the same figures'} meanwhile.` };
    }
    version = now.version;
  }
  return { kind: 'away' };
}

const same = (a: unknown, b: unknown) => JSON.stringify(a ?? null) === JSON.stringify(b ?? null);

export interface Reading {
  kind: EntryKind;
  head: string;
  valve: string;
  values: Record<string, unknown>;
  units: LengthUnit;
  corrects?: number;
  withdrawn?: boolean;
  repeat?: boolean; // a reading of its own beside the one before
  reason?: string;
}

const notReadings = new Set<EntryKind>(['done', 'choice', 'override', 'note']);
export const isReading = (kind: EntryKind): boolean => !notReadings.has(kind);

const readFor = (of: Reading) => (readsHere() !== '' && isReading(of.kind) && !of.withdrawn ? { read_by: readsHere() } : {});

export function record(job: number, reading: Reading, words: string): Promise<Waiting> {
  const place = reading.kind === 'level'
    ? `level/${reading.head}/${reading.valve}/${String(reading.values['across'])}`
    : `${reading.kind}/${reading.head}/${reading.valve}`;
  return outbox.add(entryFor(job, `/jobs/${job}/entries`, { ...reading, ...readFor(reading) }, words, place));
}

export function takeBack(job: number, entry: Entry, words: string): Promise<Waiting> {
  return record(job, { kind: entry.kind, head: entry.head, valve: entry.valve, values: {}, units: entry.units,
    corrects: entry.id, withdrawn: true }, words);
}

export function choose(job: number, entry: Entry, words: string): Promise<Waiting> {
  return outbox.add(entryFor(job, `/jobs/${job}/choices`, { chosen: entry.id }, words, `choice/${entry.place}`));
}

export interface Word { head: string; valve: string; what: string; verdict: 'pass' | 'fail'; reason: string }

// A lead's word on a verdict.
export function overrule(job: number, word: Word): Promise<Waiting> {
  return outbox.add(entryFor(job, `/jobs/${job}/overrides`, { ...word }, `${word.verdict} by word: ${word.valve} ${word.what}`,
    `override/${word.head}/${word.valve}/${word.what}`));
}

// One change is one version: what is said a second time (by Enter, then by leaving the field) before the page has
// heard of the first is the same change.
let last: { job: number; version: number; edits: string } | undefined;

export async function change(job: Job, edits: Edit[], what: string): Promise<void> {
  const said = { job: job.id, version: job.version, edits: JSON.stringify(edits) };
  if (last && last.job === said.job && last.version === said.version && last.edits === said.edits) return;
  last = said;
  const place = edits.map((e) => e.key).join(' ');
  const base: EditBody['base'] = {};
  for (const e of edits) base[e.key] = valueAt(job.tables, e.key);
  let body: EditBody = { version: job.version, edits, what, base };
  // While nothing can be on its way, a newer value for the same places takes the older one's place in the queue.
  const before = outbox.entries.value.filter((e) => e.job === String(job.id) && e.place === place && 'edits' in e.body && isMine(e)
    && (e.state === 'differs' || outbox.away.value));
  for (const old of before) {
    const was = old.body as unknown as EditBody;
    body = { ...body, version: was.version, base: was.base };
    await outbox.letGo(old.key);
  }
  await outbox.add(entryFor(job.id, `/jobs/${job.id}/edits`, { ...body }, what, place));
}

// What this screen stored is the ground its next changes of the same places stand on: nobody is asked about a
// difference to their own earlier value.
outbox.onTaken(async (entry, answer) => {
  if (!('edits' in entry.body)) return;
  const stored = (entry.body as unknown as EditBody).edits;
  const now = answer as Job;
  await outbox.rebase((later) => {
    if (later.key === entry.key || later.job !== entry.job || !('edits' in later.body)) return undefined;
    const body = later.body as unknown as EditBody;
    const own = body.edits.filter((e) => stored.some((s) => s.key === e.key));
    if (own.length === 0) return undefined;
    const base = { ...body.base };
    for (const e of own) base[e.key] = valueAt(now.tables, e.key);
    return { ...later, body: { ...body, base } };
  });
});

// What a survey's entries wait under.
export const ofSurvey = (id: number): string => `survey-${id}`;

export function entryFor(job: number | string, path: string, body: Record<string, unknown>, words: string, place: string): NewEntry {
  const person = me();
  return { job: String(job), method: 'POST', path, body, words, place, ...(person ? { by: { id: person.id, name: person.name } } : {}) };
}
