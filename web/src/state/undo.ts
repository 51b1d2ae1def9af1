// Undo, newest first: what this screen did since it was opened, then the document's own earlier versions.
// Nothing is erased: an entry is taken back by another entry, a change by a further version.

import { signal } from '@preact/signals';
import { post, sentenceOf, session } from '../api/client';
import type { Entry, Job } from '../api/types';
import { outbox, takeBack } from '../entry/outbox';
import { entries, job, refresh } from './open_job';

type Done = { kind: 'entry'; id: number } | { kind: 'document'; version: number };
const done = signal<Done[]>([]);
export const undoTrouble = signal<string | null>(null);

outbox.onTaken((entry, answer) => {
  if (entry.job !== String(job.value?.id ?? '')) return;
  if ('edits' in entry.body) {
    done.value = [...done.value, { kind: 'document', version: (answer as Job).version }];
  } else if (entry.path.endsWith('/entries') && entry.body['withdrawn'] !== true) {
    done.value = [...done.value, { kind: 'entry', id: (answer as Entry).id }];
  }
});

// What undo would do now, in words; null = nothing.
export function undoWords(): string | null {
  const unsent = lastUnsent();
  if (unsent) return `Undo ${unsent.words}`;
  const last = done.value.at(-1);
  if (last?.kind === 'entry') {
    const entry = entries.value.entries.find((e) => e.id === last.id);
    if (entry?.live) return `Undo ${entry.kind} ${entry.valve}`;
  }
  return job.value?.undo_to != null ? 'Undo the last change' : null;
}

export async function undo(): Promise<void> {
  undoTrouble.value = null;
  const here = job.value;
  if (!here || !session.value?.person) return;
  const unsent = lastUnsent();
  if (unsent) return outbox.letGo(unsent.key);
  const last = done.value.at(-1);
  done.value = done.value.slice(0, -1);
  if (last?.kind === 'entry') {
    const entry = entries.value.entries.find((e) => e.id === last.id);
    if (entry?.live) {
      await takeBack(here.id, entry, `take back ${entry.kind} ${entry.valve}`);
      return;
    }
  }
  await step('undo', here);
}

export async function redo(): Promise<void> {
  undoTrouble.value = null;
  if (job.value) await step('redo', job.value);
}

async function step(which: 'undo' | 'redo', here: Job): Promise<void> {
  try {
    await post(`/jobs/${here.id}/${which}`, { version: here.version });
    await refresh();
  } catch (fault) {
    undoTrouble.value = sentenceOf(fault);
  }
}

// Only while the server is away: otherwise the entry may be on its way this very moment.
function lastUnsent() {
  if (!outbox.away.value) return undefined;
  return outbox.entries.value.filter((e) => e.job === String(job.value?.id ?? '') && e.state === 'waiting').at(-1);
}
