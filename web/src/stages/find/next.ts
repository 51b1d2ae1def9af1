// Which guide the entry stands at: the one whose touch helps most, else the next one not touched yet; a touch
// that waits to be sent counts as made.

import type { FoundSetup, Setup } from '../../api/types';
import { outbox } from '../../entry/outbox';
import { entries, headHere, state, waitingHere } from '../../state/open_job';

export function nextGuide(held: Setup | undefined, found: FoundSetup | undefined): string | null {
  const here = headHere.value;
  const waiting = new Set(waitingHere.value
    .filter((w) => w.body['kind'] === 'touch' && w.body['head'] === here && w.body['withdrawn'] !== true)
    .map((w) => String(w.body['valve'])));
  const touched = new Set([
    ...entries.value.entries.filter((e) => e.live && e.kind === 'touch' && e.head === here).map((e) => e.valve),
    ...(found?.assignments ?? []).map((a) => a.valve ?? ''), // touches nobody named
  ]);
  const all = found?.guides.map((g) => g.id) ?? held?.valves.map((v) => v.id) ?? [];
  const open = all.filter((id) => !touched.has(id) && !waiting.has(id));
  // The guide the readout is zeroed at comes first.
  if (held && open.length === all.length && all.includes(held.datum)) return held.datum;
  const best = found?.next_touch ?? null;
  if (best !== null && open.includes(best)) return best;
  return open[0] ?? all[0] ?? null;
}

// Whether a touch is still wanted in a setup.
export const wantsTouch = (held: Setup, found: FoundSetup | undefined): boolean =>
  found?.id !== held.id || !found.guides.some((g) => g.touched) || (found.next_touch !== null && (found.touches_to_target ?? 0) > 0);

// The setup the head is in: the first in which a touch is still wanted, else the first of all.
export function setupNow(held: Setup[], found: FoundSetup[]): Setup | undefined {
  return held.find((s) => wantsTouch(s, found.find((f) => f.id === s.id))) ?? held[0];
}

// The guide the entry stands at does not change under the hand: another screen's touch may make another guide
// the better next one, but the person stands at this one. It moves on when this very guide has been touched,
// and may still move while what this screen stored is being worked out.
export class Standing {
  private at: string | null = null;
  private head = '';
  private setup = '';
  private count = 0; // touches of this head: fewer than before means one was taken back
  settled = true; // false while what this screen stored is being worked out

  guide(suggested: string | null, setup: string): string | null {
    const here = headHere.value;
    const touches = entries.value.entries.filter((e) => e.live && e.kind === 'touch' && e.head === here);
    if (touches.length < this.count) this.at = null;
    this.count = touches.length;
    const touched = touches.some((e) => e.valve === this.at);
    const waiting = waitingHere.value.filter((w) => w.body['kind'] === 'touch');
    const left = waiting.some((w) => w.body['valve'] === this.at);
    if (this.head === here && this.setup === setup && this.at !== null && !touched && !left) {
      this.settled = true;
      return this.at;
    }
    this.settled = outbox.away.value || ((state.value?.job.sequence ?? 0) >= entries.value.sequence && waiting.length === 0);
    this.head = here;
    this.setup = setup;
    this.at = this.settled ? suggested : null;
    return suggested;
  }
}
