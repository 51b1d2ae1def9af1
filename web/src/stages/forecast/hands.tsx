// What can be dragged or chosen: the posts' clearance, guides touched, the blade's change, the batch, pilots of the shelf.

import { useId } from 'preact/hooks';
import type { Edit, Kind } from '../../api/types';
import { change } from '../../entry/outbox';
import { showLength } from '../../numbers/show';
import { mayChange } from '../../state/may';
import { job, shown } from '../../state/open_job';
import type { Tried, Tryable } from './ask';

interface Props { now: Tryable; tried: Tried | null; attempt: (figures: Tried | null) => void; away: boolean }

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
      {(['intake', 'exhaust'] as const).map((kind) => <PilotChoice key={kind} kind={kind} of={now.pilots[kind]} chosen={tried?.pilot?.[kind]} off={away}
        to={(name) => put({ pilot: { ...tried?.pilot, [kind]: name } })} />)}
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

function PilotChoice(props: { kind: Kind; of: { now: string; of: string[] } | undefined; chosen: string | undefined; off: boolean; to: (name: string) => void }) {
  const id = useId();
  const { of } = props;
  if (!of || of.of.length < 2) return null;
  const now = of.of.includes(of.now) ? of.now : '';
  return (
    <div class="slider slider-choice">
      <label for={id}>{props.kind} pilot</label>
      <select id={id} value={props.chosen ?? now} disabled={props.off} onChange={(e) => props.to(e.currentTarget.value)}>
        {now === '' && <option value="" disabled>{of.now}</option>}
        {of.of.map((name) => <option key={name} value={name}>{name}</option>)}
      </select>
    </div>
  );
}

// What is a key of the job can be kept; posts and pilots are things of the shelf.
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
