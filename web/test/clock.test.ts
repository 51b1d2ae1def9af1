import { expect, test } from 'vitest';
import { clockOff, clockWords, noteServerTime } from '../src/state/clock';

test('a device clock far off is said, a little off is not', () => {
  noteServerTime('2026-03-01T10:00:00Z', Date.parse('2026-03-01T10:07:00Z'));
  expect(clockOff.value).toBe(7 * 60_000);
  expect(clockWords(clockOff.value)).toMatch(/7 minutes ahead of the server/);
  expect(clockWords(-3 * 3600_000)).toMatch(/3 hours behind/);
  expect(clockWords(90_000)).toBeNull();
});
