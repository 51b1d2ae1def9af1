// Which guide the entry stands at: the one whose touch helps most, else the next one not touched yet; a touch
// that waits to be sent counts as made.

import type { FoundSetup, Setup } from '../../api/types';
import { entries, headHere, waitingHere } from '../../state/open_job';

export function nextGuide(held: Setup | undefined, found: FoundSetup | undefined): string | null {
  const here = headHere.value;
  const waiting = new Set(waitingHere.value
    .filter((w) => w.body['kind'] === 'touch' && w.body['head'] === here && w.body['withdrawn'] !== true)
    .map((w) => String(w.body['valve'])));
  const touched = new Set(entries.value.entries.filter((e) => e.live && e.kind === 'touch' && e.head === here).map((e) => e.valve));
  const all = found?.guides.map((g) => g.id) ?? held?.valves.map((v) => v.id) ?? [];
  const open = all.filter((id) => !touched.has(id) && !waiting.has(id));
  // The guide the readout is zeroed at comes first.
  if (held && open.length === all.length && all.includes(held.datum)) return held.datum;
  const best = found?.next_touch ?? null;
  if (best !== null && open.includes(best)) return best;
  return open[0] ?? all[0] ?? null;
}
