import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';

// No file of the pages leads back to itself by its imports, types included.
const src = fileURLToPath(new URL('../src', import.meta.url));
const files = (readdirSync(src, { recursive: true }) as string[]).filter((f) => /\.tsx?$/.test(f)).map((f) => join(src, f));

function importsOf(file: string): string[] {
  const named = [...readFileSync(file, 'utf8').matchAll(/(?:from|import) '(\.[^']+)'/g)].map((m) => resolve(dirname(file), m[1] ?? ''));
  return named.flatMap((n) => files.filter((f) => f === `${n}.ts` || f === `${n}.tsx`));
}

function circleFrom(file: string, way: string[], clear: Set<string>): string[] | null {
  if (way.includes(file)) return [...way.slice(way.indexOf(file)), file];
  if (clear.has(file)) return null;
  for (const next of importsOf(file)) {
    const found = circleFrom(next, [...way, file], clear);
    if (found) return found;
  }
  clear.add(file);
  return null;
}

it('imports go round in no circle', () => {
  expect(files.length).toBeGreaterThan(50);
  expect(files.flatMap(importsOf).length).toBeGreaterThan(200);
  const clear = new Set<string>();
  const circles = files.map((f) => circleFrom(f, [], clear)).filter((c) => c !== null).map((c) => c.map((f) => relative(src, f)).join(' > '));
  expect(circles).toEqual([]);
});
