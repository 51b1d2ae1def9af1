// Several fields of one reading, each left open when it was not read.

import type { Signal } from '@preact/signals';
import { parseQuantity } from '../numbers/parse';
import type { LengthUnit, Quantity } from '../numbers/quantity';
import { written } from '../numbers/written';

export interface Asked {
  key: string; // of the reading in the job file
  label: string;
  quantity: Quantity;
  list?: boolean; // the file holds several of them
}

// What was typed, by key as the job file writes it; the place of the first field that holds nonsense instead.
export function typedValues(asked: Asked[], texts: Signal<string>[], unit: LengthUnit): Record<string, unknown> | number {
  const values: Record<string, unknown> = {};
  for (const [i, a] of asked.entries()) {
    const text = texts[i]?.value.trim() ?? '';
    if (text === '') continue;
    const got = parseQuantity(text, a.quantity, unit);
    if (!got.ok) return i;
    const one = a.quantity === 'plain' ? got.value : written(got, a.quantity);
    values[a.key] = a.list ? [one] : one;
  }
  return values;
}
