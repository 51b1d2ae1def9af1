// The facets of a seat as the job file has them: throat to top, each with its keys and its values.

import type { Job, Kind, Tree, TreeValue } from '../../api/types';
import { valueAt } from '../../entry/outbox';
import { parseQuantity } from '../../numbers/parse';
import type { LengthUnit, Quantity } from '../../numbers/quantity';

export interface Facet {
  name: string; // of the group in the drawing: throat0, face, top0
  words: string;
  angleKey: string;
  widthKey: string;
  angle: number | null; // deg
  width: number | null; // mm
}

// A value of the tree, as written, in the JSON's unit.
export function readTree(value: TreeValue | undefined, quantity: Quantity, units: LengthUnit): number | null {
  if (typeof value === 'number') return quantity === 'length' && units === 'in' ? value * 25.4 : value;
  if (typeof value !== 'string') return null;
  const got = parseQuantity(value, quantity, units);
  return got.ok ? got.value : null;
}

export function facetsOf(job: Job, kind: Kind): Facet[] {
  const seat = valueAt(job.tables, `seat.${kind}`) as Tree | undefined;
  if (!seat) return [];
  const one = (name: string, words: string, base: string): Facet => ({
    name, words, angleKey: `${base}.angle`, widthKey: `${base}.width`,
    angle: readTree(valueAt(job.tables, `${base}.angle`), 'angle', job.units),
    width: readTree(valueAt(job.tables, `${base}.width`), 'length', job.units),
  });
  const many = (side: 'top' | 'throat') => {
    const list = seat[side];
    return Array.isArray(list) ? list.map((_, i) => one(`${side}${i}`, `${side} facet${list.length > 1 ? ` ${i + 1}` : ''}`, `seat.${kind}.${side}[${i}]`)) : [];
  };
  return [...many('throat').reverse(), one('face', 'seat face', `seat.${kind}`), ...many('top')];
}
