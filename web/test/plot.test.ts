import { expect, test } from 'vitest';
import { csvText, nice, type PlotData } from '../src/parts/plot';

test('ticks are round and hold what is shown', () => {
  expect(nice(0, 8)).toEqual([0, 2, 4, 6, 8]);
  expect(nice(0.0003, 0.0021)).toEqual([0, 0.0005, 0.001, 0.0015, 0.002, 0.0025]);
  expect(nice(-0.05, 0.12)).toEqual([-0.05, 0, 0.05, 0.1, 0.15]);
});

test('a plot’s CSV has its lines, its limits and what is not known as an empty cell', () => {
  const of: PlotData = { name: 'runout', title: 'runout', over: 'head', along: ['1', '6, "b"'], unit: 'in', lines: [{ name: 'worst', values: [0.001, null] }], limits: [{ name: 'at most', value: 0.002 }], say: String };
  expect(csvText(of)).toBe('head,worst in,at most in\r\n1,0.001,0.002\r\n"6, ""b""",,0.002\r\n');
});
