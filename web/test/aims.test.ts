// A bench's figures are held against their aims: one that misses is named, one that was not measured counts as missed.
import { readFileSync, readdirSync } from 'node:fs';
import { expect, test } from 'vitest';
// @ts-expect-error: a script without types
import { aims, aimsOf, missed } from '../../bench/aims.mjs';

const row = (name: string, real_time: number, more: object = {}) => ({ name, real_time, time_unit: 'us', ...more });
const measured = [row('one/10/real_time', 2000, { p99_ms: 3 }), row('one/1000/real_time', 4000, { p99_ms: 12, failed: 0 }), row('two/iterations:1', 1, { error_occurred: true })];

test('what keeps its aim says nothing, also at the limit itself', () => {
  expect(missed({ 'one/1000': { real_time_ms: 4, p99_ms: 12, failed: 0 } }, measured)).toEqual([]);
  expect(missed({ 'one/1000': { real_time_ms: { times: 2, of: 'one/10' } } }, measured)).toEqual([]);
  expect(missed(undefined, measured)).toEqual([]);
});

test('what misses is named, with figure and aim', () => {
  const strict = { 'one/1000': { real_time_ms: { times: 1.5, of: 'one/10' }, p99_ms: 10 } };
  expect(missed(strict, measured)).toEqual(['one/1000: real_time_ms is 4, the aim is 3', 'one/1000: p99_ms is 12, the aim is 10']);
  expect(aimsOf(strict, measured, measured[1])).toBe('real_time_ms 3 **missed**, p99_ms 10 **missed**');
  expect(aimsOf(strict, measured, measured[0])).toBe('');
});

test('what was not measured is missed', () => {
  expect(missed({ one: { entries: 5 }, two: { real_time_ms: 1 }, three: { real_time_ms: 1 } }, measured))
    .toEqual(['one: no entries was measured', 'two: no real_time_ms was measured', 'three: no real_time_ms was measured']);
  expect(missed({ 'one/1000': { real_time_ms: { times: 2, of: 'none' } } }, measured)[0]).toMatch(/was not measured/);
});

test('aims are of rows the figures have', () => {
  const folder = new URL('../../docs/figures/', import.meta.url);
  const known = Object.fromEntries(readdirSync(folder).map((f) => [f.replace('.md', ''), readFileSync(new URL(f, folder), 'utf8')]));
  for (const [bench, rows] of Object.entries(aims() as Record<string, object>)) {
    for (const name of Object.keys(rows)) expect(known[bench], bench).toMatch(new RegExp(`^\\| ${name}[/ ]`, 'm'));
  }
});
