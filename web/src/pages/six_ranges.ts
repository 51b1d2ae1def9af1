// What a size answered can be: what the server takes, and what the trade knows. One of the other unit is asked about.

import type { Signal } from '@preact/signals';
import { parseQuantity } from '../numbers/parse';
import { mmIn, type LengthUnit } from '../numbers/quantity';
import { showAngle, showLength } from '../numbers/show';
import { keyOf } from '../state/keys';
import type { SaidRight } from './answers';

export interface Sized {
  label: string;
  text: Signal<string>;
  key: string; // of the table that says what it can be
  optional?: boolean;
}

const valueOf = (of: Sized, unit: LengthUnit): number | null => {
  const got = parseQuantity(of.text.value, 'length', unit);
  return got.ok ? got.value : null;
};

const taken = (key: string): [number, number] => (keyOf(key)?.new_head ?? [-Infinity, Infinity]) as [number, number];
const usual = (of: Sized): [number, number] => {
  const { low, high } = keyOf(of.key) ?? {}, [least, most] = taken(of.key);
  return [low ?? least, high ?? most];
};

// A sentence where the server does not take it; also while nothing stands there.
export function cannotBe(of: Sized, unit: LengthUnit): string | null {
  const v = valueOf(of, unit);
  if (v === null) return 'A size is missing.';
  const [least, most] = taken(of.key);
  return v >= least && v <= most ? null : `It lies between ${showLength(least, unit)} and ${showLength(most, unit)}.${inOther(of, v, unit)}`;
}

// The same of an angle, and of a count.
export const cannotLean = (key: string) => (v: number): string | null => {
  const [least, most] = taken(key);
  return v >= least && v <= most ? null : `It lies between ${showAngle(least, 0)} and ${showAngle(most, 0)}.`;
};
export const cannotCount = (key: string) => (v: number): string | null => {
  const [least, most] = taken(key);
  return Number.isInteger(v) && v >= least && v <= most ? null : `A whole number from ${least} to ${most}.`;
};

// A question where the trade knows of none such.
export function notUsual(of: Sized, v: number, unit: LengthUnit): string | null {
  const [low, high] = usual(of);
  return v >= low && v <= high ? null : `Is that right? In the trade it lies between ${showLength(low, unit)} and ${showLength(high, unit)}.${inOther(of, v, unit)}`;
}

export function isUnusual(of: Sized, unit: LengthUnit): boolean {
  const v = valueOf(of, unit);
  return v !== null && notUsual(of, v, unit) !== null;
}

// What was said to be right of what is asked about, by label the text it was said of and the unit beside it.
export type Sure = Record<string, string>;
export const sayRight = (of: Sized, said: string, unit: LengthUnit): Sure => ({ [of.label]: `${said} ${unit}` });
export const isSaidRight = (of: Sized, sure: Sure, unit: LengthUnit): boolean => sure[of.label] === `${of.text.value.trim()} ${unit}`;
export const saidRight = (all: Sized[], sure: Sure, unit: LengthUnit): SaidRight[] =>
  all.filter((of) => isSaidRight(of, sure, unit) && isUnusual(of, unit)).map((of) => ({ key: of.key, value: Number((valueOf(of, unit)! / mmIn[unit]).toPrecision(12)) }));

// Said where the number would be a usual one in the other unit.
function inOther(of: Sized, v: number, unit: LengthUnit): string {
  const [low, high] = usual(of);
  const meant = unit === 'in' ? v / mmIn.in : v * mmIn.in;
  if (meant < low || meant > high) return '';
  return ` If you mean ${unit === 'in' ? 'mm' : 'inches'}, type the unit with it: ${Number((v / mmIn[unit]).toPrecision(6))} ${unit === 'in' ? 'mm' : 'in'}.`;
}
