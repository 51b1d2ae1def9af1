// Undo, newest first: what this person did on this screen, and nothing of anybody else's. Nothing is erased: an entry is
// taken back by another entry, a change by a further version.

import { effect, signal } from '@preact/signals';
import { post, sentenceOf, session } from '../api/client';
import type { Entry, Job } from '../api/types';
import { isMine, outbox, takeBack } from '../entry/outbox';
import { entries, headHere, job, refresh } from './open_job';

const name = 'seatwright.done';
const kept = 40; // steps back

// Outlives a reload of the page, not the screen's tab.
const done = signal<Done[]>(JSON.parse(sessionStorage.getItem(name) ?? '[]') as Done[]);
effect(() => sessionStorage.setItem(name, JSON.stringify(done.value.slice(-kept))));
const undone = signal<{ job: string; by: number; version: number } | null>(null); // the version an undo of ours made
export const undoTrouble = signal<string | null>(null);

const me = () => session.value?.person?.id ?? 0;

outbox.onTaken((entry, answer) => {
  const common = { job: entry.job, by: entry.by?.id ?? me(), words: entry.words };
  if ('edits' in entry.body) {
    done.value = [...done.value, { ...common, kind: 'change', version: (answer as Job).version }];
  } else if (entry.path.endsWith('/entries') && entry.body['withdrawn'] !== true) {
    done.value = [...done.value, { ...common, kind: 'entry', id: (answer as Entry).id }];
  }
});

function last(): Done | undefined {
  const now = job.value;
  if (!now) return undefined;
  const live = (id: number) => entries.value.entries.some((e) => e.id === id && e.live);
  return lastOf(done.value, { job: String(now.id), by: me(), version: now.undo_to === null ? -1 : now.version, live });
}

// What undo would take back now, in words; null = nothing.
export function undoWords(): string | null {
  const unsent = lastUnsent();
  if (unsent) return undoLabel(unsent.words, unsent.body['head'], headHere.value);
  const step = last();
  if (!step) return null;
  return undoLabel(step.words, step.kind === 'entry' ? entries.value.entries.find((e) => e.id === step.id)?.head : undefined, headHere.value);
}

// Of another head than the open one it says which, unless its words do already.
export function undoLabel(words: string, of: unknown, here: string): string {
  const said = typeof of !== 'string' || of === '' || of === here || words.includes(`head ${of}`);
  return said ? `Undo: ${words}` : `Undo: head ${of}, ${words}`;
}

export async function undo(): Promise<void> {
  undoTrouble.value = null;
  const here = job.value;
  if (!here || !session.value?.person) return;
  const unsent = lastUnsent();
  if (unsent) return outbox.letGo(unsent.key);
  const step = last();
  if (!step) return;
  done.value = done.value.filter((d) => d !== step);
  if (step.kind === 'change') return stepTo('undo', here);
  const entry = entries.value.entries.find((e) => e.id === step.id);
  if (entry) await takeBack(here.id, entry, `take back ${step.words}`);
}

// A change this person has just undone, while nothing else happened since.
export const mayRedo = () => {
  const now = job.value;
  return now?.redo_to != null && undone.value?.job === String(now.id) && undone.value.by === me() && undone.value.version === now.version;
};

export async function redo(): Promise<void> {
  undoTrouble.value = null;
  if (job.value && mayRedo()) await stepTo('redo', job.value);
}

async function stepTo(which: 'undo' | 'redo', here: Job): Promise<void> {
  try {
    const now = await post<Job>(`/jobs/${here.id}/${which}`, { version: here.version });
    if (which === 'undo') undone.value = { job: String(here.id), by: me(), version: now.version };
    else done.value = [...done.value, { job: String(here.id), by: me(), words: 'the change made again', kind: 'change', version: now.version }];
    await refresh();
  } catch (fault) {
    undoTrouble.value = sentenceOf(fault);
  }
}

// Only while the server is away: otherwise the entry may be on its way this very moment.
function lastUnsent() {
  if (!outbox.away.value) return undefined;
  return outbox.entries.value.filter((e) => e.job === String(job.value?.id ?? '') && e.state === 'waiting' && isMine(e)).at(-1);
}

// Which step undo takes back.
type Done =
  | { job: string; by: number; words: string; kind: 'entry'; id: number }
  | { job: string; by: number; words: string; kind: 'change'; version: number }; // the version it made

// The newest step of this person on this job that can still be taken back: an entry while it stands, a change while
// no later one has been made by anybody.
export function lastOf(all: Done[], here: { job: string; by: number; version: number; live: (id: number) => boolean }): Done | undefined {
  return all.filter((d) => d.job === here.job && d.by === here.by)
    .filter((d) => (d.kind === 'entry' ? here.live(d.id) : d.version === here.version)).at(-1);
}
