// shape: the section of the seat, how deep each one is cut, and what follows from it.

import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import type { DrawingName, Edit, Kind, ShapedSeat, ShapeResult } from '../../api/types';
import { change } from '../../entry/outbox';
import { showLength, trueMinus } from '../../numbers/show';
import { EntryList } from '../../parts/entry_list';
import { Fold } from '../../parts/fold';
import { Row, Rows } from '../../parts/numbers';
import { TakeFiles } from '../../parts/paper_pages';
import { Assumptions } from '../../parts/warnings';
import { kinds } from '../../state/keys';
import { whatIfLines } from '../../state/live_lines';
import { mayRecord } from '../../state/may';
import { headHere, job, shown, state } from '../../state/open_job';
import { usePapers } from '../../state/papers';
import { Asker } from '../../state/whatif';
import { DoneWord, drawingsOf, FramedDrawing, RoomHead, StageWarnings, takenBy } from '../room_parts';
import { DepthStrip } from './depth_strip';
import { DepthTable } from './depths';
import { Facets } from './facets';
import { dragFacet } from './drag';
import { facetsOf } from './facet_list';
import { FlowFigures, Follows } from './follows';
import { PressFits } from './inserts';
import { PlanRows } from './plan';
import { SeatEntry } from './seat_entry';

export const kindOf = (id: string): Kind =>
  state.value?.valves?.find((v) => v.id === id)?.kind ?? (/E/i.test(id) ? 'exhaust' : 'intake');

export function ShapeRoom() {
  const here = job.value;
  const kind = useSignal<Kind>('intake');
  const tried = useSignal<Record<string, number>>({}); // depths looked at, mm
  const asker = useMemo(() => new Asker(() => job.value?.id ?? 0), [here?.id]);
  const drawings = drawingsOf('shape');
  useEffect(() => {
    const stop = asker.answer.subscribe((a) => { whatIfLines.value = a?.stages ?? null; });
    return () => {
      stop();
      whatIfLines.value = null;
    };
  }, [asker]);
  // A stored change has arrived: what is drawn is what is stored.
  useEffect(() => {
    tried.value = {};
    asker.clear();
  }, [here?.version, here?.sequence, headHere.value]);
  if (!here) return null;

  const look = (edits: Edit[], depths: Record<string, number> = {}) => {
    asker.ask({
      edits, depths, results: ['shape'], units: shown.value, head: headHere.value,
      drawings: drawings.filter((d) => d.name === 'section' || document.querySelector(`[data-drawing=${d.name}] svg.drawing`) !== null).map((d) => ({ name: d.name, query: takenBy(d, view()) })),
    });
  };
  // Which seat is drawn: the first of the kind stands for all of them.
  const view = (): Record<string, string> => ({ kind: kind.value, valve: state.value?.results.shape?.seats.find((s) => kindOf(s.id) === kind.value)?.id ?? '' });
  const keep = (edits: Edit[], what: string) => void change(here, edits, what);
  const result = asker.answer.value?.results.shape ?? state.value?.results.shape;
  const seat = result?.seats.find((s) => kindOf(s.id) === kind.value);
  const attempt = (valves: string[], depth: number) => {
    tried.value = { ...tried.value, ...Object.fromEntries(valves.map((v) => [v, depth])) };
    look([], tried.value);
  };
  const planned = () => {
    tried.value = {};
    asker.clear();
  };
  const taken = (e: PointerEvent, svg: SVGSVGElement) => dragFacet(e, svg, here, kind.value, look, keep);
  // A tap on a facet leads to its figures; at the end of a drag there is an answer already.
  const toFigures = (name: string) => {
    const words = facetsOf(here, kind.value).find((f) => f.name === name)?.words;
    const label = [...document.querySelectorAll('label')].find((l) => l.textContent === `${words}, width`);
    if (label && asker.answer.value === null) document.getElementById(label.htmlFor)?.focus();
  };
  const framed = (d: DrawingName) => (
    <FramedDrawing key={d.name} drawing={d} query={view()} instead={asker.answer.value?.drawings[d.name]}
      {...(mayRecord() ? { onDown: taken } : {})} {...(d.name === 'section' ? { onPick: toFigures } : {})} />
  );
  return (
    <>
      <RoomHead stage="shape" />
      <div class="stage">
        <div class="hero">{drawings.filter((d) => d.name === 'section').map(framed)}</div>
        <div class="beside-hero">
          <fieldset class="choice no-print">
            <legend class="unseen">Seat</legend>
            {kinds.map((k) => (
              <label key={k}><input type="radio" name="kind" checked={kind.value === k} onChange={() => { kind.value = k; asker.clear(); }} />{k}</label>
            ))}
          </fieldset>
          <Facets job={here} kind={kind.value} look={look} keep={keep} sensitivity={result?.sensitivity ?? []} seat={seat} fault={asker.fault.value ?? asker.answer.value?.faults[0]?.text ?? null} />
        </div>
      </div>
      <StageWarnings stage="shape" />
      {result && result.seats.length > 0 && <DepthStrip seats={result.seats} attempt={attempt} />}
      {Object.keys(tried.value).length > 0 && (
        <p class="acts no-print"><button type="button" onClick={planned}>Back to the planned depths</button><span class="quiet">This is only a look. Nothing is changed.</span></p>
      )}
      {seat && <Fold title="Section in numbers" note={`${kind.value}, contact ${showLength(seat.contact_od_mm, shown.value)}`}><SectionRows seat={seat} /></Fold>}
      {mayRecord() && <SeatEntry job={here.id} head={headHere.value} />}
      <EntryList kinds={['seat']} head={headHere.value} title="Seats before cutting" />
      {result && <Fold title="Depth plan" note={result.depth.feasible ? 'every limit is kept' : 'not every limit can be kept'}><PlanRows depth={result.depth} /></Fold>}
      {result && <Fold title="Depth of each seat" note="cleanup, plan, limits"><DepthTable seats={result.seats} tried={tried.value} attempt={(v, d) => attempt([v], d)} /></Fold>}
      {result && <Fold title="What follows from the depths" note="stem heights, bridges, chambers"><Follows result={result} /></Fold>}
      {result && <PressFits result={result} />}
      {result && <Fold title="Cutters" note="those that nearly fit, the form to order" lazy><div class="two"><div>{drawings.filter((d) => d.name === 'form').map(framed)}</div><Cutters result={result} kind={kind.value} /></div></Fold>}
      <FlowFigures flow={result?.flow ?? []} />
      <Assumptions lines={state.value?.results.shape?.assumptions} />
      <DoneWord stage="shape" />
    </>
  );
}

function SectionRows(props: { seat: ShapedSeat }) {
  const { seat } = props;
  const unit = shown.value;
  const id = job.value?.id ?? 0;
  const why = (key: string) => ({ job: id, stage: 'shape' as const, key });
  return (
    <Rows title="Section">
      <Row label="Contact diameter" why={why('contact_od_mm')}><output data-value="contact-od">{showLength(seat.contact_od_mm, unit)}</output></Row>
      <Row label="Inner diameter of the face" why={why('contact_id_mm')}>{showLength(seat.contact_id_mm, unit)}</Row>
      <Row label="Gauge diameter" why={why('gauge_mm')}>{showLength(seat.gauge_mm, unit)}</Row>
      <Row label="Cutter" why={why('cutter')} attention={seat.cutter === null}>{seat.cutter ?? 'none fits'}</Row>
      {seat.cut_width_mm != null && <Row label="With it the face gets" why={why('cutter')}>{showLength(seat.cut_width_mm, unit)}</Row>}
      {seat.contact_starts && <Row label="The valve touches at the" why={why('contact_od_mm')}>{seat.contact_starts}</Row>}
      <Row label="Set its blade to" why={why('blade_setting_mm')}>{showLength(seat.blade_setting_mm, unit)}</Row>
    </Rows>
  );
}

// The cutter that makes the form, those that nearly do, and the form to order when none does.
function Cutters(props: { result: ShapeResult; kind: Kind }) {
  const misses = (props.result.near_misses ?? []).filter((m) => m.kind === props.kind);
  const forms = usePapers().filter((p) => p.name.startsWith(`form-${props.kind}.`));
  return (
    <section class="rows" aria-label="Cutters">
      <h3>Cutters of the shelf that do not make the {props.kind} form</h3>
      {misses.length === 0 && <p>No other cutter comes close.</p>}
      <ul class="entries">{misses.map((m) => <li key={m.cutter}><span><b>{m.cutter}</b>: {trueMinus(m.why)}</span></li>)}</ul>
      <TakeFiles files={forms.map((f) => ({ ...f, title: 'The form to order' }))} />
    </section>
  );
}
