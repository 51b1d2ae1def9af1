// Numbers as people type them: `.0015`, `1-9/16`, `1 9/16 in`, `39.7mm`, `0,05`, `19° 30'`. Nonsense gets a
// sentence to stand under the field, never a guess.

import { factorOf, pageUnit, quantityWords, unitsOf, type LengthUnit, type Quantity } from './quantity';

export interface Typed {
  ok: true;
  value: number; // in the unit the JSON uses
  number: number; // as typed
  unit: string; // as typed, or the page's
}
export interface Nonsense {
  ok: false;
  sentence: string;
}
export type Parsed = Typed | Nonsense;

const vulgar: Record<string, string> = {
  '½': '1/2', '¼': '1/4', '¾': '3/4', '⅛': '1/8', '⅜': '3/8', '⅝': '5/8', '⅞': '7/8',
};

const no = (sentence: string): Nonsense => ({ ok: false, sentence });

export function parseQuantity(text: string, quantity: Quantity, length: LengthUnit): Parsed {
  const tidy = text
    .replace(/[½¼¾⅛⅜⅝⅞]/g, (c) => ` ${vulgar[c] ?? c}`)
    .replace(/[−–]/g, '-')
    .replace(/⁄/g, '/')
    .replace(/[\s\u00a0\u202f]+/g, ' ')
    .trim();
  if (tidy === '') return no('Type a number.');
  if (quantity === 'angle') {
    const parts = degreesMinutes(tidy);
    if (parts) return parts;
  }
  const split = /^([-+]?[\d.,/ \-]*[\d.,])\s*(.*)$/.exec(tidy);
  if (!split) return no(`“${text.trim()}” has no number in it; ${example(quantity, length)}.`);
  const number = plainNumber((split[1] ?? '').trim());
  if (typeof number === 'string') return no(number);
  const typedUnit = (split[2] ?? '').trim();
  const unit = typedUnit === '' ? pageUnit(quantity, length) : typedUnit;
  const known = factorOf(quantity, unit);
  if (!known) return no(wrongUnit(unit, quantity));
  return { ok: true, value: number * known.factor, number, unit: known.unit };
}

function wrongUnit(unit: string, quantity: Quantity): string {
  const units = unitsOf(quantity).filter((u) => u !== '');
  if (units.length === 0) return `“${unit}” is not wanted here: this is a plain number.`;
  return `“${unit}” is no unit of ${quantityWords[quantity]}; use ${units.join(', ')}.`;
}

function example(quantity: Quantity, length: LengthUnit): string {
  if (quantity === 'length') return length === 'in' ? 'try 1.5625, 1-9/16 or 39.7 mm' : 'try 39.7 or 1-9/16 in';
  if (quantity === 'angle') return "try 19.5 or 19° 30'";
  return quantity === 'plain' ? 'try 4' : 'try 12.5';
}

// 19° 30' 15"
function degreesMinutes(text: string): Parsed | undefined {
  const m = /^([-+]?)(\d+(?:[.,]\d+)?)\s*(?:°|deg)\s*(\d+(?:[.,]\d+)?)\s*['′](?:\s*(\d+(?:[.,]\d+)?)\s*(?:"|″|''))?$/i.exec(text);
  if (!m) return undefined;
  const part = (i: number) => Number((m[i] ?? '0').replace(',', '.'));
  const [deg, min, sec] = [part(2), part(3), part(4)];
  if (min >= 60 || sec >= 60) return no('Minutes and seconds of angle stay below 60.');
  const value = (m[1] === '-' ? -1 : 1) * (deg + min / 60 + sec / 3600);
  return { ok: true, value, number: value, unit: 'deg' };
}

// A whole, decimal, fraction or mixed number; a sentence if it is none.
function plainNumber(text: string): number | string {
  const negative = text.startsWith('-');
  const body = text.replace(/^[-+]\s*/, '');
  const sign = negative ? -1 : 1;
  const mixed = /^(?:(\d+)(?:\s*-\s*|\s+))?(\d+)\s*\/\s*(\d+)$/.exec(body);
  if (mixed) {
    const below = Number(mixed[3]);
    if (below === 0) return 'A fraction cannot have 0 below the line.';
    return sign * (Number(mixed[1] ?? 0) + Number(mixed[2]) / below);
  }
  if (body.includes('/')) return `“${text}” is not a fraction; write it like 1-9/16.`;
  if (/^(\d+[.,]?\d*|[.,]\d+)$/.test(body)) return sign * Number(body.replace(',', '.'));
  if (/^\d{1,3}(,\d{3})+\.\d+$/.test(body) || /^\d{1,3}(\.\d{3})+,\d+$/.test(body))
    return `“${text}” has both a point and a comma; leave the thousands mark out.`;
  if (/[.,].*[.,]/.test(body)) return `“${text}” has more than one decimal mark.`;
  if (/\d \d|\d-\d/.test(body)) return `“${text}” reads as two numbers; type one.`;
  return `“${text}” is not a number.`;
}
