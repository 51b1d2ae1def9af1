// The job on the screen: its document, what is computed from it, its entries; kept fresh by server-sent
// events, and readable from the last answers while the server is away.

import { computed, signal } from '@preact/signals';
import { Away, get, Refusal, sentenceOf, serverAway } from '../api/client';
import { listen, type Listening } from '../api/events';
import type { Entry, EntryList, Job, LedgerLine, Setup, State } from '../api/types';
import { keepAnswer, keptAnswer } from '../entry/disk';
import { follower, isMine, isReading, outbox } from '../entry/outbox';
import type { LengthUnit } from '../numbers/quantity';
import { isDelta, patched, type Delta } from '../api/delta';
import { prepare } from './prepare';
import { ofHead, type OwnState } from './own_state';
import { units } from './settings';

export const job = signal<Job | null>(null);
const answer = signal<State | null>(null); // the server's last, of whichever head it is
export const entries = signal<EntryList>({ entries: [], conflicts: [], sequence: 0 });
export const head = signal(''); // the head chosen; empty until the job's readings are known
export const trouble = signal<string | null>(null);
export const lastChange = signal<LedgerLine | null>(null); // by somebody, as the event said it
export const drawn = signal(0); // counts refreshes, so that drawings fetch themselves anew

// The units shown: the person's choice, else the job's.
export const shown = computed<LengthUnit>(() => (units.value === 'job' ? job.value?.units ?? 'mm' : units.value));
// The head on the machine; it may have no reading yet, and then the server does not know it.
export const headHere = computed(() => (head.value !== '' ? head.value : answer.value?.head || '1'));
const isRead = (of: string) => entries.value.entries.some((e) => e.live && e.head === of && isReading(e.kind));
// What the stages answer of that head, and of no other.
export const state = computed<OwnState | null>(() => (answer.value === null ? null : ofHead(answer.value, headHere.value, isRead(headHere.value))));
export const setups = computed<Setup[]>(() => state.value?.results.hold?.setups ?? []);
export const waitingHere = computed(() => outbox.entries.value.filter((e) => e.job === String(job.value?.id ?? '') && isMine(e)));

const many = 300; // heads: fewer are worked out within a second
let id = 0;
let listening: Listening | undefined;
let answered = ''; // the question `answer` is the answer to
let beingWorkedOut: string | null = null; // while the server works much out again
let listed = 0; // the sequence up to which the server has told this screen every entry
let busy = false;
let again = false;

export function openJob(wanted: number): void {
  if (wanted === id) return;
  closeJob();
  id = wanted;
  // The head this screen works at: what still waits to be sent says it most surely.
  const unsent = outbox.entries.value.filter((e) => e.job === String(id) && typeof e.body['head'] === 'string').at(-1);
  head.value = unsent ? String(unsent.body['head']) : localStorage.getItem(`seatwright.head.${id}`) ?? '';
  void refresh();
  listening = listen(`/jobs/${id}/events`, ['entry', 'version', 'archived', 'computed', 'sent', 'resync'], () => void refresh(),
    () => {
      void refresh();
      void outbox.flush();
    });
}

export function closeJob(): void {
  listening?.close();
  listening = undefined;
  id = 0;
  job.value = null;
  answer.value = null;
  answered = '';
  listed = 0;
  head.value = '';
  trouble.value = null;
  entries.value = { entries: [], conflicts: [], sequence: 0 };
}

export function chooseHead(chosen: string): void {
  head.value = chosen;
  localStorage.setItem(`seatwright.head.${id}`, chosen);
  void refresh();
}

// Fetches all anew; calls made while one is under way become one more.
export async function refresh(): Promise<void> {
  if (id === 0) return;
  if (busy) {
    again = true;
    return;
  }
  busy = true;
  try {
    await fetchAll(id);
  } finally {
    busy = false;
    if (again) {
      again = false;
      void refresh();
    }
  }
}

async function fetchAll(wanted: number): Promise<void> {
  try {
    const listing = entriesNow(wanted); // the longest of a large job: the state comes meanwhile where the head is known
    listing.catch(() => undefined);
    const document = await remembered<Job>(`/jobs/${wanted}`);
    if (head.value === '') head.value = workedAt((await listing).entries);
    const known = head.value !== '';
    const unit = units.value === 'job' ? document.units : units.value; // as `shown` is from then on
    const query = `?units=${unit}${known ? `&head=${encodeURIComponent(head.value)}` : ''}`;
    if (answer.value === null && (document.heads?.all ?? 0) >= many && !serverAway.value) await prepare(wanted, { units: unit, ...(known ? { head: head.value } : {}) });
    const computedState = await stateNow(`/jobs/${wanted}/state`, query);
    const list = await listing;
    if (wanted !== id) return;
    job.value = document;
    entries.value = withNewer(list, entries.value);
    listed = list.sequence;
    answer.value = computedState;
    answered = query;
    trouble.value = beingWorkedOut;
    drawn.value += 1;
  } catch (fault) {
    trouble.value = sentenceOf(fault);
  }
}

// Only what came in since the last list, and what that may have changed of earlier entries.
async function entriesNow(wanted: number): Promise<EntryList> {
  const path = `/jobs/${wanted}/entries`;
  if (listed === 0) return remembered<EntryList>(path);
  try {
    const fresh = await get<EntryList & { since?: number }>(`${path}?since=${listed}`);
    if (wanted !== id) return fresh;
    const now = new Map(fresh.entries.map((e) => [e.id, e]));
    const old = fresh.since === undefined ? [] : entries.value.entries.filter((e) => !now.has(e.id));
    const merged = [...old, ...fresh.entries].sort((a, b) => a.sequence - b.sequence);
    const whole = { entries: merged, conflicts: fresh.conflicts, sequence: fresh.sequence };
    keepAnswer(path, whole);
    return whole;
  } catch (fault) {
    if (fault instanceof Away) return { ...entries.value, sequence: listed };
    throw fault;
  }
}

// Of the state the page has only what has changed comes; where the server does not know that state any more, the
// whole of the open head.
async function stateNow(path: string, query: string): Promise<State> {
  const known = answered === query ? answer.value : null;
  beingWorkedOut = null;
  if (known?.key === undefined) return remembered<State>(`${path}${query}`, path);
  try {
    const fresh = await get<State | Delta>(`${path}${query}&since=${known.key}`);
    const latest = answered === query ? answer.value ?? known : known; // an entry's answer may have been quicker
    if (isDelta(fresh)) beingWorkedOut = fresh.again ?? null;
    if (isDelta(fresh) && fresh.since !== latest.key) return latest;
    const whole = isDelta(fresh) ? patched(latest, fresh.patch) : fresh;
    keepAnswer(`${path}${query}`, whole);
    keepAnswer(path, whole);
    return whole;
  } catch (fault) {
    if (fault instanceof Away) return known;
    if (fault instanceof Refusal) throw fault;
    return remembered<State>(`${path}${query}`, path);
  }
}

const sinceNow = () => (answer.value?.key === undefined ? '' : `${answered}&since=${answer.value.key}`);
follower.query = (of) => (of === String(id) ? sinceNow() : '');
follower.heard = (of, query, delta) => {
  if (of !== String(id) || answer.value === null || query !== sinceNow()) return;
  try {
    answer.value = patched(answer.value, delta.patch);
  } catch {
    answered = ''; // the refresh asks for the whole
  }
};

// A list asked for before an entry of this screen was stored does not take it away again.
function withNewer(list: EntryList, known: EntryList): EntryList {
  const newer = known.entries.filter((e) => e.sequence > list.sequence);
  return newer.length === 0 ? list : { ...list, entries: [...list.entries, ...newer], sequence: known.sequence };
}

// The head that is most likely on the machine: the last one with readings of a seat before cutting, else the first on record.
function workedAt(all: Entry[]): string {
  const readings = all.filter((e) => e.live && isReading(e.kind));
  return (readings.filter((e) => e.kind === 'seat').at(-1) ?? readings[0])?.head ?? '';
}

// `otherwise`: under which the last answer of any head is kept too; of another head only what is the casting's is shown.
async function remembered<T>(path: string, otherwise?: string): Promise<T> {
  try {
    const answer = await get<T>(path);
    keepAnswer(path, answer);
    if (otherwise !== undefined) keepAnswer(otherwise, answer);
    return answer;
  } catch (fault) {
    const old = fault instanceof Away ? await keptAnswer<T>(path) ?? (otherwise === undefined ? undefined : await keptAnswer<T>(otherwise)) : undefined;
    if (old === undefined) throw fault;
    return old;
  }
}

outbox.onTaken((entry, answer) => {
  if (entry.job !== String(id)) return;
  // Shown as stored at once; what follows from it comes with the refresh.
  if (entry.path.endsWith('/entries')) {
    const stored = answer as Entry;
    const others = entries.value.entries.filter((e) => e.id !== stored.id);
    entries.value = { ...entries.value, entries: [...others, stored], sequence: Math.max(entries.value.sequence, stored.sequence) };
  }
  void refresh();
});
