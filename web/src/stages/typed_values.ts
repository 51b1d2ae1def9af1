// Several fields of one reading, each left open when it was not read.

import type { Signal } from '@preact/signals';
import type { Entry } from '../api/types';
import { parseQuantity } from '../numbers/parse';
import type { LengthUnit, Quantity } from '../numbers/quantity';
import { show } from '../numbers/show';
import { written } from '../numbers/written';
import { keyOf } from '../state/keys';

export interface Asked {
  key: string; // of the reading in the job file
  label: string;
  quantity: Quantity;
  list?: boolean; // the file holds several of them
  range?: string; // the key that says what it can be
}

// A figure that cannot be, as far as the table knows: asked about before it is stored.
export function implausible(asked: Pick<Asked, 'label' | 'quantity' | 'range'>, value: number, unit: LengthUnit): string | null {
  const { low, high } = (asked.range === undefined ? undefined : keyOf(asked.range)) ?? {};
  if (low === undefined || high === undefined || (value >= low && value <= high)) return null;
  return `${show(value, asked.quantity, unit)} cannot be the ${asked.label.toLowerCase().split(',')[0]}: is the point or the unit missing?`;
}

// What somebody said is right though it cannot be: by key, the text as it stood in the field.
export type Sure = Record<string, string>;

// The question about one field, unless what stands there was confirmed.
export function question(asked: Asked, text: string, value: number, unit: LengthUnit, sure: Sure): string | null {
  return sure[asked.key] === text.trim() ? null : implausible(asked, value, unit);
}

// What was typed, by key as the job file writes it, with `sure` where a figure was confirmed; the place of the
// first field that holds nonsense instead.
export function typedValues(asked: Asked[], texts: Signal<string>[], unit: LengthUnit, sure: Sure = {}): Record<string, unknown> | number {
  const values: Record<string, unknown> = {};
  for (const [i, a] of asked.entries()) {
    const text = texts[i]?.value.trim() ?? '';
    if (text === '') continue;
    const got = parseQuantity(text, a.quantity, unit);
    if (!got.ok || question(a, text, got.value, unit, sure) !== null) return i;
    if (implausible(a, got.value, unit) !== null) values['sure'] = true;
    const one = a.quantity === 'plain' ? got.value : written(got, a.quantity);
    values[a.key] = a.list ? [one] : one;
  }
  return values;
}

// A reading made again takes the place of the one before, and keeps of it what is not read anew.

// What stands in the earlier reading, to be sent with lengths in `units`: a length there without a unit is given
// the one it was entered in. `lengths` are the keys that hold lengths.
export function keptOf(before: Pick<Entry, 'values' | 'units'>, units: LengthUnit, lengths: string[]): Record<string, unknown> {
  if (before.units === units) return { ...before.values };
  return Object.fromEntries(Object.entries(before.values).map(([key, value]) => [key, lengths.includes(key) ? named(value, before.units) : value]));
}

function named(value: unknown, unit: LengthUnit): unknown {
  if (Array.isArray(value)) return value.map((v) => named(v, unit));
  const bare = typeof value === 'number' || (typeof value === 'string' && /\d/.test(value) && !/[a-zµμ"″”'°]/i.test(value));
  return bare ? `${String(value).trim()} ${unit}` : value;
}
