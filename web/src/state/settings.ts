// What this screen prefers: inch or mm, light or dark sheet, keypad. Kept in the browser, not on the server:
// the tablet at the machine and the desk beside it may differ.

import { effect, signal } from '@preact/signals';
import type { LengthUnit } from '../numbers/quantity';

export type Sheet = 'as the device' | 'light' | 'dark';

function kept<T extends string>(name: string, allowed: readonly T[], otherwise: T) {
  const found = localStorage.getItem(`seatwright.${name}`) as T | null;
  const value = signal<T>(found !== null && allowed.includes(found) ? found : otherwise);
  effect(() => localStorage.setItem(`seatwright.${name}`, value.value));
  return value;
}

export const units = kept<LengthUnit | 'job'>('units', ['in', 'mm', 'job'], 'job');
export const keys = kept<'on' | 'off'>('keys', ['on', 'off'], 'on'); // keyboard shortcuts
export const sheet = kept<Sheet>('sheet', ['as the device', 'light', 'dark'], 'as the device');

effect(() => {
  const root = document.documentElement;
  if (sheet.value === 'as the device') root.removeAttribute('data-sheet');
  else root.setAttribute('data-sheet', sheet.value);
});
