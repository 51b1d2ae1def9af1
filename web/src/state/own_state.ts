// What the server answered, as far as it belongs to the head chosen. An answer of another head (the chosen one's own is
// still on its way, or the network is away) loses every figure of that other head: what stands on the page is then of
// the casting alone, and a sentence says why the rest is missing.

import { stages, type ProveResult, type Stage, type StageState, type State, type Warning } from '../api/types';
import { ofAnotherHead } from './walk';

export interface OwnState extends State {
  lacking: string | null; // what is to be said before the figures; null: the head has readings and these are its figures
  own: boolean; // the answer is of the head chosen
  others: Warning[]; // what is said of other heads
}

export const nothingRead = (head: string) => `Nothing is read of head ${head} yet.`;
export const onItsWay = (head: string) => `Head ${head} is being worked out.`;

// `read`: something is on record of the head chosen.
export function ofHead(answer: State, head: string, read: boolean): OwnState {
  const others = answer.warnings.filter((w) => !concerns(w, head));
  if (answer.head === head || answer.head === '') {
    const unread = !read && answer.heads.length > 0;
    return { ...answer, own: true, lacking: unread ? nothingRead(head) : null, others, warnings: answer.warnings.filter((w) => concerns(w, head)) };
  }
  const lacking = onItsWay(head);
  const { hold, find, prove } = answer.results;
  return {
    ...answer,
    head, own: false, lacking, others, walk: ofAnotherHead(answer.walk ?? [], head),
    stages: Object.fromEntries(stages.map((s) => [s, lineOf(s, answer.stages[s], lacking)])) as Record<Stage, StageState>,
    results: {
      ...(hold ? { hold: { ...hold, level: null } } : {}),
      ...(find ? { find: { ...find, heads: [], pilots: [] } } : {}),
      ...(prove ? { prove: batchOf(prove) } : {}),
    },
    warnings: answer.warnings.filter((w) => w.stage === 'hold' && concerns(w, head)),
    drawings: answer.drawings.filter((d) => d.stage === 'hold' || d.name === 'plan' || d.takes?.includes('what')),
  };
}

// The tilt and the posts are the casting's; the rest waits for this head.
const lineOf = (stage: Stage, of: StageState, lacking: string): StageState =>
  stage === 'hold' ? { ...of, mark: 'ready' } : { mark: 'open', line: lacking };

const batchOf = (prove: ProveResult): ProveResult => ({ ...prove, seats: [], unmeasured: [], verdict: 'not measured', warnings: [] });

// A sentence about one head has it among its values.
export function concerns(warning: Pick<Warning, 'values'>, head: string): boolean {
  const of = warning.values['head'];
  return of === undefined || of === head;
}
