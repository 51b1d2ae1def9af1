// What is held back, said once, and the words that would free it.

import { valueAt } from '../../api/tree';
import type { HeldBack, Tree, WalkStep } from '../../api/types';
import { trueMinus } from '../../numbers/show';
import { ended, plain } from '../../parts/plain';
import { keyOf } from '../../state/keys';

// `goesOn`: the reason goes on behind the name.
export interface Gathered { setups: string[]; valves: string[]; reason: string; goesOn: boolean; of: HeldBack }

// What is said alike of several valves or setups is one sentence.
export function gathered(held: HeldBack[]): Gathered[] {
  const groups: Gathered[] = [];
  for (const h of held) {
    const { reason, goesOn } = withoutName(h);
    const same = groups.find((g) => g.reason === reason && g.of.frees === h.frees && (g.valves.length > 0) === (h.valve !== null));
    const group = same ?? { setups: [], valves: [], reason, goesOn, of: h };
    if (!same) groups.push(group);
    if (!group.setups.includes(h.setup)) group.setups.push(h.setup);
    if (h.valve !== null) group.valves.push(h.valve);
  }
  return groups;
}

// The name of seat or setup stands before the reason already.
function withoutName(h: HeldBack): { reason: string; goesOn: boolean } {
  const named = h.named ?? '';
  const goesOn = h.valve !== null && h.reason.startsWith(`${named} `);
  return { reason: goesOn || h.reason.startsWith(`${named}: `) ? h.reason.slice(named.length + 1).trimStart() : h.reason, goesOn };
}

export const after = (of: Gathered) => (of.goesOn ? ended(trueMinus(of.reason)) : plain(of.reason));

// Which cutting of the walk has its Z0 taken again when the reading of this first seat says that it was wrong; none where Z0
// was taken on that very seat, which is cut now: the cutter would rest where the plan does not know it.
export function runOfZero(steps: Pick<WalkStep, 'kind' | 'run' | 'valves' | 'on'>[], seat: string): string | undefined {
  const run = steps.find((s) => s.kind === 'first' && s.valves.includes(seat))?.run;
  return steps.some((s) => s.kind === 'zero' && s.run === run && s.on === seat) ? undefined : run;
}

// The key that frees it, where it holds a figure and is not in the job yet. A machine or fixture may stand in it by its name alone.
export function lackingKey(of: HeldBack, tables: Tree | undefined): string | null {
  const key = of.key ?? '';
  return /^(?:head|seat|valve|guide|depth|find|prove|cut)\./.test(key) && keyOf(key)?.dimension !== undefined && valueAt(tables, key) === undefined ? key : null;
}
