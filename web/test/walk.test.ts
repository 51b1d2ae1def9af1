import { expect, test } from 'vitest';
import type { CutProgram, CutResult, Setup } from '../src/api/types';
import { walkOf, type WalkKnown } from '../src/state/walk';

const setup = (id: string, valves: string[]) => ({ id, tilt_deg: id === 'A' ? 19.5 : -17.5, swing_deg: 0, valves: valves.map((v) => ({ id: v })) }) as unknown as Setup;
const program = (s: string, cutter: number | null, seats: string[], first: boolean) => ({ setup: s, cutter, seats, first, file: `program-7-${s}-${cutter ?? ''}${first ? '-first' : ''}.ngc`, zero: { words: 'on 1E' } }) as unknown as CutProgram;
const known = (over: Partial<WalkKnown> & { programs?: CutProgram[] }): WalkKnown => ({
  head: '7', setups: [setup('A', ['1E', '2E', '1I', '2I'])], touched: () => true, wantsTouch: () => false, said: new Set(), firsts: new Set(), measured: new Set(),
  valves: ['1E', '1I', '2E', '2I'], atControl: false, cut: { programs: over.programs ?? [] } as unknown as CutResult, ...over,
});
const ids = (k: WalkKnown) => walkOf(k).steps.map((s) => s.id);
const now = (k: WalkKnown) => { const w = walkOf(k); return w.steps[w.at]!.id; };

test('two cutters, each with a first seat: every step is there once and in order', () => {
  const programs = [program('A', 1, ['1E'], true), program('A', 2, ['1I'], true)];
  expect(ids(known({ programs }))).toEqual(['load A', 'touch A', 'take A 1 first', 'zero A 1', 'first A 1', 'take A 1', 'cut A 1',
    'take A 2 first', 'zero A 2', 'first A 2', 'take A 2', 'cut A 2', 'measure', 'finished']);
});

test('a person ends a step: it stands where it was until said', () => {
  const programs = [program('A', 1, ['1E'], true), program('A', 2, ['1I'], true)];
  expect(now(known({ programs, touched: () => false, wantsTouch: () => true }))).toBe('load A');
  expect(now(known({ programs, touched: () => false, wantsTouch: () => true, said: new Set(['load A']) }))).toBe('touch A');
  expect(now(known({ programs }))).toBe('take A 1 first');
  expect(now(known({ programs, said: new Set(['take A 1 first']) }))).toBe('zero A 1');
  expect(now(known({ programs, said: new Set(['take A 1 first', 'zero A 1']) }))).toBe('first A 1');
});

test('after the first seat’s reading the second file follows, then cut, then the next cutter', () => {
  const programs = [program('A', 1, ['2E', '1E'], false), program('A', 2, ['1I'], true)];
  const said = new Set(['take A 1 first', 'zero A 1']);
  expect(now(known({ programs, said, firsts: new Set(['1E']) }))).toBe('take A 1');
  said.add('take A 1');
  expect(now(known({ programs, said, firsts: new Set(['1E']) }))).toBe('cut A 1');
  said.add('cut A 1');
  expect(now(known({ programs, said, firsts: new Set(['1E']) }))).toBe('take A 2 first');
});

test('without a first stop there is one file a cutter; with the trim at the control the reading stays, the second file does not', () => {
  const programs = [program('A', 1, ['1E', '2E'], false)];
  expect(ids(known({ programs }))).toEqual(['load A', 'touch A', 'take A 1', 'zero A 1', 'cut A 1', 'measure', 'finished']);
  expect(ids(known({ programs, atControl: true }))).toEqual(['load A', 'touch A', 'take A 1', 'zero A 1', 'first A 1', 'cut A 1', 'measure', 'finished']);
});

test('what is held back is a step of its own, and a head measured through is finished', () => {
  expect(now(known({ programs: [] }))).toBe('held A');
  const done = known({ programs: [], said: new Set(['cut A 1', 'cut A 2']), measured: new Set(['1E', '2E', '1I', '2I']) });
  expect(now(done)).toBe('finished');
});

test('the second setup is loaded after the first is cut', () => {
  const setups = [setup('A', ['1I', '2I']), setup('B', ['1E', '2E'])];
  const programs = [program('A', 1, ['1I', '2I'], false), program('B', 2, ['1E', '2E'], false)];
  const touched = (s: string) => s === 'A';
  const k = known({ setups, programs, touched, wantsTouch: (s) => s === 'B', said: new Set(['take A 1', 'zero A 1', 'cut A 1']) });
  const walk = walkOf(k);
  expect(walk.steps[walk.at]?.id).toBe('load B');
  expect(walk.steps[walk.at]?.words).toBe('Setup A is done. Turn to setup B: tilt −17.50°.');
});
