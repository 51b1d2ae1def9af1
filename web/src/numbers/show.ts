// Numbers as shown: inch with 4 decimals or mm with 3, degrees as decimals, always with the unit.

import type { LengthUnit, Quantity } from './quantity';
import { factorOf, mmIn, pageUnit } from './quantity';

// With a true minus, and none before a nought.
export const minus = (text: string) => text.replace(/^-(?=.*[1-9])/, '−').replace(/^-/, '');
// The same for figures within words of the server, which writes them as a file has them; names, days and ranges stay.
export const trueMinus = (words: string) => words.replace(/(?<=^|[\s(±,;:×=])-(?=\.?\d)/g, '−');
const absent = '–';

const decimals: Partial<Record<Quantity, number>> = {
  angle: 2, mass: 1, volume: 2, vacuum: 1, force: 0, power: 0, torque: 1, speed: 1, surfaceSpeed: 1,
  frequency: 0, stiffness: 1, modulus: 0, plain: 3,
};

export function showNumber(value: number | null | undefined, quantity: Quantity, length: LengthUnit): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return absent;
  const factor = factorOf(quantity, pageUnit(quantity, length))?.factor ?? 1;
  const places = quantity === 'length' ? (length === 'in' ? 4 : 3) : decimals[quantity] ?? 3;
  return minus((value / factor).toFixed(places));
}

export function show(value: number | null | undefined, quantity: Quantity, length: LengthUnit): string {
  const number = showNumber(value, quantity, length);
  if (number === absent) return absent;
  if (quantity === 'angle') return `${number}°`;
  const unit = pageUnit(quantity, length);
  return unit === '' ? number : `${number} ${unit}`;
}

// An expanded uncertainty: its last figure rounded up, and up to two more where that would more than double it, as on paper.
export function showUncertainty(value: number | null | undefined, quantity: 'length' | 'vacuum', length: LengthUnit): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return absent;
  const unit = pageUnit(quantity, length);
  const shown = value / (factorOf(quantity, unit)?.factor ?? 1);
  const usual = quantity === 'vacuum' ? 1 : length === 'in' ? 4 : 3;
  const upTo = (places: number) => Math.ceil(shown * 10 ** places - 1e-6) / 10 ** places;
  let places = usual;
  while (places < usual + 2 && upTo(places) > 2 * shown) ++places;
  return `${upTo(places).toFixed(places)} ${unit}`;
}

export const showLength = (mm: number | null | undefined, length: LengthUnit) => show(mm, 'length', length);
export const showAngle = (deg: number | null | undefined, places = 2) =>
  deg === null || deg === undefined ? absent : `${minus(deg.toFixed(places))}°`;

// A length to be told at a glance, with fewer decimals than a size has: those of its mm, one more in inches.
export const showRough = (mm: number, length: LengthUnit, places: number) => `${roughNumber(mm, length, places)} ${length}`;
export const roughNumber = (mm: number, length: LengthUnit, places: number) => minus((mm / mmIn[length]).toFixed(length === 'in' ? places + 1 : places));

// Areas and small volumes of metal, without their unit and with it.
export const areaNumber = (mm2: number | null | undefined, length: LengthUnit) =>
  mm2 === null || mm2 === undefined ? absent : minus((mm2 / mmIn[length] ** 2).toFixed(length === 'in' ? 3 : 0));
export const metalNumber = (mm3: number | null | undefined, length: LengthUnit) =>
  mm3 === null || mm3 === undefined ? absent : minus((mm3 / mmIn[length] ** 3).toFixed(length === 'in' ? 5 : 1));
export const areaUnit = (length: LengthUnit) => `${length}²`;
export const volumeUnit = (length: LengthUnit) => `${length}³`;

// A probability without a false 100 %.
export function showChance(p: number | null | undefined): string {
  if (p === null || p === undefined) return absent;
  if (p > 0.99999) return '> 99.999 %';
  if (p < 0.00001) return '< 0.001 %';
  return `${(100 * p).toFixed(p > 0.99 || p < 0.01 ? 3 : 1)} %`;
}

export function showTime(seconds: number | null | undefined): string {
  if (seconds === null || seconds === undefined) return absent;
  const whole = Math.round(seconds);
  const minutes = Math.floor(whole / 60);
  return minutes === 0 ? `${whole} s` : `${minutes} min ${String(whole % 60).padStart(2, '0')} s`;
}

// The unit of a whole table's lengths, in words.
export const inWords = (length: LengthUnit) => (length === 'in' ? 'inch' : 'mm');
