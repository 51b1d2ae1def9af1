// The order in which one walks along the head with the gauge.

import { entries, state, waitingHere } from '../../state/open_job';

export function walkingOrder(): string[] {
  const byPlace = state.value?.valves?.map((v) => v.id);
  return byPlace ?? state.value?.results.cut?.order ?? state.value?.results.prove?.seats.map((s) => s.id) ?? [];
}

// The first valve of the head nothing is recorded for; the first of all when every one has something.
export function unmeasured(head: string): string | null {
  const has = new Set([
    ...entries.value.entries.filter((e) => e.live && e.kind === 'proof' && e.head === head).map((e) => e.valve),
    ...waitingHere.value.filter((w) => w.body['kind'] === 'proof' && w.body['head'] === head).map((w) => String(w.body['valve'])),
  ]);
  const order = walkingOrder();
  return order.find((v) => !has.has(v)) ?? order[0] ?? null;
}
