import { expect, test } from 'vitest';
import type { State } from '../src/api/types';
import { concerns, ofHead } from '../src/state/own_state';

const line = (mark: string, words: string) => ({ mark, line: words });
const answer = {
  head: '6', heads: ['6', '22'],
  stages: { hold: line('done', 'Tilt 19.50°'), find: line('done', 'Head 6: 2 touched'), shape: line('ready', '8 seats'), cut: line('ready', '2 programs checked'), prove: line('done', '32 verdicts') },
  results: {
    hold: { setups: [{ id: 'A' }], level: { incline_deg: 0.1 } }, find: { heads: [{ head: '6' }], pilots: [{ valve: '1E' }], learned: [1] },
    shape: { seats: [{ id: '1E', depth_mm: 0.1 }] }, cut: { programs: [{ file: 'program-6-A-1.ngc' }] }, prove: { seats: [{ head: '6' }], batch: [{ what: 'TIR' }], unmeasured: [], verdict: 'pass' },
  },
  warnings: [
    { stage: 'find', code: 'suspect-touch', valve: '4I', text: 'head 22: the touch does not agree', values: { head: '22' }, blocking: false },
    { stage: 'find', code: 'enter-target', valve: null, text: 'head 6, setup A: touch 4E next', values: { head: '6', setup: 'A' }, blocking: false },
    { stage: 'hold', code: 'tilt', valve: null, text: 'Tilt it back before the clamps are opened.', values: {}, blocking: false },
  ],
  drawings: [{ name: 'plan', stage: 'hold', title: '' }, { name: 'map', stage: 'find', title: '' }, { name: 'path', stage: 'cut', title: '' }],
} as unknown as State;

test('an answer of the chosen head stays, without sentences about other heads', () => {
  const own = ofHead(answer, '6', true);
  expect(own.lacking).toBeNull();
  expect(own.results.cut?.programs[0]?.file).toBe('program-6-A-1.ngc');
  expect(own.warnings.map((w) => w.code)).toEqual(['enter-target', 'tilt']);
});

test('of a head whose answer is not there yet, no program, touch, depth, level or verdict of another head is left', () => {
  const own = ofHead(answer, '7', false);
  expect(own.head).toBe('7');
  expect(own.lacking).toBe('Head 7 is being worked out.');
  expect(own.results.cut).toBeUndefined();
  expect(own.results.shape).toBeUndefined();
  expect(own.results.find).toMatchObject({ heads: [], pilots: [], learned: [1] });
  expect(own.results.hold).toMatchObject({ setups: [{ id: 'A' }], level: null });
  expect(own.results.prove).toMatchObject({ seats: [], verdict: 'not measured', batch: [{ what: 'TIR' }] });
  expect(own.drawings.map((d) => d.name)).toEqual(['plan']);
  expect(JSON.stringify([own.stages, own.warnings])).not.toMatch(/head 6|head 22|checked|verdicts/i);
});

test('a head nothing is read of keeps its own answer, and the page says so', () => {
  const own = ofHead({ ...answer, head: '7' }, '7', false);
  expect([own.own, own.lacking]).toEqual([true, 'Nothing is read of head 7 yet.']);
});

test('while the answer of a head on record is on its way, the last head’s figures are gone already', () => {
  expect(ofHead(answer, '22', true).stages.cut).toEqual({ mark: 'open', line: 'Head 22 is being worked out.' });
});

test('a sentence is of the head among its values', () => {
  expect(concerns({ values: { head: '6/1' } }, '6/1')).toBe(true);
  expect(concerns({ values: { head: '22' } }, '2')).toBe(false);
  expect(concerns({ values: { heads: 4 } }, '2')).toBe(true);
});
