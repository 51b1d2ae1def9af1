// Facets, dragged or typed: while a handle moves the section is drawn for what it would be; letting go keeps it.

import { useSignal } from '@preact/signals';
import { useEffect, useId } from 'preact/hooks';
import type { Edit, Job, Kind, Sensitivity, ShapedSeat } from '../../api/types';
import type { Typed } from '../../numbers/parse';
import { mmIn } from '../../numbers/quantity';
import { show, showAngle, showLength } from '../../numbers/show';
import { written } from '../../numbers/written';
import { Field } from '../../parts/field';
import { isMadeUp } from '../../state/made_up';
import { mayChange, whyNot } from '../../state/may';
import { shown } from '../../state/open_job';
import { facetsOf, type Facet } from './facet_list';

export type Look = (edits: Edit[]) => void;
export type Keep = (edits: Edit[], what: string) => void;

interface Props {
  job: Job;
  kind: Kind;
  look: Look;
  keep: Keep;
  sensitivity: Sensitivity[];
  seat: ShapedSeat | undefined; // one of this kind, as it is cut
  fault: string | null;
}

export function Facets(props: Props) {
  const facets = facetsOf(props.job, props.kind);
  if (facets.length === 0) return null;
  return (
    <section class="rows" aria-label="Facets">
      <h3>Facets, from the throat outward</h3>
      {props.fault && <p class="sentence" role="alert">{props.fault}</p>}
      {whyNot(`seat.${props.kind}.width`) && <p class="quiet">{whyNot(`seat.${props.kind}.width`)}</p>}
      {facets.map((f) => <OneFacet key={`${props.kind}/${f.name}`} facet={f} {...props} />)}
    </section>
  );
}

const degrees = (deg: number | null) => (deg === null ? '' : String(Number(deg.toFixed(3))));
const widest = 3; // times the present width, the reach of the handle
const least = 6; // mm reach at least: a narrow facet can still be drawn wide
const step = 0.01; // mm
const deeper = { in: mmIn.in / 1000, mm: 0.1 }; // mm: a thousandth of an inch, a tenth of a mm

const shows = 0.005; // mm: less is no other width

// The blade that was chosen leaves another width than the one that was typed.
function BladeCuts(props: { seat: ShapedSeat | undefined; asked: number | null }) {
  const { cut_width_mm: cuts, cutter } = props.seat ?? {};
  if (cuts == null || props.asked === null || Math.abs(cuts - props.asked) < shows) return null;
  return <p class="sentence">Blade “{cutter}” cuts it <b data-value="cut-width">{showLength(cuts, shown.value)}</b> wide, not {showLength(props.asked, shown.value)}.</p>;
}

function OneFacet(props: Props & { facet: Facet }) {
  const { facet, look, keep } = props;
  const id = useId();
  const unit = shown.value;
  const bare = (mm: number | null) => show(mm, 'length', unit).split(' ')[0] ?? '';
  const width = useSignal(bare(facet.width));
  const angle = useSignal(degrees(facet.angle));
  const dragged = useSignal<number | null>(null);
  useEffect(() => {
    width.value = bare(facet.width);
    angle.value = degrees(facet.angle);
    dragged.value = null;
  }, [facet.width, facet.angle, unit]);
  const now = dragged.value ?? facet.width ?? 0;
  const inUnit = (mm: number) => showLength(mm, unit);
  // A field left as it was shown is no change, although it shows fewer digits than the file has.
  const typed = (key: string, quantity: 'length' | 'angle', text: string, before: string) => (value: Typed | null) => {
    if (!value || text === before) return;
    keep([{ key, value: written(value, quantity) }], `${props.kind} ${facet.words}: ${quantity === 'angle' ? 'angle' : 'width'} ${written(value, quantity)}`);
  };
  const sense = props.sensitivity.find((s) => s.kind === props.kind && facet.angle !== null && Math.abs(s.facet_deg - facet.angle) < 0.05);
  const widthEnter = typed(facet.widthKey, 'length', width.value, bare(facet.width));
  const angleEnter = typed(facet.angleKey, 'angle', angle.value, degrees(facet.angle));
  return (
    <div class="facet">
      <div class="pair">
        <Field label={`${facet.words}, width`} text={width} quantity="length" unit={unit} disabled={!mayChange(facet.widthKey)} made={isMadeUp(facet.widthKey)} onEnter={widthEnter} onLeave={widthEnter}
               check={(v) => (v > 0 ? null : 'A facet must be wider than zero.')} />
        <Field label={`${facet.words}, angle`} text={angle} quantity="angle" unit={unit} disabled={!mayChange(facet.angleKey)} made={isMadeUp(facet.angleKey)} onEnter={angleEnter} onLeave={angleEnter}
               check={(v) => (v > 0 && v < 80 ? null : 'A facet stands between 0° and 80°.')} />
      </div>
      {facet.name === 'face' && <BladeCuts seat={props.seat} asked={facet.width} />}
      <div class="slider no-print">
        <label for={id}>Drag the width</label>
        <input id={id} type="range" min={0.1} max={Math.max(least, (facet.width ?? 1) * widest)} step={step} value={now} disabled={!mayChange(facet.widthKey)}
               onInput={(e) => {
                 dragged.value = Number(e.currentTarget.value);
                 look([{ key: facet.widthKey, value: inUnit(dragged.value) }]);
               }}
               onChange={(e) => keep([{ key: facet.widthKey, value: inUnit(Number(e.currentTarget.value)) }], `${props.kind} ${facet.words}: width`)} />
        <output for={id}>{inUnit(now)}</output>
      </div>
      {sense && sense.width_per_depth !== null && <p class="quiet">Cut {showAngle(sense.facet_deg, 0)} deeper by {showLength(deeper[unit], unit)} and the face narrows by {showLength(Math.abs(sense.width_per_depth) * deeper[unit], unit)}.</p>}
    </div>
  );
}
