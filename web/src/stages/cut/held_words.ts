// What is held back, said once, and the words that would free it.

import { valueAt } from '../../api/tree';
import type { HeldBack, Tree, WalkStep } from '../../api/types';
import { keyOf } from '../../state/keys';

export interface Gathered { setups: string[]; valves: string[]; reason: string; frees: string }

// What is said alike of several valves or setups is one sentence.
export function gathered(held: HeldBack[]): Gathered[] {
  const groups: Gathered[] = [];
  for (const h of held) {
    const reason = withoutName(h);
    const same = groups.find((g) => g.reason === reason && g.frees === h.frees && (g.valves.length > 0) === (h.valve !== null));
    const group = same ?? { setups: [], valves: [], reason, frees: h.frees };
    if (!same) groups.push(group);
    if (!group.setups.includes(h.setup)) group.setups.push(h.setup);
    if (h.valve !== null) group.valves.push(h.valve);
  }
  return groups;
}

// The name of seat or setup stands before the reason already.
function withoutName(h: HeldBack): string {
  const names = h.valve !== null ? [`${h.valve}: `, `${h.valve} `] : [`setup ${h.setup}: `];
  const name = names.find((n) => h.reason.startsWith(n));
  return name === undefined ? h.reason : h.reason.slice(name.length);
}

// Which cutting of the walk has its Z0 taken again when the reading of this first seat says that it was wrong; none where Z0
// was taken on that very seat, which is cut now: the cutter would rest where the plan does not know it.
export function runOfZero(steps: Pick<WalkStep, 'kind' | 'run' | 'valves' | 'on'>[], seat: string): string | undefined {
  const run = steps.find((s) => s.kind === 'first' && s.valves.includes(seat))?.run;
  return steps.some((s) => s.kind === 'zero' && s.run === run && s.on === seat) ? undefined : run;
}

// Why, in a few words: what stands before the details.
export const inShort = (reason: string) => reason.split(/: |; |, (?=whose|which|where|since|more than|past)/, 1)[0] ?? reason;

// "…, or write sure = [\"head.lies = as declared\"] if it is right"
export const sureWords = (frees: string) => /sure = \["([^"]+)"\]/.exec(frees)?.[1] ?? null;
// "…, or allow = [{ what = \"trim 3I\", why = …, by = … }]"
export const allowWords = (frees: string) => /what = "([^"]+)"/.exec(frees)?.[1] ?? null;
// Keys of the job named there that hold a figure and are not in the job yet. A machine or fixture may stand in it by its name alone.
export const lackingKeys = (frees: string, tables: Tree | undefined) =>
  [...new Set(frees.match(/\b(?:head|seat|valve|guide|depth|find|prove|cut)(?:\.[a-z_]+)+/g))]
    .filter((key) => keyOf(key)?.dimension !== undefined && valueAt(tables, key) === undefined);
