// What others changed on a job while this screen was elsewhere or dark, in one line.

import { effect, signal } from '@preact/signals';
import { session } from '../api/client';
import type { Entry } from '../api/types';
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

// What others did since, in one line.
const named: Partial<Record<Entry['kind'], [string, string]>> = {
  touch: ['touch', 'touches'], level: ['level reading', 'level readings'], guide: ['guide bore', 'guide bores'], seat: ['seat before cutting', 'seats before cutting'],
  first: ['first seat', 'first seats'], proof: ['seat measured', 'seats measured'], done: ['step', 'steps'], note: ['note', 'notes'], choice: ['choice', 'choices'], override: ['verdict decided', 'verdicts decided'],
};

// "B. Miller: 3 touches and 1 note on head 7. The drawing data was changed by C. Hill." Empty: nothing by others.
export function wordsFor(later: Pick<Entry, 'by' | 'head' | 'kind'>[], me: string, changedBy: string | null): string {
  const by = new Map<string, Map<string, Map<Entry['kind'], number>>>();
  for (const e of later) {
    if (e.by === me) continue;
    const heads = by.get(e.by) ?? by.set(e.by, new Map()).get(e.by)!;
    const kinds = heads.get(e.head) ?? heads.set(e.head, new Map()).get(e.head)!;
    kinds.set(e.kind, (kinds.get(e.kind) ?? 0) + 1);
  }
  const said = [...by].map(([who, heads]) => `${who}: ${[...heads].map(([head, kinds]) => `${together([...kinds].map(([kind, n]) => `${n} ${named[kind]?.[n === 1 ? 0 : 1] ?? kind}`))} on head ${head}`).join('; ')}.`);
  if (changedBy !== null && changedBy !== me) said.push(`${changedBy} changed the drawing data.`);
  return said.join(' ');
}

const together = (all: string[]) => (all.length < 2 ? all.join('') : `${all.slice(0, -1).join(', ')} and ${all.at(-1)}`);
