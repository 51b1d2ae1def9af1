// The tables of a job or of the shelf as the server gives them: a value at its place, and what it measures.

import { parseQuantity } from '../numbers/parse';
import { mmIn, type LengthUnit, type Quantity } from '../numbers/quantity';
import type { Tree, TreeValue } from './types';

// The value at a dotted key: seat.intake.top[0].width
export function valueAt(tree: Tree | undefined, key: string): TreeValue | undefined {
  let at: TreeValue | undefined = tree;
  for (const part of key.split(/[.[\]]+/).filter((p) => p !== '')) {
    if (at === null || typeof at !== 'object') return undefined;
    at = Array.isArray(at) ? at[Number(part)] : at[part];
  }
  return at;
}

// A value as written, in the JSON's unit.
export function readTree(value: TreeValue | undefined, quantity: Quantity, units: LengthUnit): number | null {
  if (typeof value === 'number') return quantity === 'length' ? value * mmIn[units] : value;
  if (typeof value !== 'string') return null;
  const got = parseQuantity(value, quantity, units);
  return got.ok ? got.value : null;
}
