// What others did since, in one line.

import type { Entry } from '../api/types';

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
