import { describe, expect, it } from 'vitest';
import { valuesInWords } from '../src/parts/entry_words';
import { areaNumber, metalNumber, show, showChance, showRough, showTime, showUncertainty, trueMinus } from '../src/numbers/show';

describe('numbers as shown', () => {
  it('shows inch with four decimals, mm with three', () => {
    expect(show(39.6875, 'length', 'in')).toBe('1.5625 in');
    expect(show(39.6875, 'length', 'mm')).toBe('39.688 mm');
  });
  it('has no minus zero and no number for what is not known', () => {
    expect(show(-0.00001, 'length', 'mm')).toBe('0.000 mm');
    expect(show(-1, 'length', 'mm')).toBe('−1.000 mm');
    expect(show(null, 'length', 'mm')).toBe('–');
    expect(show(Number.NaN, 'length', 'mm')).toBe('–');
  });
  it('writes figures within the server’s words with the same minus, and leaves names, days and ranges', () => {
    expect(trueMinus('2 setups; A tilt 19.50°; B tilt -15.50° swing -3.00°')).toBe('2 setups; A tilt 19.50°; B tilt −15.50° swing −3.00°');
    expect(trueMinus('-0.5000')).toBe('−0.5000');
    expect(trueMinus('moves (-.0010 in), X=-1.5')).toBe('moves (−.0010 in), X=−1.5');
    for (const kept of ['program-6-A-1.ngc', '2026-11-30', '10-20 Nm', 'form-intake', '1-9/16']) expect(trueMinus(kept)).toBe(kept);
  });
  it('writes what was typed with the same minus and degrees, whatever was typed', () => {
    expect(valuesInWords({ values: { across: 'cant', first: '0.12 deg', second: -0.08 }, units: 'in' })).toBe('across cant, first 0.12°, second −0.08°');
    expect(valuesInWords({ values: { x: '-.5', y: '12.7 mm', date: '2026-11-30' }, units: 'in' })).toBe('x −.5 in, y 12.7 mm, date 2026-11-30');
  });
  it('never promises certainty', () => {
    expect(showChance(1)).toBe('> 99.999 %');
    expect(showChance(0.9994)).toBe('99.940 %');
    expect(showChance(0.5)).toBe('50.0 %');
  });
  it('rounds an uncertainty up and never to nothing', () => {
    expect(showUncertainty(0.002, 'length', 'mm')).toBe('0.002 mm');
    expect(showUncertainty(0.0021, 'length', 'mm')).toBe('0.003 mm');
    expect(showUncertainty(0.0002, 'length', 'mm')).toBe('0.0002 mm');
    expect(showUncertainty(0.001, 'length', 'in')).toBe('0.00004 in');
    expect(showUncertainty(0, 'length', 'mm')).toBe('0.000 mm');
    expect(showUncertainty(null, 'length', 'mm')).toBe('–');
  });
  it('shows areas, metal taken off and sizes at a glance in the unit of the page', () => {
    expect([areaNumber(645.16, 'in'), areaNumber(645.16, 'mm'), areaNumber(null, 'in')]).toEqual(['1.000', '645', '–']);
    expect([metalNumber(16387.064, 'in'), metalNumber(120, 'mm'), metalNumber(null, 'mm')]).toEqual(['1.00000', '120.0', '–']);
    expect([showRough(1016, 'in', 0), showRough(1016, 'mm', 0), showRough(9.525, 'in', 3)]).toEqual(['40.0 in', '1016 mm', '0.3750 in']);
  });
  it('shows times', () => expect(showTime(754)).toBe('12 min 34 s'));
});
