import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

// Contrast by the formula of WCAG 2.2 (relative luminance, success criteria 1.4.3 and 1.4.11), read from the
// style sheet itself. First the formula against two pairs whose ratio the recommendation fixes: 21 and 1.

const css = readFileSync(new URL('../src/style/ink.css', import.meta.url), 'utf8');

function luminance(hex: string): number {
  const part = (i: number) => {
    const c = parseInt(hex.slice(1 + 2 * i, 3 + 2 * i), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * part(0) + 0.7152 * part(1) + 0.0722 * part(2);
}
function contrast(a: string, b: string): number {
  const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (high + 0.05) / (low + 0.05);
}
function sheet(which: 0 | 1): Record<string, string> {
  const inks = [...css.matchAll(/--([\w-]+): light-dark\((#\w{6}), (#\w{6})\)/g)];
  return Object.fromEntries(inks.map((m) => [m[1], m[2 + which]]));
}

it('knows the formula', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10);
  expect(contrast('#777777', '#777777')).toBe(1);
});

describe.each([['light', 0], ['dark', 1]] as const)('%s sheet', (_, which) => {
  const ink = sheet(which);
  const ratio = (a: string, b: string) => contrast(ink[a] ?? '#000000', ink[b] ?? '#000000');
  it('names every ink', () => expect(Object.keys(ink)).toHaveLength(11));
  it.each([
    ['line', 'paper'], ['soft', 'paper'], ['touch', 'paper'], ['warn', 'paper'], ['line', 'paper-2'], ['soft', 'paper-2'], ['touch', 'paper-2'],
    ['line', 'touch-ground'], ['touch', 'touch-ground'], ['on-touch', 'touch'], ['warn', 'warn-ground'], ['line', 'warn-ground'], ['touch', 'warn-ground'],
  ])('words in %s on %s reach 4.5 : 1', (a, b) => expect(ratio(a, b)).toBeGreaterThanOrEqual(4.5));
  it('borders of fields reach 3 : 1', () => expect(ratio('edge', 'paper')).toBeGreaterThanOrEqual(3));
});
