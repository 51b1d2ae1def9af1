// A trend over heads or seats, drawn in the page: its limits as dashed lines, closer by wheel, drag or buttons. What it shows
// stands under it as a table, and can be taken as CSV.

import { useSignal } from '@preact/signals';
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
import { Fold } from './fold';
import { nice } from './nice';
import { Table } from './table';
import { setWordsApart } from './words_apart';

export interface PlotLine { name: string; values: (number | null)[]; joined?: boolean }
export interface PlotLimit { name: string; value: number }
export interface PlotData {
  name: string; // of the file
  title: string;
  over: string; // what stands along the foot: "head"
  along: string[];
  unit: string; // of the values; empty: none
  lines: PlotLine[];
  limits: PlotLimit[];
  say: (value: number | null) => string;
  fromZero?: boolean;
  levels?: PlotLimit[]; // drawn thin and named: centre and control limits
  breaks?: number[]; // before which places something was changed
  attention?: (i: number) => boolean; // besides what is beyond a limit
  pick?: (i: number) => void; // a point was tapped
  low?: boolean; // half the height
}

const full = 220, half = 150, left = 92, right = 18, top = 16, foot = 44;
const leastShown = 4;

export function Plot(props: { of: PlotData }) {
  const { of } = props;
  const count = of.along.length;
  const box = useRef<HTMLDivElement>(null);
  const width = useSignal(0);
  const shown = useSignal<[number, number] | null>(null); // first and last; null: all
  useEffect(() => {
    const holder = box.current;
    if (!holder) return undefined;
    const watch = new ResizeObserver(() => { width.value = holder.clientWidth; });
    watch.observe(holder);
    return () => watch.disconnect();
  }, []);
  const [from, to] = shown.value ?? [0, count - 1];
  const look = (a: number, b: number) => {
    const size = Math.min(count, Math.max(Math.min(leastShown, count), b - a + 1));
    const begin = Math.min(Math.max(0, Math.round(a)), count - size);
    shown.value = size >= count ? null : [begin, begin + size - 1];
  };
  const closer = (by: number, about = (from + to) / 2) => {
    const size = (to - from + 1) * by;
    const part = (about - from) / Math.max(1, to - from);
    look(about - part * (size - 1), about + (1 - part) * (size - 1));
  };
  const dragged = useRef<{ x: number; from: number; to: number } | null>(null);
  const step = Math.max(1, Math.round((to - from + 1) / 2));
  return (
    <section class="plot" aria-label={of.title}>
      <h3>{of.title}</h3>
      <div class="plot-box" ref={box} data-drawing={of.name}
           onPointerDown={(e) => { dragged.current = { x: e.clientX, from, to }; }}
           onPointerMove={(e) => {
             const was = dragged.current;
             if (!was || e.buttons === 0 || width.value === 0) return;
             const moved = Math.round(((was.x - e.clientX) / (width.value - left - right)) * (was.to - was.from + 1));
             look(was.from + moved, was.to + moved);
           }}
           onPointerUp={() => { dragged.current = null; }}
           onWheel={(e) => {
             if (!e.ctrlKey && shown.value === null && e.deltaY > 0) return; // nothing to widen: the page scrolls
             e.preventDefault();
             const at = from + ((e.offsetX - left) / Math.max(1, width.value - left - right)) * (to - from);
             closer(e.deltaY < 0 ? 0.7 : 1.4, Math.min(to, Math.max(from, at)));
           }}>
        {width.value > 0 && <Drawn of={of} width={width.value} from={from} to={to} />}
      </div>
      <p class="acts no-print">
        <button type="button" disabled={to - from + 1 <= leastShown} onClick={() => closer(0.5)}>Closer</button>
        <button type="button" disabled={shown.value === null} onClick={() => closer(2)}>Wider</button>
        <button type="button" disabled={from === 0} onClick={() => look(from - step, to - step)}>Earlier</button>
        <button type="button" disabled={to === count - 1} onClick={() => look(from + step, to + step)}>Later</button>
        <a class="button" href={csvOf(of)} download={`${of.name}.csv`}>Take as CSV</a>
      </p>
      <Fold title="The same as a table" note={`${count} ${of.over}${count === 1 ? '' : 's'}`} lazy>
        <Table caption={`${of.title}${of.unit ? `, ${of.unit}` : ''}${of.limits.length > 0 ? `; ${of.limits.map((l) => `${l.name} ${of.say(l.value)}`).join(', ')}` : ''}`}
               head={[of.over, ...of.lines.map((l) => l.name)]}
               rows={of.along.map((a, i) => ({ key: a, cells: [a, ...of.lines.map((l) => of.say(l.values[i] ?? null))] }))} />
      </Fold>
    </section>
  );
}

function Drawn(props: { of: PlotData; width: number; from: number; to: number }) {
  const { of, width, from, to } = props;
  const height = of.low ? half : full;
  const seen = of.lines.flatMap((l) => l.values.slice(from, to + 1)).filter((v) => v !== null);
  const all = [...seen, ...(of.levels ?? []).map((l) => l.value), ...of.limits.map((l) => l.value), ...(of.fromZero ? [0] : [])];
  const low = Math.min(...all), high = Math.max(...all);
  const ticks = nice(low, high === low ? low + Math.max(1e-6, Math.abs(low) * 0.1) : high);
  const bottom = ticks[0]!, most = ticks.at(-1)!;
  const x = (i: number) => left + ((i - from + 0.5) / (to - from + 1)) * (width - left - right);
  const y = (v: number) => top + (1 - (v - bottom) / (most - bottom)) * (height - top - foot);
  const every = Math.ceil((to - from + 1) / Math.max(1, Math.floor((width - left - right) / 64)));
  const said = `${of.title}: ${of.lines.map((l) => `${l.name} from ${of.say(l.values[from] ?? null)} to ${of.say(l.values[to] ?? null)}`).join('; ')}`;
  const svg = useRef<SVGSVGElement>(null);
  useLayoutEffect(() => { if (svg.current && of.levels) setWordsApart(svg.current); });
  return (
    <svg ref={svg} class="plot-drawn" data-figure={of.name} viewBox={`0 0 ${width} ${height}`} width={width} height={height} role="img" aria-label={said}>
      {ticks.map((t) => (
        <g key={t}>
          <line x1={left} x2={width - right} y1={y(t)} y2={y(t)} class="plot-grid" />
          <text x={left - 8} y={y(t) + 5.5} text-anchor="end">{of.say(t).replace(/ .*/, '')}</text>
        </g>
      ))}
      {of.along.map((a, i) => (i < from || i > to || (i - from) % every !== 0 ? null : <text key={a} x={x(i)} y={height - foot + 22} text-anchor="middle">{a}</text>))}
      <text x={width - right} y={height - 4} text-anchor="end">{of.over}</text>
      {of.unit && <text x={4} y={height - 4}>{of.unit}</text>}
      {(of.breaks ?? []).map((b) => (b <= from || b > to ? null : <line key={b} x1={(x(b - 1) + x(b)) / 2} x2={(x(b - 1) + x(b)) / 2} y1={top} y2={height - foot} class="plot-break" />))}
      {(of.levels ?? []).map((l) => (
        <g key={l.name}>
          <line x1={left} x2={width - right} y1={y(l.value)} y2={y(l.value)} class="plot-level" />
          <text x={width - right - 4} y={y(l.value) - 5} text-anchor="end">{l.name}</text>
        </g>
      ))}
      {of.limits.map((l) => <line key={l.name} x1={left} x2={width - right} y1={y(l.value)} y2={y(l.value)} class="plot-limit"><title>{`${l.name} ${of.say(l.value)}`}</title></line>)}
      {of.lines.map((l, n) => (
        <g key={l.name} class={`plot-line-${n}`}>
          {l.joined && <polyline points={l.values.flatMap((v, i) => (v === null || i < from || i > to ? [] : [`${x(i).toFixed(1)},${y(v).toFixed(1)}`])).join(' ')} />}
          {l.values.map((v, i) => (v === null || i < from || i > to ? null : (
            <Mark key={i} n={n} x={x(i)} y={y(v)} pick={of.pick && (() => of.pick?.(i))} attention={of.attention?.(i) === true || of.limits.some((m) => (m.name.startsWith('at least') ? v < m.value : v > m.value))} title={`${of.over} ${of.along[i]}: ${l.name} ${of.say(v)}`} />
          )))}
        </g>
      ))}
    </svg>
  );
}

// A shape a line, so that no colour is needed to tell them apart; beyond a limit it is filled.
function Mark(props: { n: number; x: number; y: number; attention: boolean; title: string; pick: (() => void) | undefined }) {
  const { x, y } = props;
  const shape = props.n === 0 ? `M${x - 4.5} ${y} a4.5 4.5 0 1 0 9 0 a4.5 4.5 0 1 0 -9 0` : `M${x - 5} ${y + 4} L${x} ${y - 5} L${x + 5} ${y + 4} Z`;
  return (
    <g class={props.pick ? 'plot-pick' : undefined} onClick={props.pick}>
      {props.pick && <circle cx={x} cy={y} r={22} fill="transparent" />}
      <path d={shape} class={props.attention ? 'plot-beyond' : 'plot-mark'}><title>{props.title}</title></path>
    </g>
  );
}

// One line a head or seat, the limits as columns of their own (RFC 4180).
export function csvText(of: PlotData): string {
  const cell = (v: string) => (/[",\r\n]/.test(v) ? `"${v.replaceAll('"', '""')}"` : v);
  const unit = of.unit ? ` ${of.unit}` : '';
  const rows = [[of.over, ...of.lines.map((l) => l.name + unit), ...of.limits.map((l) => l.name + unit)],
    ...of.along.map((a, i) => [a, ...of.lines.map((l) => String(l.values[i] ?? '')), ...of.limits.map((l) => String(l.value))])];
  return rows.map((r) => `${r.map(cell).join(',')}\r\n`).join('');
}

const csvOf = (of: PlotData) => `data:text/csv;charset=utf-8,${encodeURIComponent(csvText(of))}`;
