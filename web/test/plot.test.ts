import { expect, test, vi } from 'vitest';
import { nice } from '../src/parts/nice';
import { csvText, type PlotData } from '../src/parts/plot';

test('ticks are round and hold what is shown', () => {
  expect(nice(0, 8)).toEqual([0, 2, 4, 6, 8]);
  expect(nice(0.0003, 0.0021)).toEqual([0, 0.0005, 0.001, 0.0015, 0.002, 0.0025]);
  expect(nice(-0.05, 0.12)).toEqual([-0.05, 0, 0.05, 0.1, 0.15]);
});

test('a plot’s CSV has its lines, its limits and what is not known as an empty cell', () => {
  const of: PlotData = { name: 'runout', title: 'runout', over: 'head', along: ['1', '6, "b"'], unit: 'in', lines: [{ name: 'worst', values: [0.001, null] }], limits: [{ name: 'at most', value: 0.002 }], say: String };
  expect(csvText(of)).toBe('head,worst in,at most in\r\n1,0.001,0.002\r\n"6, ""b""",,0.002\r\n');
});

test('seats that pass: what is only reported counts neither way, one failure fails its seat', async () => {
  vi.stubGlobal('localStorage', { getItem: () => null, setItem: () => undefined, removeItem: () => undefined });
  vi.stubGlobal('sessionStorage', { getItem: () => null, setItem: () => undefined, removeItem: () => undefined });
  vi.stubGlobal('location', { hash: '' });
  vi.stubGlobal('addEventListener', () => undefined);
  vi.stubGlobal('document', { documentElement: { setAttribute: () => undefined, removeAttribute: () => undefined } });
  const { measuredOf } = await import('../src/stages/prove/measured');
  const { passing } = await import('../src/stages/prove/trends');
  const csv = 'head,valve,kind,characteristic,value,unit,expanded_uncertainty,coverage_factor,limit_low,limit_high,limit_source,verdict\r\n'
    + '1,1E,exhaust,runout,0.01,mm,,,,0.05,"runout_max, of the job",pass\r\n1,1E,exhaust,eccentricity,0.01,mm,,,,,,\r\n'
    + '1,1I,intake,runout,0.09,mm,,,,0.05,x,fail\r\n1,1I,intake,width,1.5,mm,,,,,x,pass\r\n2,1E,exhaust,runout,0.01,mm,,,,0.05,x,pass\r\n';
  const rows = measuredOf(csv);
  expect(rows.length).toBe(5);
  expect(rows[0]).toEqual({ head: '1', valve: '1E', what: 'runout', value: 0.01, high: 0.05, verdict: 'pass' });
  expect(passing(rows).lines.map((l) => l.values)).toEqual([[50, 100], [50, 66.7]]);
});

test('a histogram counts every value once, those on the last edge too', async () => {
  const { counts } = await import('../src/stages/prove/spread');
  const values = [0, 0.1, 0.19, 0.2, 0.35, 0.4];
  const { edges, counts: found } = counts(values);
  expect(edges).toEqual([0, 0.1, 0.2, 0.3, 0.4]);
  expect(found).toEqual([1, 2, 1, 2]);
  const many = Array.from({ length: 300 }, (_, i) => Math.sin(i));
  expect(counts(many).counts.reduce((a, b) => a + b, 0)).toBe(300);
  expect(counts([0.5, 0.5]).counts.reduce((a, b) => a + b, 0)).toBe(2);
});

test('seats of the same figures are one row of the strip, in head order', async () => {
  const { alike } = await import('../src/stages/shape/depth_strip');
  const seat = (id: string, depth: number | null, decision = 'cut') => ({ id, decision, depth_mm: depth, cleanup_mm: 0.1, depth_high_mm: null, recession_mm: null }) as never;
  expect(alike([seat('1I', 0.2), seat('1E', 0.3), seat('2I', 0.2), seat('2E', null, 'not measured')]).map((r) => r.ids)).toEqual([['1I', '2I'], ['1E'], ['2E']]);
});
