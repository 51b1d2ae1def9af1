// The head from above, the verdict of every seat as a shape and a word; a tap chooses the seat whose trace stands beside.

import type { ProvedSeat } from '../../api/types';
import { job, state } from '../../state/open_job';
import { planData, type Standing } from '../map/data';
import { GuideMap } from '../map/guide_map';

const asStanding = { pass: 'measured', fail: 'fail', undecided: 'undecided', 'not measured': 'open' } as const satisfies Record<ProvedSeat['verdict'], Standing>;
const few = 16; // seats: of more, only those that need somebody have their word

export function VerdictMap(props: { head: string; seats: ProvedSeat[]; chosen: string; pick: (valve: string) => void }) {
  const of = (valve: string): ProvedSeat['verdict'] => props.seats.find((s) => s.id === valve)?.verdict ?? 'not measured';
  const data = planData(state.value?.results.hold, state.value?.valves ?? [], job.value?.tables, job.value?.units ?? 'mm', (v) => asStanding[of(v)]);
  const roomy = data.guides.length <= few;
  const guides = data.guides.map((g) => ({ ...g, words: of(g.id) === 'not measured' ? '–' : roomy || of(g.id) !== 'pass' ? of(g.id) : '–' }));
  const count = (v: ProvedSeat['verdict']) => guides.filter((g) => of(g.id) === v).length;
  return (
    <figure class="sheet-frame" data-drawing="verdicts">
      <GuideMap data={{ ...data, guides }} next={props.chosen} title={`Verdicts on head ${props.head}`} open="not measured" pick={props.pick} />
      <figcaption>
        <p class="map-legend">
          <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M3 10.5 L8 15.5 L17 4.5" class="map-key" /></svg>pass: {count('pass')}
          <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M4 4 L16 16 M16 4 L4 16" class="map-key-warn" /></svg>fail: {count('fail')}
          <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M2 8 Q6 3 10 8 T18 8 M2 14 Q6 9 10 14 T18 14" class="map-key-warn" /></svg>undecided: {count('undecided')}
          <svg viewBox="0 0 20 20" aria-hidden="true"><circle cx="10" cy="10" r="4.5" class="map-key" /></svg>not measured: {count('not measured')}
        </p>
      </figcaption>
    </figure>
  );
}
