import { describe, expect, it } from 'vitest';
import { show, showChance, showTime, showUncertainty } from '../src/numbers/show';

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
  it('shows times', () => expect(showTime(754)).toBe('12 min 34 s'));
});
