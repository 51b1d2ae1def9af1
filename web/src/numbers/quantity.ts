// What kind of thing a number is, the units a person may type for it, and how one is shown. A value is kept
// in the unit the server's JSON uses: mm, deg, kg, cm3, kPa, N, or none.

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

// Factor from the unit typed to the unit kept; the first one listed is the unit kept.
const unitTable: Record<Quantity, Record<string, number>> = {
  length: { mm: 1, in: 25.4, um: 0.001, thou: 0.0254, cm: 10, m: 1000 },
  angle: { deg: 1, rad: 180 / Math.PI },
  mass: { kg: 1, g: 0.001, lb: 0.45359237 },
  volume: { cm3: 1, mm3: 0.001, in3: 16.387064, cc: 1, ml: 1 },
  vacuum: { kPa: 1, inHg: 3.386389 },
  force: { N: 1, kN: 1000, lbf: 4.4482216152605 },
  power: { W: 1, kW: 1000, hp: 745.69987158227 },
  torque: { Nm: 1 },
  speed: { 'm/min': 1 },
  surfaceSpeed: { 'm/min': 1 },
  frequency: { Hz: 1 },
  stiffness: { 'N/um': 1 },
  modulus: { GPa: 1 },
  plain: { '': 1 },
};

// Other spellings of a unit, lower case, to the spelling of the table.
const spellings: Record<string, string> = {
  '"': 'in', '″': 'in', '”': 'in', "''": 'in', inch: 'in', inches: 'in', 'in.': 'in',
  millimetre: 'mm', millimetres: 'mm', millimeter: 'mm', millimeters: 'mm',
  'µm': 'um', 'μm': 'um', micron: 'um', microns: 'um',
  tho: 'thou', thous: 'thou', mil: 'thou', mils: 'thou',
  '°': 'deg', degree: 'deg', degrees: 'deg', degs: 'deg', 'deg.': 'deg',
  lbs: 'lb', pound: 'lb', pounds: 'lb', kgs: 'kg',
  ccm: 'cc', 'cm³': 'cm3', 'mm³': 'mm3', 'in³': 'in3',
  kpa: 'kPa', inhg: 'inHg', n: 'N', kn: 'kN', w: 'W', kw: 'kW', nm: 'Nm', 'n·m': 'Nm',
  hz: 'Hz', gpa: 'GPa', 'n/um': 'N/um', 'n/µm': 'N/um',
};

export function unitsOf(quantity: Quantity): string[] {
  return Object.keys(unitTable[quantity]);
}

// The factor of a unit as typed, or undefined if it is no unit of this quantity.
export function factorOf(quantity: Quantity, typed: string): { unit: string; factor: number } | undefined {
  const table = unitTable[quantity];
  const word = typed.trim();
  const unit = word in table ? word : spellings[word.toLowerCase()] ?? word.toLowerCase();
  const factor = table[unit];
  return factor === undefined ? undefined : { unit, factor };
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
