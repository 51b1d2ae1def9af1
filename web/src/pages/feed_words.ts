// What a feed can be, and what decides that a reading of it is offered, in words.

import type { Decides, FeedKind } from '../api/feeds';

export const kinds: [FeedKind, string][] = [
  ['agent', 'a machine: agent (MTConnect over http)'], ['adapter', 'a machine: its adapter (lines over the network)'],
  ['line', 'a gauge on a serial line'], ['network', 'a gauge on the network'],
];
export const decides: [Decides, string][] = [['stillness', 'its values stand still'], ['person', 'a person says so'], ['pedal', 'a pedal says so'], ['each', 'the gauge’s own button is pressed']];

// What a gauge's one figure is for.
export const forGauges: [string, string][] = [
  ['any', 'whatever is read with it'], ['depth', 'depth'], ['stem_height', 'stem height'], ['below_deck', 'below the deck'], ['runout', 'runout'], ['width', 'seat width'],
];
export const nameOf = (what: string): string => (what.length === 1 ? what.toUpperCase() : forGauges.find(([w]) => w === what)?.[1] ?? what.replaceAll('_', ' '));
