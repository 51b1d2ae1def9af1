// The points of a worn section as lines of text, and what a feed said of those it gave.

import { parseQuantity } from '../../numbers/parse';
import type { LengthUnit } from '../../numbers/quantity';
import { written } from '../../numbers/written';

export const linesOf = (text: string): string[] => text.split('\n').map((l) => l.trim()).filter((l) => l !== '');
export const withPoint = (section: string, point: string): string => [...linesOf(section), point].join('\n');

// The points as typed, with their units; a sentence when a line is no point.
export function pointsOf(text: string, unit: LengthUnit): [string, string][] | string {
  const points: [string, string][] = [];
  for (const [i, line] of linesOf(text).entries()) {
    const pair = line.split(/[;\t]|\s+(?=[-+.\d])/).map((p) => p.trim()).filter((p) => p !== '');
    const [r, z] = pair.map((p) => parseQuantity(p, 'length', unit));
    if (pair.length !== 2 || !r?.ok || !z?.ok) return `Line ${i + 1} of the section is not two numbers, radius and height: “${line}”.`;
    points.push([written(r, 'length'), written(z, 'length')]);
  }
  return points;
}

// Of an entry that comes back: [["26.1 mm", "-0.03 mm"], …].
export const sectionText = (points: unknown): string =>
  (Array.isArray(points) ? points.map((p) => (Array.isArray(p) ? p.map(String).join(' ') : '')).join('\n') : '');

// From where the points came that still stand there as a feed gave them: each reading once.
export function sectionSources(section: string, sources: string): string[] {
  const standing = new Set(linesOf(section));
  return [...new Set(linesOf(sources).map((l) => l.split('\t')).filter(([point]) => standing.has(point ?? '')).map(([, from]) => from ?? ''))];
}
