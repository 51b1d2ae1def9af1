import './browser_globals';
import { signal } from '@preact/signals';
import { describe, expect, it } from 'vitest';
import { takenReason } from '../src/entry/taken';

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
