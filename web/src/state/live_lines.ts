// The stages' one-line answers: of a "what if" while something is dragged, else of what is stored.

import { computed, signal } from '@preact/signals';
import type { Stage, StageState, WhatIf } from '../api/types';
import { state } from './open_job';

export const whatIfLines = signal<WhatIf['stages'] | null>(null);

const unknown: StageState = { mark: 'open', line: '' };

export const liveStages = computed<Record<Stage, StageState>>(() => {
  const of = (stage: Stage) => whatIfLines.value?.[stage] ?? state.value?.stages[stage] ?? unknown;
  return { hold: of('hold'), find: of('find'), shape: of('shape'), cut: of('cut'), prove: of('prove') };
});
