import { signal } from '@preact/signals';
import { expect, test } from 'vitest';
import { keyOf } from '../src/state/keys';
import { cannotBe, cannotCount, cannotLean, isUnusual, notUsual, saidRight, sayRight, type Sized } from '../src/pages/six_ranges';

const head = (text: string): Sized => ({ label: 'intake valve head diameter', text: signal(text), key: 'valve.intake.head_diameter' });
const spacing = (text: string): Sized => ({ label: 'From one cylinder to the next', text: signal(text), key: 'head.pattern.bore_spacing' });

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

test('what a new head can be is what the table says of it', () => {
  expect(cannotBe(head('0.1'), 'mm')).toBe('It lies between 3.000 mm and 500.000 mm.');
  expect([head('3'), head('500'), spacing('20'), spacing('2000')].map((of) => cannotBe(of, 'mm'))).toEqual([null, null, null, null]);
  expect([cannotBe(spacing('19.9'), 'mm'), cannotBe(spacing('2001'), 'mm')]).not.toContain(null);
  const lean = cannotLean('head.pattern.valve[0].incline'), angle = cannotLean('seat.exhaust.angle'), count = cannotCount('head.pattern.cylinders');
  expect([lean(79), lean(-79), angle(16), angle(64), count(1), count(16)]).toEqual([null, null, null, null, null, null]);
  expect([lean(79.5), angle(15), count(17), count(1.5)]).toEqual(['It lies between −79° and 79°.', 'It lies between 16° and 64°.', 'A whole number from 1 to 16.', 'A whole number from 1 to 16.']);
});

test('which limits may be nothing or less stands in the table', () => {
  const least = (name: string) => { const { limit, above, from } = keyOf(`seat.*.${name}`)!; return [limit, above, from]; };
  expect(['runout_max', 'stem_height_max', 'vacuum_min'].map(least)).toEqual(Array(3).fill([true, 0, undefined]));
  expect(['width_tol', 'recession_max', 'tip_grind_max'].map(least)).toEqual(Array(3).fill([true, undefined, 0]));
  expect(['recession_min', 'below_deck_min', 'below_deck_max'].map(least)).toEqual(Array(3).fill([true, undefined, undefined]));
});

test('what was said to be right goes with the answers, in the unit chosen, until another figure or unit stands there', () => {
  const small = head('8.5'), wide = spacing('100');
  const said = { ...sayRight(small, '8.5', 'mm'), ...sayRight(wide, '100', 'mm') };
  expect(saidRight([small, wide], {}, 'mm')).toEqual([]);
  expect(saidRight([small, wide], said, 'mm')).toEqual([{ key: 'valve.intake.head_diameter', value: 8.5 }]);
  expect(saidRight([head('8.5 mm')], sayRight(small, '8.5 mm', 'in'), 'in')).toEqual([{ key: 'valve.intake.head_diameter', value: Number((8.5 / 25.4).toPrecision(12)) }]);
  expect([saidRight([head('8.6')], said, 'mm'), saidRight([small], said, 'in')]).toEqual([[], []]);
});
