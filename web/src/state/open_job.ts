// The job on the screen: its document, what is computed from it, its entries; kept fresh by server-sent
// events, and readable from the last answers while the server is away.

import { computed, signal } from '@preact/signals';
import { Away, get, sentenceOf, serverAway } from '../api/client';
import { listen, type Listening } from '../api/events';
import type { Entry, EntryList, Job, LedgerLine, Setup, State } from '../api/types';
import { keepAnswer, keptAnswer } from '../entry/disk';
import { outbox } from '../entry/outbox';
import type { LengthUnit } from '../numbers/quantity';
import { prepare } from './prepare';
import { units } from './settings';

export const job = signal<Job | null>(null);
export const state = signal<State | null>(null);
export const entries = signal<EntryList>({ entries: [], conflicts: [], sequence: 0 });
export const head = signal(''); // the head the person chose; empty = the server's choice
export const trouble = signal<string | null>(null);
export const lastChange = signal<LedgerLine | null>(null); // by somebody, as the event said it
export const drawn = signal(0); // counts refreshes, so that drawings fetch themselves anew

// The units shown: the person's choice, else the job's.
export const shown = computed<LengthUnit>(() => (units.value === 'job' ? job.value?.units ?? 'mm' : units.value));
// The head on the machine; it may have no reading yet, and then the server does not know it.
export const headHere = computed(() => (head.value !== '' ? head.value : state.value?.head || '1'));
export const setups = computed<Setup[]>(() => state.value?.results.hold?.setups ?? []);
export const waitingHere = computed(() => outbox.entries.value.filter((e) => e.job === String(job.value?.id ?? '')));

const many = 300; // heads: fewer are worked out within a second
const notReadings = new Set(['done', 'choice', 'override']);
let id = 0;
let listening: Listening | undefined;
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
  listening = listen(`/jobs/${id}/events`, ['entry', 'version', 'archived', 'resync'], () => void refresh(),
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
  state.value = null;
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
    const [document, list] = await Promise.all([remembered<Job>(`/jobs/${wanted}`), remembered<EntryList>(`/jobs/${wanted}/entries`)]);
    // The server knows a head by its readings; one without any is not asked for.
    const known = list.entries.some((e) => e.live && e.head === head.value && !notReadings.has(e.kind));
    const query = `?units=${shown.value}${known ? `&head=${encodeURIComponent(head.value)}` : ''}`;
    const heads = new Set(list.entries.map((e) => e.head)).size;
    if (state.value === null && heads >= many && !serverAway.value) await prepare(wanted, { units: shown.value, ...(known ? { head: head.value } : {}) });
    const computedState = await remembered<State>(`/jobs/${wanted}/state${query}`);
    if (wanted !== id) return;
    const first = job.value === null;
    job.value = document;
    entries.value = list;
    state.value = computedState;
    trouble.value = null;
    drawn.value += 1;
    // The first question went out in mm when the job's own units were not known yet.
    if (first && !query.startsWith(`?units=${shown.value}`)) again = true;
  } catch (fault) {
    trouble.value = sentenceOf(fault);
  }
}

async function remembered<T>(path: string): Promise<T> {
  try {
    const answer = await get<T>(path);
    void keepAnswer(path, answer);
    return answer;
  } catch (fault) {
    const old = fault instanceof Away ? await keptAnswer<T>(path) : undefined;
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
