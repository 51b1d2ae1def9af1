// What the shop owns, as far as a job's page needs it, and values of the job that may stand there.

import { signal } from '@preact/signals';
import { get } from '../api/client';
import { valueAt } from '../api/tree';
import type { Shelf, Tree, TreeValue } from '../api/types';
import { job } from './open_job';

export const shelf = signal<Tree | null>(null);

export async function fetchShelf(): Promise<void> {
  shelf.value ??= (await get<Shelf>('/shelf').catch(() => null))?.tables ?? {};
}

// The names under which the shelf has things of this sort: dialect, fixture.
export function namesOnShelf(sort: string): string[] {
  const all = shelf.value?.[sort];
  if (!Array.isArray(all)) return [];
  return all.flatMap((t) => (t !== null && typeof t === 'object' && !Array.isArray(t) && typeof t['name'] === 'string' ? [t['name']] : []));
}

// The machine of the job by its name; null where it has none.
export function machineHere(): string | null {
  const machine = valueAt(job.value?.tables, 'machine');
  const name = typeof machine === 'string' ? machine : valueAt(job.value?.tables, 'machine.name');
  return typeof name === 'string' && name !== '' ? name : null;
}

// A value of the job; machine and fixture may be named there and stand on the shelf.
export function known(key: string): TreeValue | undefined {
  const here = valueAt(job.value?.tables, key);
  if (here !== undefined) return here;
  const [thing, ...rest] = key.split('.');
  const name = thing === 'machine' || thing === 'fixture' ? valueAt(job.value?.tables, thing) : undefined;
  const things = thing ? shelf.value?.[thing] : undefined;
  if (typeof name !== 'string' || !Array.isArray(things)) return undefined;
  const item = things.find((t) => t !== null && typeof t === 'object' && !Array.isArray(t) && t['name'] === name);
  return valueAt(item as Tree | undefined, rest.join('.'));
}

// The shelf also has materials no seat is cut in: those to choose from say how fast they are cut.
export function cuttable(materials: TreeValue | undefined): string[] {
  if (!Array.isArray(materials)) return [];
  return materials.flatMap((m) =>
    m !== null && typeof m === 'object' && !Array.isArray(m) && typeof m['name'] === 'string' && m['speed'] !== undefined ? [m['name']] : []);
}
