// A typed value as the job file writes it: the number and unit the person used, so that the record shows what
// was read off the gauge, not a conversion of it.

import type { Typed } from './parse';
import type { Quantity } from './quantity';
import { factorOf, unitsOf } from './quantity';

const digits = 12; // what was typed, without the dust of binary fractions

export function written(typed: Typed, quantity: Quantity): string {
  const tidy = (v: number) => String(Number(v.toPrecision(digits)));
  if (typed.unit === '') return tidy(typed.value);
  if (factorOf(quantity, typed.unit)) return `${tidy(typed.number)} ${typed.unit}`;
  return `${tidy(typed.value)} ${unitsOf(quantity)[0] ?? ''}`.trim();
}
