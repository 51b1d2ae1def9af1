// The house rule: intake or exhaust is written in one place of the pages, state/keys.ts.
import { expect, test } from 'vitest';
import { keyOf, keyWords, kindIn, kinds, perKind } from '../src/state/keys';
import { sources } from './sources';

// Which files may say both kinds by themselves, and why.
const allowed: Record<string, string> = {
  'state/keys.ts': 'here they stand',
  'stages/shape/room.tsx': 'a name tells the kind of its valve while no answer does',
  'parts/plain.ts': 'keys within sentences of the server',
};

const code = (text: string) => text.replace(/(^|\s)\/\/.*$/gm, '');
const saysBoth = (text: string) => /intake/i.test(code(text)) && /exhaust/i.test(code(text));

test('no page has the two kinds of valves by itself', () => {
  expect(saysBoth("const kinds = ['intake', 'exhaust']") && !saysBoth("useSignal<Kind>('intake') // or exhaust")).toBe(true);
  expect(sources.filter((s) => saysBoth(s.text) && !(s.path in allowed)).map((s) => s.path)).toEqual([]);
});

test('the kind of a place in a file', () => {
  expect(perKind((k) => k.length)).toEqual({ intake: 6, exhaust: 7 });
  expect(kinds.map((k) => kindIn(`seat.${k}.width`))).toEqual(kinds);
  expect([kindIn('head.intake'), kindIn('seat.width')]).toEqual([undefined, undefined]);
  expect(keyOf('seat.exhaust.width')).toBe(keyOf('seat.*.width'));
  expect(keyOf('seat.other.width')).toBe(undefined);
  expect(keyWords('guide.intake.bore', {})).toBe('Bore, intake');
});
