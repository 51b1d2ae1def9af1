// cut: speed, feed, order and program, and how long it takes.

import { useSignal } from '@preact/signals';
import { EntryList } from '../../parts/entry_list';
import { showTime } from '../../numbers/show';
import { Fold } from '../../parts/fold';
import { Assumptions } from '../../parts/warnings';
import { headHere, setups, state } from '../../state/open_job';
import { BrokenBlade, SomeSeats } from './part_of_head';
import { DoneWord, drawingsOf, FramedDrawing, planOnly, RoomHead, SetupChoice, StageWarnings } from '../room_parts';
import { Dialect } from './dialect';
import { ProgramFiles } from './files';
import { HeldBackList } from './held';
import { Marks } from './marks';
import { Material } from './material';
import { PlayedPath } from './played';
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
  const held = setups.value.find((s) => s.id === setup);
  const drawings = drawingsOf('cut');
  const paths = drawings.filter((d) => d.takes?.includes('setup'));
  const charts = result?.chatter?.length === 0 ? [] : drawings.filter((d) => !d.takes?.includes('setup'));
  return (
    <>
      <RoomHead stage="cut">
        <SetupChoice ids={setupIds} chosen={setup} choose={(s) => { chosen.value = s; }} />
      </RoomHead>
      <Material />
      <div class="stage">
        <div class="hero">{held ? <PlayedPath result={result} held={held} /> : planOnly().map((d) => <FramedDrawing key={d.name} drawing={d} />)}</div>
        <section class="beside-hero" aria-label="Programs">
          {result && <ProgramFiles result={result} setup={setup} />}
        </section>
      </div>
      {ways && <TwoWays ways={ways} />}
      {result && <HeldBackList held={result.held_back ?? []} setups={setupIds.length} />}
      <StageWarnings stage="cut" />
      <EntryList kinds={['first']} head={headHere.value} title="First seats measured" />
      {result && result.order.length > 0 && (
        <>
          <BrokenBlade order={result.order} setups={setupIds} />
          <SomeSeats order={result.order} setups={setupIds} />
        </>
      )}
      {result?.programs.some((p) => p.setup === setup) && (
        <Fold title="The path with its heights" note="from above and from the front" lazy>{paths.map((d) => <FramedDrawing key={d.name} drawing={d} query={{ setup }} />)}</Fold>
      )}
      {result && <Fold title="Speeds and cutters" note={charts.length > 0 ? 'speed against steady width' : ''} lazy>
        <div class="two even">
          <div>
            {charts.map((d) => <FramedDrawing key={d.name} drawing={d} />)}
          </div>
          <SpeedRows result={result} />
        </div>
      </Fold>}
      <Marks />
      <Fold title="Dialect of the programs"><Dialect /></Fold>
      {result && <Fold title="The cut of each seat" note="feeds, forces, time"><SeatTable result={result} /></Fold>}
      {result && <Fold title="Time and estimate" note={`${showTime(result.seconds_head)} a head`}>
        <div class="two even">
          <TimeRows result={result} />
          {result.estimate && <Estimate estimate={result.estimate} />}
        </div>
      </Fold>}
      <Assumptions lines={result?.assumptions} />
      <DoneWord stage="cut" />
    </>
  );
}
