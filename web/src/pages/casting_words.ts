// What is known of a casting in a line, and which castings fit what somebody types.

import type { Casting } from '../api/types';
import { mmIn } from '../numbers/quantity';
import { showLength } from '../numbers/show';
import { units } from '../state/settings';

export const unit = () => (units.value === 'in' ? 'in' : 'mm') as 'in' | 'mm';

const counted = (n: number, one: string, many: string) => `${n} ${n === 1 ? one : many}`;

export const inALine = (c: Casting): string => [
  c.number !== '' && `number ${c.number} cast on it`, counted(c.valves, 'valve', 'valves'), c.spacing_mm !== null && `cylinders ${showLength(c.spacing_mm, unit())} apart`,
  `${counted(c.heads, 'head has', 'heads have')} taught it`,
].filter(Boolean).join(', ');

const words = (c: Casting) => `${c.name} ${c.number} ${c.notes.map((n) => n.words).join(' ')} ${c.valves} valves ${showLength(c.spacing_mm, 'mm')} ${showLength(c.spacing_mm, 'in')}`.toLowerCase();

// A spacing is found by a tape's figure too: 104 finds 104.03.
const nearSpacing = (c: Casting, typed: string) => {
  const value = Number(typed.replace(',', '.'));
  if (c.spacing_mm === null || typed === '' || !Number.isFinite(value)) return false;
  return Math.abs(value - c.spacing_mm) <= 0.5 || Math.abs(value * mmIn.in - c.spacing_mm) <= 0.5;
};

// Every word typed is one of what is known of it: name, number cast on it, notes, valves, spacing.
export function fitting(all: Casting[], typed: string): Casting[] {
  const asked = typed.trim().toLowerCase().split(/\s+/);
  return all.filter((c) => {
    const known = words(c), valves = /(\d+)\s*valves?/.exec(typed.toLowerCase())?.[1];
    if (valves !== undefined && Number(valves) !== c.valves) return false;
    return asked.every((w) => known.includes(w) || nearSpacing(c, w) || /^valves?$/.test(w));
  });
}
