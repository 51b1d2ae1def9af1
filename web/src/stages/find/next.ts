// Which guide the entry stands at: the one whose touch helps most, else the next one not touched yet; a touch
// that waits to be sent counts as made.

import type { FoundSetup } from '../../api/types';
import { state, waitingHere } from '../../state/open_job';

export function nextGuide(setup: FoundSetup | undefined): string | null {
  if (!setup) return null;
  const head = state.value?.head;
  const waiting = new Set(waitingHere.value
    .filter((w) => w.body['kind'] === 'touch' && w.body['head'] === head && w.body['withdrawn'] !== true)
    .map((w) => String(w.body['valve'])));
  const touched = setup.guides.some((g) => g.touched) || waiting.size > 0;
  const open = setup.guides.filter((g) => !g.touched && !waiting.has(g.id)).map((g) => g.id);
  const datum = state.value?.results.hold?.setups.find((s) => s.id === setup.id)?.datum;
  if (!touched && datum) return datum; // the guide the readout is zeroed at
  if (setup.next_touch !== null && open.includes(setup.next_touch)) return setup.next_touch;
  return open[0] ?? setup.guides[0]?.id ?? null;
}
