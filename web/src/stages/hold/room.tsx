// hold: the head in its fixture, seen from the end and from the side.

import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { valueAt } from '../../api/tree';
import type { DrawingName, Fixture, Setup } from '../../api/types';
import { change } from '../../entry/outbox';
import { inWords, showAngle, showLength, showNumber, trueMinus } from '../../numbers/show';
import { Fold } from '../../parts/fold';
import { Row, Rows } from '../../parts/numbers';
import { Assumptions } from '../../parts/warnings';
import { whatIfLines } from '../../state/live_lines';
import { standsOnMadeUp } from '../../state/made_up';
import { mayChange, whyNot } from '../../state/may';
import { headHere, job, setups, shown, state } from '../../state/open_job';
import { Asker } from '../../state/whatif';
import { DoneWord, drawingsOf, FramedDrawing, planOnly, RoomHead, SetupChoice, StageWarnings } from '../room_parts';
import { LevelEntry } from './level';
import { MadeUp } from './made_up';
import { SafetyBand, SafetyBox } from './safety';
import { TiltHandle, turnByHand } from './tilt';
import { Table } from '../../parts/table';

export function HoldRoom() {
  const id = job.value?.id ?? 0;
  const chosen = useSignal<string>('');
  const tilt = useSignal<number | null>(null); // held differently from the plan, while looking
  const asker = useMemo(() => new Asker(() => id), [id]);
  const setup = setups.value.find((s) => s.id === chosen.value) ?? setups.value[0];
  const drawings = drawingsOf('hold').filter((d) => d.name !== 'plan');
  useEffect(() => () => { whatIfLines.value = null; }, []);

  const turn = (to: number | null) => {
    tilt.value = to;
    if (to === null || !setup) return asker.clear();
    asker.ask({
      attitude: { setup: setup.id, tilt_deg: to, swing_deg: setup.swing_deg }, results: ['hold'], units: shown.value,
      head: headHere.value,
      drawings: drawings.filter((d) => d.takes?.includes('tilt_deg')).map((d) => ({ name: d.name, query: { setup: setup.id, tilt_deg: to } })),
    });
  };
  useEffect(() => turn(null), [headHere.value]);
  const looked = asker.answer.value?.results.hold?.setups.find((s) => s.id === setup?.id);
  const now = tilt.value !== null && looked ? looked : setup;
  const end = drawings.find((d) => d.takes?.includes('tilt_deg') && d.name === 'end') ?? drawings[0];
  const others = drawings.filter((d) => d !== end);
  const framed = (d: DrawingName) => (
    <FramedDrawing key={d.name} drawing={d} query={{ setup: setup?.id }} instead={asker.answer.value?.drawings[d.name]}
      {...(d.takes?.includes('tilt_deg') && setup
        ? { onDown: (e: PointerEvent, svg: SVGSVGElement) => turnByHand(e, svg, tilt.value ?? setup.tilt_deg, turn) } : {})}
    />
  );
  return (
    <>
      <RoomHead stage="hold">
        <SetupChoice ids={setups.value.map((s) => s.id)} chosen={setup?.id ?? ''} choose={(s) => { chosen.value = s; turn(null); }} />
      </RoomHead>
      <MadeUp />
      <div class="stage">
        <div class="hero hero-pair">
          {end && framed(end)}
          <div>
            {others.map(framed)}
            {setup && <TiltHandle planned={setup.tilt_deg} tilt={tilt.value} turn={turn} fault={asker.fault.value} />}
          </div>
        </div>
        <div class="beside-hero">
          {now && <Attitude setup={now} id={id} looking={tilt.value !== null} />}
          <PostRows id={id} />
        </div>
      </div>
      {now && <SafetyBand setup={now} />}
      <StageWarnings stage="hold" />
      <LevelEntry setup={setup} id={id} />
      <Fold title="The head from above" note="outline, posts, which way each guide leans" lazy>{planOnly().map((d) => <FramedDrawing key={d.name} drawing={d} />)}</Fold>
      {now && <Fold title="Before it is lifted or let go" note="mass, slope, clamps"><SafetyBox setup={now} id={id} /></Fold>}
      {now && <Fold title="Map of the guides" note={`from ${now.datum}`}><ValveTable setup={now} /></Fold>}
      <Fixtures />
      <Assumptions lines={state.value?.results.hold?.assumptions} />
      <DoneWord stage="hold" />
    </>
  );
}

function Attitude(props: { setup: Setup; id: number; looking: boolean }) {
  const { setup, id } = props;
  const why = (key: string) => ({ job: id, stage: 'hold' as const, key });
  const unit = shown.value;
  return (
    <Rows title={props.looking ? `Setup ${setup.id}, held differently from the plan` : `Setup ${setup.id}`}>
      <Row label="Tilt" why={why('tilt_deg')}>{showAngle(setup.tilt_deg)}</Row>
      <Row label="Swing" why={why('swing_deg')}>{showAngle(setup.swing_deg)}</Row>
      <Row label="Worst plumb error" why={why('worst_plumb_deg')} attention={setup.valves.some((v) => !v.reachable)}>
        <output data-value="worst-plumb">{showAngle(setup.worst_plumb_deg, 3)}</output>
      </Row>
      <Row label="Datum guide">{setup.datum}</Row>
      <Row label="Travel to spare, X" why={why('travel_margin_mm')}>{showLength(setup.travel_margin_mm.x, unit)}</Row>
      <Row label="Travel to spare, Y" why={why('travel_margin_mm')}>{showLength(setup.travel_margin_mm.y, unit)}</Row>
    </Rows>
  );
}

function PostRows(props: { id: number }) {
  const posts = state.value?.results.hold?.posts;
  if (!posts) return null;
  const why = (key: string) => ({ job: props.id, stage: 'hold' as const, key });
  const unit = shown.value;
  return (
    <Rows title="Posts">
      <Row label="Set them apart, centre to centre" made={standsOnMadeUp('head.bolt_holes', 'head.posts')} why={why('span_mm')}>{showLength(posts.span_mm, unit)}</Row>
      <Row label="A head sits to within (sd)" why={why('position_sd_mm')}>{showLength(posts.position_sd_mm, unit)}</Row>
      {posts.clearance_mm != null && <Row label="Posts have play in the holes" made={standsOnMadeUp('head.bolt_hole_diameter')} why={why('position_sd_mm')}>{showLength(posts.clearance_mm, unit)}</Row>}
      <Row label="and turned within (sd)" why={why('yaw_sd_deg')}>{showAngle(posts.yaw_sd_deg, 3)}</Row>
    </Rows>
  );
}

function ValveTable(props: { setup: Setup }) {
  const { setup } = props;
  const unit = shown.value;
  const proven = state.value?.results.hold?.setups_proven === true;
  return (
    <>
      <Table
        caption={`Map of setup ${setup.id} from ${setup.datum}, ${inWords(unit)}`}
        head={['Valve', 'X', 'Y', 'Z', 'off plumb', 'within the limit']} words={[5]}
        rows={setup.valves.map((v) => ({
          key: v.id, attention: !v.reachable,
          cells: [v.id, ...[v.x_mm, v.y_mm, v.z_mm].map((n) => showNumber(n, 'length', unit)), showAngle(v.plumb_deg, 3),
            v.reachable ? 'yes' : 'no, not with this fixture'],
        }))}
      />
      {standsOnMadeUp('head.pattern.valve', 'head.valve') && <p class="made">These places come from figures that you did not give.</p>}
      {proven && <p class="quiet">{setups.value.length === 1 ? 'One setup holds every guide.' : `${setups.value.length} setups are needed. Every way with fewer was tried, and none holds every guide.`}</p>}
    </>
  );
}

// Which of the shelf's fixtures would hold this head, and why the others would not; one touch plans with another.
function Fixtures() {
  const all = state.value?.results.hold?.fixtures ?? [];
  const here = job.value;
  if (all.length === 0 || !here) return null;
  const used = valueAt(here.tables, 'fixture'); // a name, or the fixture itself
  const verdict = (f: Fixture) => (f.fits ? f.why || 'it fits' : `does not fit: ${trueMinus(f.why)}`);
  return (
    <Fold title="Fixtures of the shelf" note={`${all.filter((f) => f.fits).length} of ${all.length} fit`}>
      <section class="rows" aria-label="Fixtures of the shelf">
      <ul class="entries">
        {all.map((f) => (
          <li key={f.name}>
            <span>
              <b>{f.name}</b>{f.name === used ? ', planned with' : ''}{f.best ? ', suits best' : ''}<br />
              {verdict(f)}
            </span>
            {f.fits && f.name !== used && typeof used === 'string' && mayChange('fixture') && (
              <button type="button" class="no-print" aria-label={`Plan with it: ${f.name}`}
                      onClick={() => void change(here, [{ key: 'fixture', value: f.name }], `fixture: ${f.name}`)}>Plan with it</button>
            )}
          </li>
        ))}
      </ul>
      {whyNot('fixture') && <p class="quiet">{whyNot('fixture')}</p>}
      </section>
    </Fold>
  );
}
