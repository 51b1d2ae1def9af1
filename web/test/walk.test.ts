import { expect, test } from 'vitest';
import type { WalkStep } from '../src/api/types';
import { ofAnotherHead, standingAt, type WalkKnown } from '../src/state/walk';

const step = (id: string, more: Partial<WalkStep> = {}): WalkStep => {
  const [kind = '', setup = '', cutter = ''] = id.split(' ');
  return { id, kind: kind as WalkStep['kind'], run: cutter === '' ? '' : `${setup} ${cutter}`, setup, words: id, mark: kind, begins: false, done: false, file: null, valves: [], on: null, ways: [], ...more };
};
// As plan/ makes it of a head with one setup and two cutters, touched.
const list = (): WalkStep[] => [
  step('load A', { words: 'Load head 7 and set tilt 19.50°.' }), step('touch A', { done: true }),
  ...['1', '2'].flatMap((c) => [step(`take A ${c} first`, { file: 'x' }), step(`zero A ${c}`), step(`first A ${c}`, { valves: [c === '1' ? '1E' : '1I'] }), step(`take A ${c}`), step(`cut A ${c}`)]),
  step('measure', { setup: '', valves: ['1E', '1I', '2E', '2I'] }), step('finished', { setup: '' }),
];
const known = (over: Partial<WalkKnown> = {}): WalkKnown => ({
  said: new Set(), touches: new Set(['1E']), firsts: new Set(), measured: new Set(), setups: [{ id: 'A', valves: [{ id: '1E' }, { id: '2E' }] }] as unknown as WalkKnown['setups'], ...over,
});
const now = (k: WalkKnown, steps = list()) => { const w = standingAt(steps, k); return w.steps[w.at]!.id; };

test('a person ends a step: it stands where it was until said', () => {
  expect(now(known({ touches: new Set() }))).toBe('load A');
  expect(now(known())).toBe('take A 1 first');
  expect(now(known({ said: new Set(['take A 1 first']) }))).toBe('zero A 1');
  expect(now(known({ said: new Set(['take A 1 first', 'zero A 1']) }))).toBe('first A 1');
});

test('a head touched in all its setups is turned back by a person, whatever was touched', () => {
  const steps = list().flatMap((s) => (s.id === 'touch A' ? [s, step('back A', { kind: 'load' })] : [s]));
  expect(now(known(), steps)).toBe('back A');
  expect(now(known({ said: new Set(['load A']) }), steps)).toBe('back A');
  expect(now(known({ said: new Set(['back A']) }), steps)).toBe('take A 1 first');
  expect(ofAnotherHead(steps.map((s) => ({ ...s, words_of_any: s.words })), '8').map((s) => s.id)).not.toContain('back A');
});

test('a file that does something else than the one that was taken is to be taken again', () => {
  const said = new Set(['take A 1 first', 'zero A 1']);
  const steps = list().map((s) => (s.id === 'take A 1 first' ? { ...s, moves: 'b' } : s));
  expect(now(known({ said, taken: new Map([['take A 1 first', 'b']]) }), steps)).toBe('first A 1');
  const w = standingAt(steps, known({ said, taken: new Map([['take A 1 first', 'a']]) }));
  expect(w.steps[w.at]?.id).toBe('take A 1 first');
  expect(w.steps[w.at]?.words).toMatch(/^The file at the machine is an old one: /);
  // Taken before files were compared, or cut already: nothing is asked.
  expect(now(known({ said }), steps)).toBe('first A 1');
  expect(now(known({ said: new Set([...said, 'cut A 1']), taken: new Map([['take A 1 first', 'a']]), firsts: new Set(['1E']) }), steps)).toBe('take A 2 first');
});

test('a reading that still waits to be sent ends its step; the second file, cut, the next cutter follow', () => {
  const said = new Set(['take A 1 first', 'zero A 1']);
  const firsts = new Set(['1E']);
  expect(now(known({ said, firsts }))).toBe('take A 1');
  said.add('take A 1');
  expect(now(known({ said, firsts }))).toBe('cut A 1');
  said.add('cut A 1');
  expect(now(known({ said, firsts }))).toBe('take A 2 first');
});

test('"cut" said of a cutter ends all its steps, whatever was skipped', () => {
  expect(now(known({ said: new Set(['cut A 1', 'cut A 2']) }))).toBe('measure');
});

test('measuring names the next seat, and the head is finished when the last one is measured', () => {
  const said = new Set(['cut A 1', 'cut A 2']);
  const half = standingAt(list(), known({ said, measured: new Set(['1E', '1I']) }));
  expect(half.steps[half.at]?.words).toBe('Measure 2E.');
  expect(now(known({ said, measured: new Set(['1E', '1I', '2E', '2I']) }))).toBe('finished');
});

test('under another head’s answer only the steps of every head are left, open, with the head’s own number', () => {
  const own = ofAnotherHead(list().map((s) => ({ ...s, done: true, words_of_any: s.words.replace('7', '{head}') })), '8');
  expect(own.map((s) => s.id)).toEqual(['load A', 'touch A', 'measure', 'finished']);
  expect(own[0]?.words).toBe('Load head 8 and set tilt 19.50°.');
  expect(own.some((s) => s.done)).toBe(false);
});
