// What a size answered can be: what the server takes, and what the trade knows. One of the other unit is asked about.

import type { Signal } from '@preact/signals';
import { parseQuantity } from '../numbers/parse';
import { mmIn, type LengthUnit } from '../numbers/quantity';
import { showLength } from '../numbers/show';
import { keyOf } from '../state/keys';

export interface Sized {
  label: string;
  text: Signal<string>;
  key: string; // of the table that says what it can be
  least: number; // mm
  most: number;
  optional?: boolean;
}

const valueOf = (of: Sized, unit: LengthUnit): number | null => {
  const got = parseQuantity(of.text.value, 'length', unit);
  return got.ok ? got.value : null;
};

const usual = (of: Sized): [number, number] => {
  const { low, high } = keyOf(of.key) ?? {};
  return [low ?? of.least, high ?? of.most];
};

// A sentence where the server does not take it; also while nothing stands there.
export function cannotBe(of: Sized, unit: LengthUnit): string | null {
  const v = valueOf(of, unit);
  if (v === null) return 'A size is missing.';
  return v >= of.least && v <= of.most ? null : `It lies between ${showLength(of.least, unit)} and ${showLength(of.most, unit)}.${inOther(of, v, unit)}`;
}

// A question where the trade knows of none such.
export function notUsual(of: Sized, v: number, unit: LengthUnit): string | null {
  const [low, high] = usual(of);
  return v >= low && v <= high ? null : `Is that right? In the trade it lies between ${showLength(low, unit)} and ${showLength(high, unit)}.${inOther(of, v, unit)}`;
}

export function isUnusual(of: Sized, unit: LengthUnit): boolean {
  const v = valueOf(of, unit);
  return v !== null && notUsual(of, v, unit) !== null;
}

// Said where the number would be a usual one in the other unit.
function inOther(of: Sized, v: number, unit: LengthUnit): string {
  const [low, high] = usual(of);
  const meant = unit === 'in' ? v / mmIn.in : v * mmIn.in;
  if (meant < low || meant > high) return '';
  return ` If you mean ${unit === 'in' ? 'mm' : 'inches'}, type the unit with it: ${Number((v / mmIn[unit]).toPrecision(6))} ${unit === 'in' ? 'mm' : 'in'}.`;
}
