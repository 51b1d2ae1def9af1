// The facets of a seat as the job file has them: throat to top, each with its keys and its values.

import { readTree, valueAt } from '../../api/tree';
import type { Job, Kind, Tree } from '../../api/types';

export interface Facet {
  name: string; // of the group in the drawing: throat0, face, top0
  words: string;
  angleKey: string;
  widthKey: string;
  angle: number | null; // deg
  width: number | null; // mm
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
