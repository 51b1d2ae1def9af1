// Is the batch staying right? One line a characteristic and kind, the chart of the one chosen, where variation comes
// from, and how few seats must be traced.

import { useSignal } from '@preact/signals';
import type { BatchLine, ProveResult } from '../../api/types';
import { inWords, show, showNumber } from '../../numbers/show';
import { Fold } from '../../parts/fold';
import { Plot } from '../../parts/plot';
import { Table } from '../../parts/table';
import { headsKnown } from '../../state/heads';
import { shown, state } from '../../state/open_job';
import { hasPoints, levelsOf, spreadsOf, type ChartLine } from './control_chart';
import { Heads } from './heads';
import { useCharts, useMeasured, type Measured } from './measured';
import { Spread } from './spread';
import { Trends } from './trends';
import { quantityOf } from './against';

const index = (n: number | null | undefined) => (n == null ? '–' : n.toFixed(2));

function Batch(props: { result: ProveResult; points: BatchLine[]; measured: Measured[] }) {
  const unit = shown.value;
  const { batch: lines, sampling } = props.result;
  if (lines.length === 0) return null;
  const value = (l: BatchLine, n: number | null | undefined) => showNumber(n, quantityOf(l.what), unit);
  return (
    <section aria-label="The batch">
      {sampling && <p>{sampling.words}</p>}
      <Charts lines={lines} points={props.points} measured={props.measured} />
      <Fold title="Each characteristic over the heads" note={`${lines.length} lines`}>
      <Table
        caption={`Lengths in ${inWords(unit)}, vacuum in ${unit === 'in' ? 'inHg' : 'kPa'}`}
        head={['What', 'kind', 'n', 'mean', 'sigma', 'Cp', 'Cpk', 'at least', '95 % of seats within (95 % sure)', 'signals', 'drift']} words={[1, 8, 9, 10]}
        rows={lines.map((l) => ({
          key: `${l.what}/${l.kind}`, attention: l.signals.length > 0 || l.limit_at_head !== null,
          cells: [l.what, l.kind, l.n, value(l, l.mean), value(l, l.sigma), index(l.cp), index(l.cpk), index(l.cpk_low), tolerance(l, unit),
            l.signals.map((s) => `head ${s.head}: ${s.rule}`).join('; ') || 'none', drift(l, unit)],
        }))}
      />
      </Fold>
      <Variation result={props.result} />
    </section>
  );
}

function tolerance(l: BatchLine, unit: 'in' | 'mm'): string {
  const of = (n: number) => show(n, quantityOf(l.what), unit);
  if (l.tolerance_low != null && l.tolerance_high != null) return `${of(l.tolerance_low)} to ${of(l.tolerance_high)}`;
  if (l.tolerance_high != null) return `at most ${of(l.tolerance_high)}`;
  return l.tolerance_low != null ? `at least ${of(l.tolerance_low)}` : 'not enough yet';
}

const chance = 0.05; // p above which a slope is no drift

function drift(l: BatchLine, unit: 'in' | 'mm'): string {
  if (l.limit_at_head !== null) return `meets the limit at head ${Math.floor(l.limit_at_head)}: turn or change the cutter before`;
  if (l.drift_per_head === null) return 'not enough heads yet';
  const words = `${show(l.drift_per_head, quantityOf(l.what), unit)} a head`;
  if (l.drift_p != null && l.drift_p > chance) return 'no drift to be seen';
  return `${words}, ${l.limit_low == null && l.limit_high == null ? 'no limit set' : 'meets no limit soon'}`;
}

// One characteristic at a time: how its seats spread between the limits, and its chart over the heads, of both kinds side by
// side. A point opens its head.
function Charts(props: { lines: BatchLine[]; points: BatchLine[]; measured: Measured[] }) {
  const all = [...new Set(props.lines.map((l) => l.what))];
  const chosen = useSignal('');
  const what = all.includes(chosen.value) ? chosen.value : all[0] ?? '';
  return (
    <>
      <fieldset class="choice no-print">
        <legend>Chart of</legend>
        {all.map((w) => (
          <label key={w}><input type="radio" name="chart-of" checked={w === what} onChange={() => { chosen.value = w; }} />{w}</label>
        ))}
      </fieldset>
      <div class="two even">{props.lines.filter((l) => l.what === what).map((l) => {
        const chart = [l, ...props.points].find((p): p is ChartLine => p.what === l.what && p.kind === l.kind && hasPoints(p));
        return (
          <section key={`${l.what}/${l.kind}`} aria-label={`${l.what}, ${l.kind}`}>
            <Spread line={l} measured={props.measured} />
            {chart && <Plot of={levelsOf(chart)} />}
            {chart && <Fold title="Spread inside each head" note={l.chart} lazy><Plot of={spreadsOf(chart)} /></Fold>}
          </section>
        );
      })}</div>
    </>
  );
}

function Variation(props: { result: ProveResult }) {
  const { positions = [], components = [], sampling } = props.result;
  const unit = shown.value;
  return (
    <>
      <details class="fold">
        <summary>Where the variation comes from</summary>
        <Table
          caption="Shares of the variation" head={['What', 'kind', 'from', 'sd', 'share', 'remark']} words={[1, 2, 5]}
          rows={components.map((c) => ({
            key: `${c.what}/${c.kind}/${c.factor}`,
            cells: [c.what, c.kind, c.factor, show(c.sd, quantityOf(c.what), unit), c.share === null ? '–' : `${(100 * c.share).toFixed(0)} %`, c.remark],
          }))}
        />
      </details>
      <details class="fold">
        <summary>By position over the heads</summary>
        <Table
          caption="Each valve position over the heads" head={['What', 'position', 'heads', 'mean', 'sd', 'worst on its head in']} words={[1, 5]}
          rows={positions.map((p) => ({
            key: `${p.what}/${p.id}`, attention: p.n > 1 && p.worst_in === p.n,
            cells: [p.what, p.id, p.n, show(p.mean, quantityOf(p.what), unit), show(p.sd, quantityOf(p.what), unit),
              `${p.worst_in} of ${p.n}${p.n > 1 && p.worst_in === p.n ? ': always' : ''}`],
          }))}
        />
      </details>
      <Fold title="How many seats to trace" note="to claim a pass rate">
      <Table
        caption="How many seats to trace" head={['to claim that so many pass', `seats, all passing, at ${((sampling?.confidence ?? 0.95) * 100).toFixed(0)} % confidence`]}
        rows={(sampling?.plans ?? []).map((p) => ({ key: String(p.pass_rate), cells: [p.pass_rate === null ? '–' : `${(100 * p.pass_rate).toFixed(0)} %`, p.needed] }))}
      />
      </Fold>
    </>
  );
}

// The batch as one page: is it staying right, what shows over its heads, and how far each head is.
export function TheBatch() {
  const result = state.value?.results.prove;
  const rows = useMeasured(), points = useCharts();
  const measured = result && result.batch.length > 0;
  return (
    <>
      {measured
        ? <Batch result={result} measured={rows} points={points} />
        : <p class="sentence">No head of this job has been measured yet: there is no batch to look at.</p>}
      <Trends measured={rows} />
      <Fold title="Heads of this job" note={`${headsKnown().all.length}`} open={!measured}><Heads /></Fold>
    </>
  );
}
