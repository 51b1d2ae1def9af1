// The table of keys of the job file as the program has it (made by `seatwright check --keys`): labels, what is a limit,
// who may change it, what a figure can be.

import { valueAt } from '../api/tree';
import type { Kind } from '../api/types';
import made from '../made/keys.json';

export interface Key {
  key: string; // "seat.*.width", "reading.proof[].width"
  label: string;
  who: string; // machinist, at first (until the job's first program was taken), lead
  limit?: boolean; // left out in the built pages where it is none
  dimension?: string;
  otherwise?: string; // what holds where it is left open
  low?: number; // what it can be, in the unit the server's JSON uses: mm, deg, kPa, cm3
  high?: number;
  above?: number; // of a limit, in the same unit: it is more than this,
  from?: number; // or this at least
  new_head?: number[]; // least and most that the questions for a new head take
}

// The two kinds of valves, in the order they are shown; no page has a list of its own.
export const kinds: readonly Kind[] = ['intake', 'exhaust'];
export const perKind = <T>(of: (kind: Kind) => T): Record<Kind, T> => ({ intake: of('intake'), exhaust: of('exhaust') });
// The kind a place in a file speaks of: "seat.intake.width".
export const kindIn = (place: string): Kind | undefined => kinds.find((k) => place.includes(`.${k}.`));

const byKey = new Map<string, Key>(made.keys.map((k) => [k.key, k]));
export const allKeys: readonly Key[] = made.keys;

// Of a place in a file ("seat.intake.top[0].angle") or of a key of the table.
export function keyOf(place: string): Key | undefined {
  const bare = place.replace(/\[\d+\]/g, '[]');
  const starred = bare.replace(/^(valve|seat|guide)\.(\w+)/, (all, table: string, of: string) => (kinds.some((k) => k === of) ? `${table}.*` : all));
  return byKey.get(starred) ?? byKey.get(starred.replace(/\[\]$/, '')) ?? byKey.get(starred.replace(/^(machine|fixture|dialect)\[\]/, '$1'));
}

// A key in words, `tables` those of its job: "bore, intake", "exhaust valve, X in its cylinder".
export function keyWords(key: string, tables: Parameters<typeof valueAt>[0]): string {
  const place = /pattern\.valve\[(\d+)\]/.exec(key)?.[1];
  const kind = kindIn(key);
  const axis = /\.([xyz])$/.exec(key)?.[1];
  const label = axis ? `${axis.toUpperCase()} in its cylinder` : keyOf(key)?.label ?? key.split('.').at(-1)?.replaceAll('_', ' ') ?? key;
  if (place !== undefined) return `${kindAt(tables, Number(place))} valve, ${label}`;
  return kind ? `${label}, ${kind}` : label;
}

function kindAt(tables: Parameters<typeof valueAt>[0], i: number): string {
  return String(valueAt(tables, `head.pattern.valve[${i}].kind`) ?? `${i + 1}.`);
}
