import { signal } from '@preact/signals';
import { expect, test } from 'vitest';
import { cannotBe, isUnusual, notUsual, type Sized } from '../src/pages/six_ranges';

const head = (text: string): Sized => ({ label: 'intake valve head diameter', text: signal(text), key: 'valve.*.head_diameter', least: 3, most: 500 });
const spacing = (text: string): Sized => ({ label: 'From one cylinder to the next', text: signal(text), key: 'head.pattern.bore_spacing', least: 20, most: 2000 });

test('a size in the wrong unit is asked about by what the trade knows', () => {
  expect(cannotBe(head('3.5'), 'mm')).toBe(null); // the server would take it
  expect(notUsual(head('3.5'), 3.5, 'mm')).toBe('Is that right? In the trade it lies between 9.000 mm and 150.000 mm. If you mean inches, type the unit with it: 3.5 in.');
  expect(cannotBe(spacing('89'), 'in')).toMatch(/^It lies between .* If you mean mm, type the unit with it: 89 mm\.$/);
  expect(notUsual(spacing('40'), 1016, 'in')).toMatch(/^Is that right\? In the trade it lies between 1\.1811 in and 14\.5669 in\. If you mean mm/);
});

test('a size of the trade is not asked about, in whichever unit it is typed', () => {
  for (const [of, unit] of [[head('38'), 'mm'], [head('1.5'), 'in'], [head('1-1/2 in'), 'mm'], [head('38 mm'), 'in'], [spacing('4.4'), 'in']] as const) {
    expect(cannotBe(of, unit)).toBe(null);
    expect(isUnusual(of, unit)).toBe(false);
  }
  expect(isUnusual(head(''), 'mm')).toBe(false);
  expect(cannotBe(spacing(''), 'mm')).not.toBe(null);
});
