// An entry's values in words, as typed, with their unit; minus and degrees are written as everywhere on the page.

import type { Entry } from '../api/types';
import type { Waiting } from '../entry/waiting';
import { trueMinus } from '../numbers/show';

type Some = Pick<Entry, 'values' | 'units'>;

export function valuesInWords(entry: Some): string {
  const parts = Object.entries(entry.values).map(([name, value]) => `${name.replaceAll('_', ' ')} ${asShown(valueInWords(value, name, entry.units))}`);
  return parts.length === 0 ? 'taken back' : parts.join(', ');
}

// Who read it, and who entered it where that is another.
export const whose = (entry: Pick<Entry, 'by' | 'read_by'>) => (entry.read_by ? `read by ${entry.read_by}, entered by ${entry.by}` : entry.by);

const asShown = (words: string) => trueMinus(words).replace(/(?<=[\d.]) ?deg$/, '°');

const plainNames = new Set(['across', 'by', 'stage', 'done', 'angles', 'what', 'verdict', 'date', 'gauge', 'calibrated', 'cutter', 'accepted_by', 'keep', 'trimmed']);
const angleNames = new Set(['first', 'second']);

function valueInWords(value: unknown, name: string, unit: string): string {
  if (Array.isArray(value)) return `${value.length} readings`;
  if (plainNames.has(name)) return String(value);
  const bare = typeof value === 'number' || /^[-+]?[\d.]+$/.test(String(value));
  if (!bare) return String(value);
  return angleNames.has(name) ? `${String(value)} deg` : `${String(value)} ${unit}`;
}

export function waitingInWords(entry: Waiting): string {
  const values = entry.body['values'] as Record<string, unknown> | undefined;
  const units = entry.body['units'] === 'in' ? 'in' : 'mm';
  return values ? valuesInWords({ values, units }) : entry.words;
}
