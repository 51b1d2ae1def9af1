// Where the walk of a head stands. The list of its steps is the server's (plan/walk.hpp), one and the same for screen and
// card; here it is held against what people said, stored or still waiting to be sent, so that every screen stands at the
// same step. What a person must say is done only when it was said; what a reading says is done with the reading.

import type { Setup, WalkStep } from '../api/types';

export interface StepNow extends WalkStep {
  valve: string | null; // the seat at hand: the first one not read yet
}

export interface WalkKnown {
  said: Set<string>; // ids of steps said to be done
  taken?: Map<string, string>; // of files taken: what they did, by their steps' ids
  touches: Set<string>; // guides touched, waiting touches included
  firsts: Set<string>; // valves whose first seat was read
  measured: Set<string>;
  setups: Pick<Setup, 'id' | 'valves'>[];
}

export function standingAt(list: WalkStep[], known: WalkKnown): { steps: StepNow[]; at: number } {
  const steps: StepNow[] = [];
  for (const step of list) {
    const said = known.said.has(step.id) || (step.run !== '' && known.said.has(`cut ${step.run}`));
    const old = step.kind === 'take' && isOld(step, known.taken) && !step.done && !known.said.has(`cut ${step.run}`);
    const words = old ? `The file at the machine is an old one: the plan was changed after it was taken. ${step.words}` : step.words;
    steps.push({ ...step, words, valve: null, done: step.done || (said && !old), ...byReadings(step, known, steps) });
  }
  const at = steps.findIndex((s) => !s.done);
  return { steps, at: at < 0 ? steps.length - 1 : at };
}

function isOld(step: WalkStep, taken: WalkKnown['taken']): boolean {
  const then = taken?.get(step.id);
  return then !== undefined && typeof step.moves === 'string' && then !== step.moves;
}

// To a setup that was touched before others were: no touch says that the head stands there again.
const isBack = (step: WalkStep): boolean => step.id.startsWith('back ');

function byReadings(step: WalkStep, known: WalkKnown, before: StepNow[]): Partial<StepNow> {
  if (step.kind === 'finished') return { done: false };
  if (step.kind === 'load' && !isBack(step)) {
    const touched = known.setups.find((s) => s.id === step.setup)?.valves.some((v) => known.touches.has(v.id)) ?? false;
    return touched ? { done: true } : {};
  }
  if (step.kind === 'first') {
    const left = step.valves.filter((v) => !known.firsts.has(v));
    return { valve: left[0] ?? step.valves[0] ?? null, ...(step.valves.length > 0 && left.length === 0 ? { done: true } : {}) };
  }
  if (step.kind === 'measure') {
    const left = step.valves.filter((v) => !known.measured.has(v));
    return { valve: left[0] ?? null, words: left[0] === undefined ? 'Every seat is measured.' : `Measure ${left[0]}.`, done: left.length === 0 && before.every((s) => s.done) };
  }
  return {};
}

// While only another head's answer is there: the steps that are the same for every head of the casting.
export const ofAnotherHead = (list: WalkStep[], head: string): WalkStep[] =>
  list.filter((s) => (s.kind === 'load' && !isBack(s)) || s.kind === 'touch' || s.kind === 'measure' || s.kind === 'finished')
    .flatMap((s) => (s.words_of_any === undefined ? [] : [{ ...s, done: false, words: s.words_of_any.replaceAll('{head}', head) }]));
