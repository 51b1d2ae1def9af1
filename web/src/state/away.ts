// What others changed on a job while this screen was elsewhere or dark, in one line.

import { effect, signal } from '@preact/signals';
import { session } from '../api/client';
import { wordsFor } from './away_words';
import { entries, job } from './open_job';

interface Seen { sequence: number; version: number }
const place = (id: number) => `seatwright.seen.${id}`;

export const meanwhile = signal<{ job: number; words: string } | null>(null);
let open = 0; // the job seen last
let dark = false; // the screen was dark, or another tab in front

export function startAwayWatch(): void {
  document.addEventListener('visibilitychange', () => { if (document.visibilityState === 'hidden') dark = true; });
  effect(() => {
    const here = job.value;
    const list = entries.value;
    if (!here) {
      open = 0;
      return;
    }
    if (document.visibilityState === 'hidden' || list.sequence < here.sequence) return; // looked at later; its entries are on their way
    const now = { sequence: Math.max(list.sequence, here.sequence), version: here.version };
    if (open !== here.id || dark) {
      const seen = read(here.id);
      const words = seen ? wordsFor(list.entries.filter((e) => e.sequence > seen.sequence), session.peek()?.person?.name ?? '', here.version > seen.version ? here.changed_by : null) : '';
      if (words !== '') meanwhile.value = { job: here.id, words };
      else if (open !== here.id) meanwhile.value = null;
    }
    open = here.id;
    dark = false;
    localStorage.setItem(place(here.id), JSON.stringify(now));
  });
}

function read(id: number): Seen | null {
  const kept = localStorage.getItem(place(id));
  return kept === null ? null : (JSON.parse(kept) as Seen);
}
