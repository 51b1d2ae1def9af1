// Keys and factors the pages name by hand are those of the made table: one that is renamed there fails here.
import { expect, test } from 'vitest';
import made from '../src/made/keys.json';
import { factorOf, mmIn } from '../src/numbers/quantity';
import { allKeys, keyOf } from '../src/state/keys';
import { sources } from './sources';

const tables = [...new Set(allKeys.filter((k) => /[.[]/.test(k.key)).map((k) => k.key.split(/[.[]/)[0]!))];

// What the stages answer has names like keys; these are no keys of a file.
const answers = new Set(['depth.stem_spread_mm', 'depth.chamber_spread_cm3', 'depth.total_mm', 'depth.batch']);

function keysNamed(text: string): string[] {
  const named = new RegExp(`['\`]((?:${tables.join('|')})[.[][\\w.*[\\]$\{}]*[\\w*\\]}])['\`]`, 'g');
  return [...text.matchAll(named)].map((m) => m[1]!.replace(/\$\{(?:props\.)?kind\}|\$\{k\}/g, 'intake').replace(/\[\$\{i\}\]/g, '[0]')).filter((key) => !key.includes('${'));
}

test('every key a page names is one of the table', () => {
  const all = sources.flatMap(({ path, text }) => keysNamed(text).map((key) => ({ path, key }))).filter(({ key }) => !answers.has(key));
  expect(all.length).toBeGreaterThan(80);
  expect(all.filter(({ key }) => keyOf(key) === undefined)).toEqual([]);
});

test('a key that is in no table is found by that', () => {
  expect(keysNamed("known('machine.rpm_most')").map(keyOf)).toEqual([undefined]);
  expect(keysNamed('valueAt(t, `seat.${kind}.widht`)')).toEqual(['seat.intake.widht']);
});

test('what tells most of a thing on the shelf is named as the table names it', () => {
  const list = /tellingFirst = \[([^\]]+)\]/.exec(sources.find((s) => s.path === 'pages/shelf.tsx')!.text)?.[1] ?? '';
  const names = [...list.matchAll(/'(\w+)'/g)].map((m) => m[1]!);
  expect(names.length).toBeGreaterThan(8);
  const known = new Set(allKeys.map((k) => /^(?:machine|fixture|pilot\[\]|cutter\[\]|material\[\])\.(\w+)$/.exec(k.key)?.[1]));
  expect(names.filter((n) => !known.has(n))).toEqual([]);
});

test('an inch has the length the table gives it, and no page has a length of its own for it', () => {
  expect(mmIn).toEqual({ mm: 1, in: made.units.length.factors.in });
  expect(mmIn.in).toBe(factorOf('length', 'inch')?.factor);
  const code = (text: string) => text.replace(/\/\/.*$/gm, '');
  expect(sources.filter((s) => /25\.4\b|\b0?\.0254\b|\b0?\.03937/.test(code(s.text))).map((s) => s.path)).toEqual([]);
});
