// What people look at over a batch: touches a head took, runout, how many seats pass; and of the head at hand how much depth
// each seat has left.

import { useSignal } from '@preact/signals';
import { mmIn } from '../../numbers/quantity';
import { Plot, type PlotData } from '../../parts/plot';
import { entries, headHere, shown, state } from '../../state/open_job';
import { headsKnown } from '../../state/heads';
import type { Measured } from './measured';

export function Trends(props: { measured: Measured[] }) {
  const { measured } = props;
  const all = [touches(), runout(measured), passing(measured), depthLeft()].filter((p) => p.along.length > 0 && p.lines.some((l) => l.values.some((v) => v !== null)));
  const chosen = useSignal('');
  const plot = all.find((p) => p.name === chosen.value) ?? all[0];
  if (!plot) return null;
  return (
    <section aria-label="Trends">
      <fieldset class="choice no-print">
        <legend>Trend of</legend>
        {all.map((p) => <label key={p.name}><input type="radio" name="trend-of" checked={p === plot} onChange={() => { chosen.value = p.name; }} />{p.title}</label>)}
      </fieldset>
      <Plot key={plot.name} of={plot} />
    </section>
  );
}

const counted = (v: number | null) => (v === null ? '–' : String(v));

// In the unit shown; the plot and its CSV have the same figures.
function lengths() {
  const unit = shown.value;
  const factor = mmIn[unit];
  const places = shown.value === 'in' ? 4 : 3;
  return { unit, of: (mm: number | null | undefined) => (mm == null ? null : Number((mm / factor).toFixed(places + 1))), say: (v: number | null) => (v === null ? '–' : `${v.toFixed(places).replace('-', '−')} ${unit}`) };
}

function touches(): PlotData {
  const live = entries.value.entries.filter((e) => e.live && e.kind === 'touch');
  const heads = headsKnown().all.filter((h) => live.some((e) => e.head === h));
  const guides = state.value?.valves?.length ?? 0;
  return {
    name: 'touches', title: 'touches a head took', over: 'head', along: heads, unit: '', fromZero: true, say: counted,
    lines: [{ name: 'touches', values: heads.map((h) => live.filter((e) => e.head === h).length), joined: true }],
    limits: guides > 0 ? [{ name: 'one for every guide', value: guides }] : [],
  };
}

function runout(measured: Measured[]): PlotData {
  const seats = measured.filter((m) => m.what === 'runout' && m.value !== null);
  const heads = [...new Set(seats.map((s) => s.head))];
  const { unit, of, say } = lengths();
  const ofHead = (h: string) => seats.filter((s) => s.head === h).map((s) => s.value!);
  const limits = [...new Set(seats.flatMap((s) => (s.high === null ? [] : [s.high])))];
  return {
    name: 'runout', title: 'runout over heads', over: 'head', along: heads, unit, fromZero: true, say,
    lines: [{ name: 'worst seat', values: heads.map((h) => of(Math.max(...ofHead(h)))), joined: true }, { name: 'mean of its seats', values: heads.map((h) => of(ofHead(h).reduce((a, b) => a + b, 0) / ofHead(h).length)) }],
    limits: limits.map((l) => ({ name: 'at most', value: of(l)! })),
  };
}

// A seat passes when all that was judged of it does; what is only reported has no verdict.
export function passing(measured: Measured[]): PlotData {
  const seats = new Map<string, Map<string, boolean>>();
  for (const m of measured.filter((line) => line.verdict !== '')) {
    const head = seats.get(m.head) ?? seats.set(m.head, new Map()).get(m.head)!;
    head.set(m.valve, (head.get(m.valve) ?? true) && m.verdict === 'pass');
  }
  const heads = [...seats.keys()];
  const share = (of: boolean[]) => (of.length === 0 ? null : Number(((100 * of.filter(Boolean).length) / of.length).toFixed(1)));
  const all = heads.map((h) => [...seats.get(h)!.values()]);
  return {
    name: 'passing', title: 'seats that pass', over: 'head', along: heads, unit: '%', fromZero: true, say: (v) => (v === null ? '–' : `${v} %`),
    lines: [{ name: 'of this head', values: all.map(share) }, { name: 'of all so far', values: all.map((_, i) => share(all.slice(0, i + 1).flat())), joined: true }],
    limits: [{ name: 'at least: every seat', value: 100 }],
  };
}

function depthLeft(): PlotData {
  const seats = (state.value?.results.shape?.seats ?? []).filter((s) => s.depth_mm !== null && s.depth_high_mm != null);
  const { unit, of, say } = lengths();
  return {
    name: 'depth-left', title: `depth left on head ${headHere.value}`, over: 'seat', along: seats.map((s) => s.id), unit, fromZero: true, say,
    lines: [{ name: 'left after the planned cut', values: seats.map((s) => of(s.depth_high_mm! - s.depth_mm!)) }],
    limits: [{ name: 'at least: nothing left', value: 0 }],
  };
}
