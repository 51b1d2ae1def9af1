// Which figure of a feed is for which field. A machine's figures have names (x, y, z, tilt); a gauge that serves whatever is
// read with it says "any", and its figure goes to the field somebody stands in.

import type { Signal } from '@preact/signals';
import type { Feed, LiveReading } from '../api/feeds';
import type { Quantity } from '../numbers/quantity';

export interface LiveField {
  key: string; // what a figure of it is called: x, depth, stem_height
  label: string;
  text: Signal<string>;
  quantity: Quantity;
}

export const anyField = 'any';

export const isAngle = (r: LiveReading) => r.value_deg !== undefined;
const ofUnit = (unit: string, quantity: Quantity) => (unit === 'deg' ? quantity === 'angle' : quantity === 'length');

// Whether the feed has a figure for one of them.
export const fits = (feed: Feed, fields: LiveField[]): boolean =>
  feed.settings.channels.some((c) => fields.some((f) => (c.what === f.key || c.what === anyField) && ofUnit(c.unit, f.quantity)));

export interface Filled { field: LiveField; reading: LiveReading }

// Each figure with its field. `standing`: the field somebody stands in, if it is one of these; else what has no name goes
// to the first that is empty, and to the first of all where none is.
export function filled(readings: LiveReading[], fields: LiveField[], standing: Signal<string> | undefined): Filled[] {
  return readings.flatMap((reading) => {
    const like = fields.filter((f) => (isAngle(reading) ? f.quantity === 'angle' : f.quantity === 'length'));
    const field = reading.what === anyField
      ? like.find((f) => f.text === standing) ?? like.find((f) => f.text.value.trim() === '') ?? like[0]
      : like.find((f) => f.key === reading.what);
    return field ? [{ field, reading }] : [];
  });
}
