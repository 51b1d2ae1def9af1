// What kind of thing a number is, the units a person may type for it, and how one is shown. A value is kept
// in the unit the server's JSON uses: mm, deg, kg, cm3, kPa, N, or none.

import made from '../made/keys.json';

export type Quantity =
  | 'length'
  | 'angle'
  | 'mass'
  | 'volume'
  | 'vacuum'
  | 'force'
  | 'power'
  | 'torque'
  | 'speed'
  | 'surfaceSpeed'
  | 'frequency'
  | 'stiffness'
  | 'modulus'
  | 'plain';

export type LengthUnit = 'in' | 'mm';

// mm in one of the unit.
export const mmIn: Record<LengthUnit, number> = { mm: made.units.length.factors.mm, in: made.units.length.factors.in };

interface Units { bare: string; factors: Record<string, number>; spellings: Record<string, number> }
const units: Record<string, Units> = made.units;
const dimensionOf: Partial<Record<Quantity, string>> = { speed: 'axis_speed', surfaceSpeed: 'surface_speed', plain: 'number' };
const tableOf = (quantity: Quantity): Units => units[dimensionOf[quantity] ?? quantity] ?? { bare: '', factors: {}, spellings: {} };

// The unit kept first.
export function unitsOf(quantity: Quantity): string[] {
  const { bare, factors } = tableOf(quantity);
  return [bare, ...Object.keys(factors).filter((u) => u !== bare)];
}

// As the program compares units: no spaces, u for the micro sign, plain quote marks and figures.
const plain = (typed: string) =>
  typed.replace(/[\s·*]/g, '').replace(/[µμ]/g, 'u').replace(/[″”“]/g, '"').replace(/[′’]/g, "'").replace(/²/g, '2').replace(/³/g, '3').replace(/\.$/, '');

// The factor of a unit as typed and the unit as a job file has it, or undefined if it is no unit of this quantity.
export function factorOf(quantity: Quantity, typed: string): { unit: string; factor: number } | undefined {
  const word = plain(typed);
  const { bare, factors, spellings } = tableOf(quantity);
  if (word === bare) return { unit: bare, factor: 1 };
  for (const same of [(u: string) => u === word, (u: string) => u.toLowerCase() === word.toLowerCase()]) {
    for (const table of [factors, spellings]) {
      const [unit, factor] = Object.entries(table).find(([u]) => same(u)) ?? [];
      if (unit === undefined || factor === undefined) continue;
      const named = table === factors ? unit : Object.keys(factors).find((u) => factors[u] === factor) ?? unit;
      return { unit: named, factor };
    }
  }
  return undefined;
}

// The unit a bare number is taken in.
export function pageUnit(quantity: Quantity, length: LengthUnit): string {
  if (quantity === 'length') return length;
  if (quantity === 'vacuum') return length === 'in' ? 'inHg' : 'kPa';
  return unitsOf(quantity)[0] ?? '';
}

export const quantityWords: Record<Quantity, string> = {
  length: 'a length', angle: 'an angle', mass: 'a mass', volume: 'a volume', vacuum: 'a vacuum',
  force: 'a force', power: 'a power', torque: 'a torque', speed: 'a speed', surfaceSpeed: 'a speed',
  frequency: 'a frequency', stiffness: 'a stiffness', modulus: 'a modulus', plain: 'a number',
};
