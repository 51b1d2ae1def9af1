// The depth plan as a whole: heads alone or together, what the depths come to, and where limits cannot all be kept.

import { valueAt } from '../../api/tree';
import type { DepthPlan, PerKind } from '../../api/types';
import { change } from '../../entry/outbox';
import { showLength, showNumber } from '../../numbers/show';
import { Row, Rows } from '../../parts/numbers';
import { kinds } from '../../state/keys';
import { mayChange, whyNot } from '../../state/may';
import { job, shown } from '../../state/open_job';

const plans = [{ value: 'alone', words: 'this head alone' }, { value: 'together', words: 'all heads to common heights' }];

const why = (key: string) => ({ job: job.value?.id ?? 0, stage: 'shape' as const, key });

export function PlanRows(props: { depth: DepthPlan }) {
  const { depth } = props;
  const unit = shown.value;
  return (
    <Rows title="Depth plan">
      <Together />
      {!depth.feasible && <p class="sentence" role="alert">Not every limit can be kept:</p>}
      {depth.conflict.map((c) => <p class="sentence" key={c}>{c}</p>)}
      <Row label="All depths together" why={why('depth.total_mm')} attention={!depth.feasible}>{showLength(depth.total_mm, unit)}</Row>
      <Spreads spread={depth.stem_spread_mm} chambers={depth.chamber_spread_cm3} />
      {depth.batch && (
        <>
          <h3>Heads {depth.batch.heads.join(', ')} together</h3>
          <EachKind label="Common stem height" of={depth.batch.common_stem_mm} why="depth.batch" />
          <Spreads spread={depth.batch.stem_spread_mm} chambers={depth.batch.chamber_spread_cm3} />
          <Row label="All depths of all heads" why={why('depth.batch')}>{showLength(depth.batch.total_mm, unit)}</Row>
        </>
      )}
    </Rows>
  );
}

function Spreads(props: { spread: PerKind; chambers: number | null }) {
  const unit = shown.value;
  return (
    <>
      <EachKind label="Stem heights spread" of={props.spread} why="depth.stem_spread_mm" />
      <Row label="Chambers spread" why={why('depth.chamber_spread_cm3')}>{props.chambers === null ? '–' : `${showNumber(props.chambers, 'volume', unit)} cm³`}</Row>
    </>
  );
}

const EachKind = (props: { label: string; of: PerKind; why: string }) => (
  <>{kinds.map((k) => <Row key={k} label={`${props.label}, ${k}`} why={why(props.why)}>{showLength(props.of[k], shown.value)}</Row>)}</>
);

function Together() {
  const here = job.value;
  if (!here) return null;
  const now = valueAt(here.tables, 'depth.plan') ?? 'alone';
  return (
    <fieldset class="choice no-print">
      <legend>Plan</legend>
      {plans.map((p) => (
        <label key={p.value}>
          <input type="radio" name="depth-plan" checked={now === p.value} disabled={!mayChange('depth.plan')}
                 onChange={() => void change(here, [{ key: 'depth.plan', value: p.value }], `depths planned ${p.value}`)} />
          {p.words}
        </label>
      ))}
      {whyNot('depth.plan') && <p class="quiet">{whyNot('depth.plan')}</p>}
    </fieldset>
  );
}
