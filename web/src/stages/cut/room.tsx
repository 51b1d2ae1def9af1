// cut: speed, feed, order and program, and how long it takes.

import { useSignal } from '@preact/signals';
import { EntryList } from '../../parts/entry_list';
import { Assumptions } from '../../parts/warnings';
import { headHere, state } from '../../state/open_job';
import { BrokenBlade, SomeSeats } from './part_of_head';
import { DoneWord, drawingsOf, FramedDrawing, RoomHead, SetupChoice, StageWarnings } from '../room_parts';
import { Dialect } from './dialect';
import { ProgramFiles } from './files';
import { HeldBackList } from './held';
import { Marks } from './marks';
import { Material } from './material';
import { SeatTable } from './seats';
import { SpeedRows } from './speeds';
import { Estimate, TimeRows } from './time';
import { TwoWays } from './two_ways';

export function CutRoom() {
  const chosen = useSignal('');
  const result = state.value?.results.cut;
  const ways = state.value?.results.shape?.depth.anew;
  const setupIds = state.value?.results.hold?.setups.map((s) => s.id) ?? [];
  const setup = setupIds.includes(chosen.value) ? chosen.value : setupIds[0] ?? '';
  const drawings = drawingsOf('cut');
  const paths = drawings.filter((d) => d.takes?.includes('setup'));
  const charts = drawings.filter((d) => !d.takes?.includes('setup'));
  return (
    <>
      <RoomHead stage="cut">
        <SetupChoice ids={setupIds} chosen={setup} choose={(s) => { chosen.value = s; }} />
      </RoomHead>
      <Material />
      <div class="two">
        <div>
          {charts.map((d) => (result ? result.chatter ?? [{ what: '' }] : []).map((c) => (
            <FramedDrawing key={`${d.name}/${c.what}`} drawing={{ ...d, title: c.what ? `${d.title}: ${c.what}` : d.title }} query={{ what: c.what }} />
          )))}
          <StageWarnings stage="cut" />
        </div>
        <div>
          {result && <SpeedRows result={result} />}
          <Marks />
        </div>
      </div>
      <section aria-label="Programs">
        <h3>Programs of setup {setup}</h3>
        <div class="acts"><Dialect /></div>
        <div class="two beside">
          <div>{result?.programs.some((p) => p.setup === setup) && paths.map((d) => <FramedDrawing key={d.name} drawing={d} query={{ setup }} />)}</div>
          {result && <div><ProgramFiles result={result} setup={setup} /></div>}
        </div>
      </section>
      {ways && <TwoWays ways={ways} />}
      {result && <HeldBackList held={result.held_back ?? []} setups={setupIds.length} />}
      <EntryList kinds={['first']} head={headHere.value} title="First seats measured" />
      {result && result.order.length > 0 && (
        <>
          <BrokenBlade order={result.order} setups={setupIds} />
          <SomeSeats order={result.order} setups={setupIds} />
        </>
      )}
      {result && <SeatTable result={result} />}
      <div class="two even">
        {result && <TimeRows result={result} />}
        {result?.estimate && <Estimate estimate={result.estimate} />}
      </div>
      <Assumptions lines={result?.assumptions} />
      <DoneWord stage="cut" />
    </>
  );
}
