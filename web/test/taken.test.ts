import './browser_globals';
import { signal } from '@preact/signals';
import { describe, expect, it } from 'vitest';
import { takenReason } from '../src/entry/taken';
import { parseQuantity } from '../src/numbers/parse';
import { asTyped } from '../src/state/feed';

describe('what a feed gives a field', () => {
  const length = (value_mm: number) => ({ what: 'x', value_mm, raw: '', stated: null });
  it('is in the unit of the page, as fine as the source counts', () => {
    expect(asTyped(length(12.3456), 'mm')).toBe('12.3456 mm');
    expect(asTyped(length(12.3456), 'in')).toBe('0.486047 in');
    expect(asTyped(length(-0.008), 'in')).toBe('-0.000315 in');
    expect(asTyped({ what: 'tilt', value_deg: -15.5, raw: '', stated: null }, 'in')).toBe('-15.5°');
    const got = parseQuantity(asTyped(length(26.12), 'in'), 'length', 'in');
    expect(got.ok && Math.abs(got.value - 26.12)).toBeLessThan(2e-5);
  });
});

describe('from where the readings of an entry came', () => {
  it('is said of each, none of it twice or of what was typed', () => {
    expect(takenReason([signal('1')])).toEqual({});
    expect(takenReason([signal('1')], ['', "from dial: '1'", "from dial: '2'"])).toEqual({ reason: "from dial: '1'; from dial: '2'" });
  });
  it('never grows beyond what the server takes: the rest is counted', () => {
    const each = `from dial, by the gauge’s button: '${'9'.repeat(70)}'`;
    const { reason } = takenReason([], Array<string>(400).fill(each));
    expect(new TextEncoder().encode(reason).length).toBeLessThan(10_000);
    const kept = reason!.split('; ').filter((w) => w === each).length;
    expect(reason!.endsWith(`and ${400 - kept} more readings`)).toBe(true);
  });
});
