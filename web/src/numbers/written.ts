// A typed value as the job file writes it: the number and unit the person used, so that the record shows what
// was read off the gauge, not a conversion of it.

import type { Typed } from './parse';
import type { Quantity } from './quantity';
import { parseQuantity } from './parse';
import { factorOf, unitsOf } from './quantity';

// What was typed beside that unit, which is written behind it where the figure is bare and means another thing beside another.
export function withUnit(typed: string, quantity: Quantity, unit: string): string {
  const [inch, mm] = [parseQuantity(typed, quantity, 'in'), parseQuantity(typed, quantity, 'mm')];
  return inch.ok && mm.ok && inch.value !== mm.value ? `${typed.trim()} ${unit}` : typed;
}

const digits = 12; // what was typed, without the dust of binary fractions

export function written(typed: Typed, quantity: Quantity): string {
  const tidy = (v: number) => String(Number(v.toPrecision(digits)));
  if (typed.unit === '') return tidy(typed.value);
  if (factorOf(quantity, typed.unit)) return `${tidy(typed.number)} ${typed.unit}`;
  return `${tidy(typed.value)} ${unitsOf(quantity)[0] ?? ''}`.trim();
}
