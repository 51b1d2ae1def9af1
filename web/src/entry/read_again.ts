// A reading made again takes the place of the one before, and keeps of it what is not read anew.

import type { Entry } from '../api/types';
import type { LengthUnit } from '../numbers/quantity';

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
