// The figures behind the drawings, each list one line that opens: distributions, causes, what helps most, what it all stands on.

import { showChance, showNumber, inWords } from '../../numbers/show';
import { Fold } from '../../parts/fold';
import { Table } from '../../parts/table';
import { shown } from '../../state/open_job';
import type { ForecastAnswer, Tried } from './ask';

export function Told(props: { of: ForecastAnswer; all: ForecastAnswer | null; tried: Tried | null }) {
  const { of, all } = props;
  const unit = shown.value;
  const length = (n: number | null) => showNumber(n, 'length', unit);
  const { result } = of;
  const inputs = of.cells.inputs;
  return (
    <>
      <Fold title="What it stands on" note={`${inputs.length} figures, each with where it came from`}>
        <Table caption="What it stands on" head={['figure', 'value', 'from']} words={[2]}
               rows={inputs.map((cells, i) => ({ key: cells[0]!, cells: [cells[0], cells[1], isTried(result.inputs[i]?.what, props.tried) ? 'tried here' : cells[2]] }))} />
      </Fold>
      {all && all.cells.changes.length > 0 && (
        <Fold title="What helps most, in numbers" note={`${all.cells.changes.length} changes with their gain and cost`}>
          <Table caption="What helps most" head={['change', 'from', 'to', 'good then', 'gain', '95 %', 'costs']} words={[6]}
                 rows={all.cells.changes.map((cells) => ({ key: `${cells[0]} ${cells[2]}`, cells }))} />
        </Fold>
      )}
      <Fold title="Distributions in numbers" note="of all seats, entering or not">
        <Table caption={`Seats over the batch, ${inWords(unit)}`} head={['figure', 'mean', 'sd', '5 %', '95 %', 'lowest', 'highest', 'within', 'Cpk']}
               rows={result.characteristics.map((c) => ({ key: `${c.what}, ${c.kind}`, cells: [`${c.what}, ${c.kind}`, length(c.mean), length(c.sd), length(c.p05), length(c.p95),
                 length(c.limit_low), length(c.limit_high), c.pass_rate === null ? '–' : showChance(c.pass_rate), showNumber(c.cpk, 'plain', unit)] }))} />
      </Fold>
      <Fold title="Causes in numbers" note="of the runout’s mean square">
        <Table caption="What runout comes from" head={['cause', 'share', `alone, ${inWords(unit)}`]}
               rows={result.causes.map((c) => ({ key: c.cause, cells: [c.cause === 'attitude' ? 'level of the head' : c.cause, c.share === null ? '–' : `${(100 * c.share).toFixed(1)} %`, length(c.rms_mm)] }))} />
      </Fold>
    </>
  );
}

const keyOf: Record<string, keyof Tried> = {
  'post clearance': 'post_clearance_mm', 'forecast.touches': 'touches', 'forecast.heads': 'heads', 'forecast.change_every': 'change_every',
};
const isTried = (what: string | undefined, tried: Tried | null) => {
  const key = what === undefined ? undefined : keyOf[what];
  return key !== undefined && tried?.[key] !== undefined;
};
