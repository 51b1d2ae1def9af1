import { describe, expect, it } from 'vitest';
import { parseQuantity } from '../src/numbers/parse';
import { withUnit } from '../src/numbers/written';

function mm(text: string, unit: 'in' | 'mm' = 'in'): number {
  const got = parseQuantity(text, 'length', unit);
  if (!got.ok) throw new Error(got.sentence);
  return got.value;
}
function sentence(text: string): string {
  const got = parseQuantity(text, 'length', 'in');
  return got.ok ? '' : got.sentence;
}

describe('lengths as people type them', () => {
  // 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
  it.each([
    ['.0015', 0.0015 * 25.4],
    ['1-9/16', 39.6875],
    ['1 9/16 in', 39.6875],
    ['1 - 9/16"', 39.6875],
    ['1½', 38.1],
    ['9/16', 14.2875],
    ['39.7mm', 39.7],
    ['0,05', 0.05 * 25.4],
    ['0,05 mm', 0.05],
    ['-0.25', -6.35],
    ['−1-1/2 in', -38.1],
    ['50 um', 0.05],
    ['50 µm', 0.05],
    ['2 thou', 0.0508],
    ['5.', 127],
    ['+3', 76.2],
    ['1 in.', 25.4],
  ])('%s', (text, want) => expect(mm(text)).toBeCloseTo(want, 10));

  it('takes a bare number in the unit of the page', () => {
    expect(mm('0,05', 'mm')).toBeCloseTo(0.05, 12);
    expect(mm('1-9/16', 'mm')).toBeCloseTo(1.5625, 12);
    expect(mm('1 9/16 in', 'mm')).toBeCloseTo(39.6875, 12);
  });

  it.each([
    ['', 'Type a number.'],
    ['abc', 'has no number in it'],
    ['1/0', '0 below the line'],
    ['1.2.3', 'more than one decimal mark'],
    ['1,234.5', 'leave the thousands mark out'],
    ['12 stone', 'is no unit of a length'],
    ['3 4', 'two numbers'],
    ['1/2/3', 'not a fraction'],
    ['1.5/2', 'not a fraction'],
    ['--1', 'not a number'],
  ])('answers %j with a sentence', (text, part) => expect(sentence(text)).toContain(part));
});

describe('other quantities', () => {
  const value = (text: string, q: Parameters<typeof parseQuantity>[1]) => {
    const got = parseQuantity(text, q, 'in');
    return got.ok ? got.value : got.sentence;
  };
  it('reads angles', () => {
    expect(value('19.5', 'angle')).toBe(19.5);
    expect(value("19° 30'", 'angle')).toBe(19.5);
    expect(value('-0° 3\'36"', 'angle')).toBeCloseTo(-0.06, 12);
    expect(value('0,5 deg', 'angle')).toBe(0.5);
    expect(value("19° 75'", 'angle')).toContain('below 60');
  });
  it('reads masses, volumes, vacuum', () => {
    expect(value('46 lb', 'mass')).toBeCloseTo(20.865, 3);
    expect(value('64.1', 'volume')).toBe(64.1);
    expect(value('22', 'vacuum')).toBeCloseTo(74.5, 1); // an inch page takes inHg
    expect(value('75 kPa', 'vacuum')).toBe(75);
  });
  it('refuses a unit on a plain number', () => expect(value('3 mm', 'plain')).toContain('plain number'));
});

it('a bare figure keeps the unit it was typed beside', () => {
  expect(withUnit('25.4', 'length', 'mm')).toBe('25.4 mm');
  expect(withUnit('1-9/16 ', 'length', 'in')).toBe('1-9/16 in');
  expect(withUnit('20', 'vacuum', 'inHg')).toBe('20 inHg');
  for (const [typed, quantity] of [['1.5 in', 'length'], ['39,7mm', 'length'], ['0', 'length'], ['19.5', 'angle'], ['', 'length'], ['-', 'length']] as const)
    expect(withUnit(typed, quantity, 'mm')).toBe(typed);
});
