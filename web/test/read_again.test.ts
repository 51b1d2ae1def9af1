import { describe, expect, it } from 'vitest';
import { signal } from '@preact/signals';
import { implausible, keptOf, typedValues, type Asked } from '../src/stages/typed_values';

const lengths = ['stem_height', 'section'];

describe('a seat read again', () => {
  it('keeps what was read before as it stands in the same unit', () => {
    expect(keptOf({ values: { stem_height: 40.1, chamber: 64 }, units: 'mm' }, 'mm', lengths)).toEqual({ stem_height: 40.1, chamber: 64 });
  });
  it('names the unit of bare lengths when the page now shows another', () => {
    expect(keptOf({ values: { stem_height: 40.1, section: [[15, '-0.5'], ['16 mm', 0]], chamber: 64 }, units: 'mm' }, 'in', lengths))
      .toEqual({ stem_height: '40.1 mm', section: [['15 mm', '-0.5 mm'], ['16 mm', '0 mm']], chamber: 64 });
    expect(keptOf({ values: { stem_height: '1-9/16', chamber: '64 cm3' }, units: 'in' }, 'mm', lengths)).toEqual({ stem_height: '1-9/16 in', chamber: '64 cm3' });
    expect(keptOf({ values: { stem_height: '1.5625 in' }, units: 'in' }, 'mm', lengths)).toEqual({ stem_height: '1.5625 in' });
  });
});

describe('the fields of one reading', () => {
  const asked: Asked[] = [
    { key: 'runout', label: 'Runout', quantity: 'length' }, { key: 'width', label: 'Width', quantity: 'length', list: true },
    { key: 'vacuum_seconds', label: 'seconds', quantity: 'plain' },
  ];
  it('are written as the job file has them, and left out when open', () => {
    expect(typedValues(asked, [signal(' '), signal('1,5 mm'), signal('10')], 'in')).toEqual({ width: ['1.5 mm'], vacuum_seconds: 10 });
    expect(typedValues(asked, [signal('.0008'), signal(''), signal('')], 'in')).toEqual({ runout: '0.0008 in' });
  });
  it('say which one holds nonsense', () => {
    expect(typedValues(asked, [signal('.0008'), signal('wide'), signal('')], 'in')).toBe(1);
  });
  it('or what no seat has, because a point or a unit was left out', () => {
    const height: Asked = { key: 'stem_height', label: 'Stem height, to the tip', quantity: 'length', range: 'reading.seat[].stem_height' };
    expect(typedValues([height], [signal('48.5')], 'in')).toBe(0);
    expect(typedValues([height], [signal('1.905')], 'mm')).toBe(0);
    expect(typedValues([height], [signal('48.5 mm')], 'in')).toEqual({ stem_height: '48.5 mm' });
    expect(implausible(height, 48.5 * 25.4, 'in')).toMatch(/^48\.5000 in cannot be the stem height: /);
    expect(typedValues([height], [signal('48.5')], 'in', { stem_height: '48.5' })).toEqual({ stem_height: '48.5 in', sure: true });
    expect(typedValues([height], [signal('48.6')], 'in', { stem_height: '48.5' })).toBe(0);
    expect(implausible({ ...height, range: 'reading.seat[].nothing' }, 48.5 * 25.4, 'in')).toBeNull();
  });
});
