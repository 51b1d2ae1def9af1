// Several fields of one reading, each left open when it was not read.

import type { Signal } from '@preact/signals';
import { parseQuantity } from '../numbers/parse';
import type { LengthUnit, Quantity } from '../numbers/quantity';
import { show } from '../numbers/show';
import { written } from '../numbers/written';

export interface Asked {
  key: string; // of the reading in the job file
  label: string;
  quantity: Quantity;
  list?: boolean; // the file holds several of them
  within?: [number, number]; // mm: beyond it a point or a unit was left out
}

export function implausible(asked: Asked, value: number, unit: LengthUnit): string | null {
  const { within, label, quantity } = asked;
  if (!within || (value >= within[0] && value <= within[1])) return null;
  return `${show(value, quantity, unit)} cannot be the ${label.toLowerCase().split(',')[0]}: is the point or the unit missing?`;
}

// What was typed, by key as the job file writes it; the place of the first field that holds nonsense instead.
export function typedValues(asked: Asked[], texts: Signal<string>[], unit: LengthUnit): Record<string, unknown> | number {
  const values: Record<string, unknown> = {};
  for (const [i, a] of asked.entries()) {
    const text = texts[i]?.value.trim() ?? '';
    if (text === '') continue;
    const got = parseQuantity(text, a.quantity, unit);
    if (!got.ok || implausible(a, got.value, unit) !== null) return i;
    const one = a.quantity === 'plain' ? got.value : written(got, a.quantity);
    values[a.key] = a.list ? [one] : one;
  }
  return values;
}
