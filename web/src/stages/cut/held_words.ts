// What is held back, said once, and the words that would free it.

import type { HeldBack } from '../../api/types';

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

// "…, or write sure = [\"head.lies = as declared\"] if it is right"
export const sureWords = (frees: string) => /sure = \["([^"]+)"\]/.exec(frees)?.[1] ?? null;
// "…, or allow = [{ what = \"trim 3I\", why = …, by = … }]"
export const allowWords = (frees: string) => /what = "([^"]+)"/.exec(frees)?.[1] ?? null;
