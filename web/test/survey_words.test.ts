// What was said in a survey is said back with its units and a true minus, and an answer as it was given.
import { describe, expect, it } from 'vitest';
import { saidInWords } from '../src/pages/survey_words';

describe('what was said in a survey', () => {
  it('has units', () => {
    expect(saidInWords({ kind: 'point', values: { setup: 'A', what: 'guide', id: '1I', x: 25.319, y: -32.701 } }, 'mm')).toBe('guide 1I in setup A: X 25.319 mm, Y −32.701 mm');
    expect(saidInWords({ kind: 'level', values: { setup: 'L', what: 'guide', id: '4E', across: 'cant', first: 0.5557, second: -0.0795 } }, 'mm'))
      .toBe('lean of guide 4E along the head in setup L: sensor 0.5557°, turned half a turn −0.0795°');
    expect(saidInWords({ kind: 'setup', values: { setup: 'B', id: '1E', tilt: 33.26 } }, 'in')).toBe('setup B: tilt 33.26°');
    expect(saidInWords({ kind: 'size', values: { what: 'to seat', id: '1E', value: 40 } }, 'mm')).toBe('to seat of 1E: 40 mm');
  });
  it('keeps a figure typed in another unit as it was typed', () => {
    expect(saidInWords({ kind: 'size', values: { what: 'bore', id: '1I', value: '0.315 in' } }, 'mm')).toBe('bore of 1I: 0.315 in');
  });
  it('says answers in words', () => {
    expect(saidInWords({ kind: 'head', values: { cylinders: 4, intake: 1, exhaust: 1 } }, 'mm')).toBe('the head: 4 cylinders, 1 intake a cylinder, 1 exhaust a cylinder');
    expect(saidInWords({ kind: 'head', values: { lean_of: 'chamber' } }, 'mm')).toBe('the head: leans are the pilots’, on the chamber side');
    expect(saidInWords({ kind: 'head', values: { accepted: ['like valves I'] } }, 'mm')).toBe('the head: taken over: like valves I');
    expect(saidInWords({ kind: 'way', values: { letters: 'E', way: 'back' } }, 'mm')).toBe('guides E: lean back');
    expect(saidInWords({ kind: 'point', values: {}, withdrawn: true }, 'mm')).toBe('take back a place');
  });
});
