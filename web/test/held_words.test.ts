// What is held back is said once, and what frees it stands beside its sentence.
import { describe, expect, it } from 'vitest';
import { after, gathered, lackingKey, runOfZero } from '../src/stages/cut/held_words';

const held = (setup: string, valve: string | null, reason: string, frees = 'x') => ({ setup, valve, code: 'doubt' as const, reason, frees, values: {}, named: valve ?? `setup ${setup}` });

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
  it('goes on behind its name, in whatever language', () => {
    const said = (reason: string, valve: string | null = '3I') => after(gathered([held('A', valve, reason)])[0]!);
    expect(said('3I is not measured: its plan lacks the cleanup')).toBe('is not measured: its plan lacks the cleanup.');
    expect(said('3I fehlt noch')).toBe('fehlt noch.');
    expect(said('3I: repair the guide')).toBe('Repair the guide.');
    expect(said('the guide of 3I is worn')).toBe('The guide of 3I is worn.');
    expect(said('setup A: the fit did not settle', null)).toBe('The fit did not settle.');
  });
  it('has Z0 taken again where the seat it was taken on is not cut yet', () => {
    const step = (kind: 'zero' | 'first', run: string, valves: string[], on: string | null) => ({ kind, run, valves, on });
    const of = (on: string) => [step('zero', 'A 1', [], '2E'), step('first', 'A 1', ['1E'], null), step('zero', 'A 2', [], on), step('first', 'A 2', ['3I'], null)];
    expect(runOfZero(of('2I'), '3I')).toBe('A 2');
    expect(runOfZero(of('3I'), '3I')).toBeUndefined();
    expect(runOfZero(of('2I'), '4I')).toBeUndefined();
  });
  it('names the figure the job has not yet, and no other', () => {
    const tables = { guide: { exhaust: { below: 30 } } };
    const of = (key: string | null) => lackingKey({ ...held('A', null, ''), key }, tables);
    expect(of('guide.intake.below')).toBe('guide.intake.below');
    expect(of('guide.exhaust.below')).toBeNull();
    expect(of('depth.from')).toBeNull(); // a word
    expect(of('machine.travel_x')).toBeNull(); // a figure of the machine
    expect(of(null)).toBeNull();
  });
});
