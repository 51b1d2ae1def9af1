// What can be dragged or chosen: the posts' clearance, guides touched, the blade's change, the batch, pilots, cutters and gauges of the shelf.

import { useId } from 'preact/hooks';
import type { Edit } from '../../api/types';
import { change } from '../../entry/outbox';
import { showLength } from '../../numbers/show';
import { Fold } from '../../parts/fold';
import { kinds } from '../../state/keys';
import { mayChange } from '../../state/may';
import { job, shown } from '../../state/open_job';
import type { OnOffer, Quantity, Tried, Tryable } from './ask';

interface Props { now: Tryable; tried: Tried | null; attempt: (figures: Tried | null) => void; away: boolean }

const quantities: [Quantity, string][] = [['runout', 'runout gauge'], ['width', 'width gauge'], ['stem_height', 'stem height gauge']];
const widest = 1; // mm of clearance, where less is used now
const finest = 0.005; // mm
const largest = 120; // heads, where the batch is smaller

export function Hands({ now, tried, attempt, away }: Props) {
  const unit = shown.value;
  const put = (more: Tried) => attempt({ ...tried, ...more });
  const heads = tried?.heads ?? now.heads;
  const every = Math.min(heads, (tried?.change_every ?? now.change_every ?? heads) || heads);
  const clearance = now.post_clearance_mm;
  return (
    <div class="forecast-hands">
      {clearance !== null && (
        <Slide label="Post clearance" least={0} most={Math.max(widest, 2 * clearance)} step={finest} value={tried?.post_clearance_mm ?? clearance}
               say={(v) => showLength(v, unit)} off={away} to={(v) => put({ post_clearance_mm: v })} />
      )}
      <Slide label="Guides touched a setup" least={0} most={now.most_touches} step={1} value={tried?.touches ?? now.touches} say={String} off={away} to={(v) => put({ touches: v })} />
      {now.wears && (
        <Slide label="Blade changed every" least={1} most={heads} step={1} value={every} say={(v) => (v >= heads ? 'not in this batch' : `${v} heads`)} off={away}
               to={(v) => put({ change_every: v >= heads ? 0 : v })} />
      )}
      <Slide label="Heads of the batch" least={1} most={Math.max(largest, 2 * now.heads)} step={1} value={heads} say={String} off={away} to={(v) => put({ heads: v })} />
      {offers(now) && (
        <Fold title="Another pilot, cutter or gauge">
          {kinds.map((kind) => <Choice key={kind} label={`${kind} pilot`} of={now.pilots[kind]} chosen={tried?.pilot?.[kind]} off={away}
            to={(name) => put({ pilot: { ...tried?.pilot, [kind]: name } })} />)}
          {kinds.map((kind) => <Choice key={kind} label={`${kind} cutter`} of={now.cutters[kind]} chosen={tried?.cutter?.[kind]} off={away}
            to={(name) => put({ cutter: { ...tried?.cutter, [kind]: name } })} />)}
          {quantities.map(([quantity, label]) => <Choice key={quantity} label={label} of={now.gauges[quantity]} chosen={tried?.gauge?.[quantity]} off={away}
            to={(name) => put({ gauge: { ...tried?.gauge, [quantity]: name } })} />)}
        </Fold>
      )}
      {!now.wears && <p class="quiet">No wear of the blade is known, so that changing it brings nothing.</p>}
      {clearance === null && <p class="quiet">The head’s place is given by find.carry: the posts’ clearance does not count.</p>}
      {tried && (
        <div class="acts no-print">
          <button type="button" onClick={() => attempt(null)}>Back to what is</button>
          <Keep tried={tried} />
          <span class="quiet">Only looked at; nothing is changed.</span>
        </div>
      )}
    </div>
  );
}

interface Sliding { label: string; least: number; most: number; step: number; value: number; say: (v: number) => string; off: boolean; to: (v: number) => void }

function Slide(props: Sliding) {
  const id = useId();
  return (
    <div class="slider">
      <label for={id}>{props.label}</label>
      <input id={id} type="range" min={props.least} max={props.most} step={props.step} value={props.value} disabled={props.off}
             aria-valuetext={props.say(props.value)} onInput={(e) => props.to(Number(e.currentTarget.value))} />
      <output for={id}>{props.say(props.value)}</output>
    </div>
  );
}

// Whether there is something else to choose than what is used now.
const offered = (of: OnOffer | undefined) => of !== undefined && (!of.of.includes(of.now) || of.of.length > 1);
const offers = (now: Tryable) => kinds.some((kind) => offered(now.pilots[kind]) || offered(now.cutters[kind])) || quantities.some(([quantity]) => offered(now.gauges[quantity]));

function Choice(props: { label: string; of: OnOffer | undefined; chosen: string | undefined; off: boolean; to: (name: string) => void }) {
  const id = useId();
  const { of } = props;
  if (!of || !offered(of)) return null;
  const known = of.of.includes(of.now);
  return (
    <div class="slider slider-choice">
      <label for={id}>{props.label}</label>
      <select id={id} value={props.chosen ?? (known ? of.now : '')} disabled={props.off} onChange={(e) => props.to(e.currentTarget.value)}>
        {!known && <option value="" disabled>{of.now || 'as it is'}</option>}
        {of.of.map((name) => <option key={name} value={name}>{name}</option>)}
      </select>
    </div>
  );
}

// What is a key of the job can be kept; posts, pilots, cutters and gauges are things of the shelf.
function Keep(props: { tried: Tried }) {
  const here = job.value;
  const { tried } = props;
  const edits: Edit[] = [
    ...(tried.touches === undefined ? [] : [{ key: 'forecast.touches', value: String(tried.touches) }]),
    ...(tried.heads === undefined ? [] : [{ key: 'forecast.heads', value: tried.heads }]),
    ...(tried.change_every === undefined ? [] : [{ key: 'forecast.change_every', value: tried.change_every === 0 ? null : tried.change_every }]),
  ];
  if (!here || edits.length === 0 || !edits.every((e) => mayChange(e.key))) return null;
  return <button type="button" onClick={() => void change(here, edits, 'the batch of the forecast')}>Keep in the job</button>;
}
