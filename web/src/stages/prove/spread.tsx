// How the seats of a kind lie between their limits: how many within each step, the limits drawn.

import type { BatchLine } from '../../api/types';
import { nice } from '../../parts/nice';
import { useWidth } from '../../parts/use_width';
import { state } from '../../state/open_job';
import { inUnit } from './control_chart';
import type { Measured } from './measured';

const height = 150, left = 44, right = 18, top = 12, foot = 44; // px

// Counts in equal steps that hold every value; a step reaches from its edge up to, not including, the next.
export function counts(values: number[]): { edges: number[]; counts: number[] } {
  const low = Math.min(...values), high = Math.max(...values);
  const edges = nice(low, high === low ? low + Math.max(Math.abs(low) * 0.1, 1e-6) : high);
  const fine = edges.slice(1).flatMap((e, i) => [edges[i]!, (edges[i]! + e) / 2]).concat(edges.at(-1)!);
  const own = values.length >= 30 ? fine : edges;
  const found = own.slice(1).map((e, i) => values.filter((v) => v >= own[i]! && (v < e || (i === own.length - 2 && v <= e))).length);
  return { edges: own, counts: found };
}

export function Spread(props: { line: BatchLine; measured: Measured[] }) {
  const { line } = props;
  const { box, width } = useWidth();
  const { of, say, unit } = inUnit(line);
  const kinds = new Map(state.value?.valves?.map((v) => [v.id, v.kind]));
  const values = props.measured.flatMap((m) => (m.what === line.what && m.value !== null && kinds.get(m.valve) === line.kind ? [of(m.value)!] : []));
  if (values.length === 0) return <div ref={box} />;
  const { edges, counts: found } = counts(values);
  const limits = ([['at least', of(line.limit_low)], ['at most', of(line.limit_high)]] as const).flatMap(([name, v]) => (v === null ? [] : [{ name, v }]));
  const all = [...edges, ...limits.map((l) => l.v)];
  const low = Math.min(...all), high = Math.max(...all), most = Math.max(...found);
  const x = (v: number) => left + ((v - low) / (high - low || 1)) * Math.max(width - left - right, 10);
  const y = (n: number) => top + (1 - n / most) * (height - top - foot);
  const said = `${values.length} ${line.kind} seats: ${found.map((n, i) => (n === 0 ? '' : `${n} from ${say(edges[i]!)} to ${say(edges[i + 1]!)}`)).filter((w) => w !== '').join(', ')}${limits.map((l) => `; ${l.name} ${say(l.v)}`).join('')}`;
  const plain = (v: number) => say(v).replace(/ .*/, '').replace(/(\.\d*?)0+$/, '$1').replace(/\.$/, '');
  return (
    <div class="plot" ref={box}>
      <h3>{line.what}, {line.kind}: {values.length} seats</h3>
      {width > 0 && (
        <svg class="plot-drawn" data-figure={`spread-${line.what}-${line.kind}`.replaceAll(' ', '-')} viewBox={`0 0 ${width} ${height}`} width={width} height={height} role="img" aria-label={said}>
          {found.map((n, i) => n > 0 && <rect key={edges[i]} x={x(edges[i]!)} width={Math.max(x(edges[i + 1]!) - x(edges[i]!), 1)} y={y(n)} height={height - foot - y(n)} class="plot-bar"><title>{`${n} from ${say(edges[i]!)} to ${say(edges[i + 1]!)}`}</title></rect>)}
          <line x1={left} x2={width - right} y1={height - foot} y2={height - foot} class="bar-zero" />
          <text x={left - 8} y={y(most) + 12} text-anchor="end">{most}</text>
          <text x={x(edges[0]!)} y={height - foot + 20} text-anchor="start">{plain(edges[0]!)}</text>
          {x(edges.at(-1)!) - x(edges[0]!) > 190 && <text x={x(edges.at(-1)!)} y={height - foot + 20} text-anchor="end">{plain(edges.at(-1)!)}</text>}
          {limits.map((l) => (
            <g key={l.name}>
              <line x1={x(l.v)} x2={x(l.v)} y1={top} y2={height - foot} class="plot-limit" />
              <text x={Math.min(Math.max(x(l.v), left + 75), width - right - 75)} y={height - 4} text-anchor={'middle'}>{l.name} {plain(l.v)}</text>
            </g>
          ))}
          {limits.length === 0 && <text x={width - right} y={height - 4} text-anchor="end">{unit}, no limit set</text>}
        </svg>
      )}
    </div>
  );
}
