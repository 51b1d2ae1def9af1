// cut: speed, feed, order and program, and how long it takes.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { valueAt } from '../../api/tree';
import type { CutResult } from '../../api/types';
import { change } from '../../entry/outbox';
import { EntryList } from '../../parts/entry_list';
import { showTime } from '../../numbers/show';
import { Fold } from '../../parts/fold';
import { later } from '../../parts/later';
import { Assumptions } from '../../parts/warnings';
import { kinds } from '../../state/keys';
import { mayChange, whyNot } from '../../state/may';
import { headHere, job, setups, state } from '../../state/open_job';
import { cuttable, fetchShelf, namesOnShelf, shelf } from '../../state/shelf';
import { BrokenBlade, SomeSeats } from './part_of_head';
import { DoneWord, drawingsOf, FramedDrawing, planOnly, RoomHead, SetupChoice, StageWarnings } from '../room_parts';
import { ProgramFiles } from './files';
import { HeldBackList } from './held';
import { PlayedPath } from './played';

const Marks = later(() => import('./marks').then((m) => m.Marks));
const SeatTable = later(() => import('./speeds').then((m) => m.SeatTable));
const SpeedRows = later(() => import('./speeds').then((m) => m.SpeedRows));
const TimeRows = later(() => import('./time').then((m) => m.TimeRows));
const Estimate = later(() => import('./time').then((m) => m.Estimate));
const TwoWays = later(() => import('./two_ways').then((m) => m.TwoWays));

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
      <DoneWord stage="cut" not={notCut(result)} />
    </>
  );
}

// Seats that no program has are not cut.
function notCut(result: CutResult | null | undefined): string | null {
  const held = result?.held_back ?? [];
  const seats = [...new Set(held.flatMap((h) => h.valve ?? []))];
  if (held.length > 0) return `${seats.length > 0 && seats.length <= 8 ? seats.join(', ') : 'something'} ${seats.length > 1 ? 'are' : 'is'} held back`;
  return result && result.programs.length === 0 ? 'there is no program yet' : null;
}

// What the seats are made of, asked where it is first needed: without it no speed and no feed can be told.

function Material() {
  useEffect(() => void fetchShelf(), []);
  const here = job.value;
  const names = cuttable(shelf.value?.['material']);
  const said = (key: string) => valueAt(here?.tables, key) !== undefined;
  const kind = kinds.find((k) => said(`seat.${k}`) && !said(`seat.${k}.material`));
  if (!here || !kind || !mayChange(`seat.${kind}.material`) || said('head.material') || names.length === 0) return null;
  const choose = (name: string) => void change(here, [{ key: `seat.${kind}.material`, value: name }], `${kind} seats: ${name}`);
  return (
    <section class="entry no-print" aria-label="Material">
      <h3>What are the {kind} seats made of?</h3>
      <p>Speed, feed and forces depend on it. Without inserts, choose the iron of the head itself.</p>
      <div class="acts">
        {names.map((name) => <button key={name} type="button" onClick={() => choose(name)}>{name}</button>)}
      </div>
    </section>
  );
}

// In which manner the program is written: one of the shelf's, kept in the job.
function Dialect() {
  useEffect(() => void fetchShelf(), []);
  const here = job.value;
  const names = namesOnShelf('dialect');
  if (!here || names.length === 0) return null;
  const said = valueAt(here.tables, 'dialect');
  if (said !== undefined && typeof said !== 'string') return <span class="quiet">written as the job’s own dialect says</span>;
  const now = said ?? names[0] ?? '';
  return (
    <span class="acts no-print">
      <label for="dialect">Written as</label>
      <select id="dialect" value={now} disabled={!mayChange('dialect')} aria-describedby="dialect-why"
              onChange={(e) => void change(here, [{ key: 'dialect', value: e.currentTarget.value }], `dialect: ${e.currentTarget.value}`)}>
        {[...new Set([...names, now])].map((n) => <option key={n}>{n}</option>)}
      </select>
      <span class="quiet" id="dialect-why">{whyNot('dialect')}</span>
    </span>
  );
}
