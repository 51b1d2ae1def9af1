// The depth plan as a whole: heads alone or together, what the depths come to, and where limits cannot all be kept.

import { valueAt } from '../../api/tree';
import type { DepthPlan, PerKind } from '../../api/types';
import { change } from '../../entry/outbox';
import { showLength, showNumber } from '../../numbers/show';
import { Row, Rows } from '../../parts/numbers';
import { mayChange, whyNot } from '../../state/may';
import { job, shown } from '../../state/open_job';

const plans = [{ value: 'alone', words: 'this head alone' }, { value: 'together', words: 'all heads to common heights' }];

export function PlanRows(props: { depth: DepthPlan }) {
  const { depth } = props;
  const unit = shown.value;
  const why = (key: string) => ({ job: job.value?.id ?? 0, stage: 'shape' as const, key });
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
          <Row label="Common stem height, intake" why={why('depth.batch')}>{showLength(depth.batch.common_stem_mm.intake, unit)}</Row>
          <Row label="Common stem height, exhaust" why={why('depth.batch')}>{showLength(depth.batch.common_stem_mm.exhaust, unit)}</Row>
          <Spreads spread={depth.batch.stem_spread_mm} chambers={depth.batch.chamber_spread_cm3} />
          <Row label="All depths of all heads" why={why('depth.batch')}>{showLength(depth.batch.total_mm, unit)}</Row>
        </>
      )}
    </Rows>
  );
}

function Spreads(props: { spread: PerKind; chambers: number | null }) {
  const unit = shown.value;
  const why = (key: string) => ({ job: job.value?.id ?? 0, stage: 'shape' as const, key });
  return (
    <>
      <Row label="Stem heights spread, intake" why={why('depth.stem_spread_mm')}>{showLength(props.spread.intake, unit)}</Row>
      <Row label="Stem heights spread, exhaust" why={why('depth.stem_spread_mm')}>{showLength(props.spread.exhaust, unit)}</Row>
      <Row label="Chambers spread" why={why('depth.chamber_spread_cm3')}>{props.chambers === null ? '–' : `${showNumber(props.chambers, 'volume', unit)} cm³`}</Row>
    </>
  );
}

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
