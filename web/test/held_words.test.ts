// What is held back is said once, and the words that free it are read out of the sentence.
import { describe, expect, it } from 'vitest';
import { allowWords, gathered, inShort, lackingKeys, runOfZero, sureWords } from '../src/stages/cut/held_words';

const held = (setup: string, valve: string | null, reason: string, frees = 'x') => ({ setup, valve, code: 'doubt' as const, reason, frees, values: {} });

describe('held back', () => {
  it('is one sentence for all setups and valves it says alike', () => {
    const groups = gathered([
      held('A', null, 'setup A: the fit did not settle'), held('B', null, 'setup B: the fit did not settle'),
      held('A', '1E', '1E: no pilot fits'), held('A', '2E', '2E: no pilot fits'), held('B', '1I', '1I: no pilot fits', 'another'),
    ]);
    expect(groups.map((g) => [g.setups, g.valves, g.reason])).toEqual([
      [['A', 'B'], [], 'the fit did not settle'], [['A'], ['1E', '2E'], 'no pilot fits'], [['B'], ['1I'], 'no pilot fits'],
    ]);
  });
  it('names the figure that may be right, and what a lead may let pass', () => {
    expect(sureWords('correct it, or write sure = ["head.lies = as declared"] if it is right')).toBe('head.lies = as declared');
    expect(sureWords('correct it, or write sure = true in that reading if it is right')).toBeNull();
    expect(allowWords('Z0 taken again, or allow = [{ what = "trim 3I", why = …, by = … }]')).toBe('trim 3I');
    expect(allowWords('a touch of guide 1E')).toBeNull();
  });
  it('has Z0 taken again where the seat it was taken on is not cut yet', () => {
    const step = (kind: 'zero' | 'first', run: string, valves: string[], on: string | null) => ({ kind, run, valves, on });
    const of = (on: string) => [step('zero', 'A 1', [], '2E'), step('first', 'A 1', ['1E'], null), step('zero', 'A 2', [], on), step('first', 'A 2', ['3I'], null)];
    expect(runOfZero(of('2I'), '3I')).toBe('A 2');
    expect(runOfZero(of('3I'), '3I')).toBeUndefined();
    expect(runOfZero(of('2I'), '4I')).toBeUndefined();
  });
  it('names the figures the job has not yet, and no others', () => {
    const tables = { guide: { exhaust: { below: 30 } } };
    expect(lackingKeys('guide.intake.below', tables)).toEqual(['guide.intake.below']);
    expect(lackingKeys('guide.exhaust.below', tables)).toEqual([]);
    expect(lackingKeys('depth.from = "touch", or machine.travel_x', tables)).toEqual([]); // a word, and a figure of the machine
  });
});

it('why in a few words is what stands before the details', () => {
  expect(inShort('is not measured: its plan lacks the cleanup')).toBe('is not measured');
  expect(inShort('cannot be cleaned up within its limits; a ring is needed')).toBe('cannot be cleaned up within its limits');
  expect(inShort('3I is 0.2 mm deeper than planned, more than may be trimmed (0.1 mm): take Z0 again')).toBe('3I is 0.2 mm deeper than planned');
});
