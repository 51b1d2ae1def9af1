// All seats of the head as bars on one scale, below the height the drawing gives: how far the old seat has sunk, the depth
// planned from there, the least that cleans it up and its limit. Seats with the same figures are one row. A bar is taken
// anywhere and drawn longer or shorter; what follows from another depth is looked at, not stored.

import { useSignal } from '@preact/signals';
import type { ShapedSeat } from '../../api/types';
import { mmIn } from '../../numbers/quantity';
import { inWords, showLength, showNumber } from '../../numbers/show';
import { nice } from '../../parts/nice';
import { useWidth } from '../../parts/use_width';
import { shown } from '../../state/open_job';
import { follow } from './drag';

const row = 27, head = 6, foot = 30; // px
const letter = 9.6; // px: a wide character of 16 px
const finest = 0.001; // mm of depth
const twoColumns = 1000, many = 10; // px; rows

export interface Alike { ids: string[]; seat: ShapedSeat }

// Seats of the same figures, in head order.
export function alike(seats: ShapedSeat[]): Alike[] {
  const groups = new Map<string, Alike>();
  for (const seat of seats) {
    const key = JSON.stringify([seat.decision, seat.depth_mm, seat.cleanup_mm, seat.depth_high_mm, seat.recession_mm]);
    const group = groups.get(key);
    if (group) group.ids.push(seat.id);
    else groups.set(key, { ids: [seat.id], seat });
  }
  return [...groups.values()];
}

export function DepthStrip(props: { seats: ShapedSeat[]; attempt: (valves: string[], depth: number) => void }) {
  const { box, width } = useWidth();
  const rows = alike(props.seats);
  const columns = width >= twoColumns && rows.length > many ? 2 : 1;
  const told = useSignal('');
  const said = rows.find((r) => r.ids[0] === told.value);
  const each = Math.ceil(rows.length / columns);
  const scale = scaleOf(rows);
  return (
    <figure class="sheet-frame strip-drawing" data-drawing="depths">
      <div class="depth-strip" ref={box}>
        {width > 0 && Array.from({ length: columns }, (_, c) => (
          <Bars key={c} rows={rows.slice(c * each, (c + 1) * each)} width={Math.floor(width / columns)} scale={scale} attempt={props.attempt} tell={(id) => { told.value = id; }} />
        ))}
      </div>
      <figcaption>
        {said && <p role="status">{limitsOf(said)}</p>}
        <p class="map-legend">
          <span>Lengths in {inWords(shown.value)}</span>
          <svg viewBox="0 0 20 20" aria-hidden="true"><rect x="1" y="5" width="18" height="10" class="bar-plan" /></svg>depth planned
          <svg viewBox="0 0 20 20" aria-hidden="true"><rect x="1" y="5" width="18" height="10" class="bar-old" /></svg>sunk before
          <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M10 2 L10 18" class="bar-cleanup" /></svg>least that cleans it up
          <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M10 2 L10 18 M6 2 L14 2 M6 18 L14 18" class="bar-limit" /></svg>limit
        </p>
      </figcaption>
    </figure>
  );
}

interface Scale { ticks: number[]; low: number; high: number } // mm, below the drawing height

function scaleOf(rows: Alike[]): Scale {
  const from = (s: ShapedSeat) => s.recession_mm ?? 0;
  const deepest = Math.max(...rows.map(({ seat: s }) => from(s) + Math.max(s.depth_mm ?? 0, s.cleanup_mm ?? 0)), 0);
  const limit = Math.max(...rows.map(({ seat: s }) => (s.depth_high_mm === null ? 0 : from(s) + s.depth_high_mm)), 0);
  const low = Math.min(...rows.map(({ seat: s }) => from(s)), 0);
  const unit = mmIn[shown.value];
  const high = Math.max(deepest * 1.1, Math.min(limit * 1.02, 2.2 * deepest), 0.1); // limits far beyond every cut are off the scale
  const ticks = nice(low / unit, high / unit).map((t) => t * unit);
  return { ticks, low: ticks[0]!, high: ticks.at(-1)! };
}

const nameOf = (ids: string[]) => (ids.length <= 2 ? ids.join(', ') : `${ids[0]} and ${ids.length - 1} more`);
const words: Record<ShapedSeat['decision'], string> = { cut: '', insert: 'new insert', 'not allowed': 'not allowed', 'not measured': 'not measured', 'below finish': 'below finish' };
const valueOf = (s: ShapedSeat) => words[s.decision] || (s.depth_mm === null ? 'no depth' : showNumber(s.depth_mm, 'length', shown.value));

function Bars(props: { rows: Alike[]; width: number; scale: Scale; attempt: (valves: string[], depth: number) => void; tell: (id: string) => void }) {
  const { rows, width, scale } = props;
  const left = letter * Math.max(...rows.map((r) => nameOf(r.ids).length), 3) + 18;
  const right = letter * Math.max(...rows.map((r) => valueOf(r.seat).length), 5) + 18;
  const height = head + row * rows.length + foot;
  const x = (mm: number) => left + ((Math.min(Math.max(mm, scale.low), scale.high) - scale.low) / (scale.high - scale.low)) * Math.max(width - left - right, 20);
  const unit = shown.value;
  const wordy = showNumber(scale.high, 'length', unit).length * letter + 14;
  const every = Math.max(1, Math.ceil((wordy * (scale.ticks.length - 1)) / Math.max(width - left - right, 20)));
  const take = (down: PointerEvent, r: Alike) => {
    props.tell(r.ids[0] ?? '');
    const depth = r.seat.depth_mm;
    const px = (x(scale.high) - x(scale.low)) / (scale.high - scale.low);
    if (depth === null || px <= 0) return;
    const from = down.clientX;
    follow(down, (e) => props.attempt(r.ids, Math.max(0, Math.round((depth + (e.clientX - from) / px) / finest) * finest)), () => undefined);
  };
  return (
    <svg data-figure="depths" viewBox={`0 0 ${width} ${height}`} width={width} height={height} role="img" aria-label={`Depth of every seat. ${rows.map((r) => sayOf(r)).join(' ')}`}>
      {scale.ticks.map((t, i) => (
        <g key={t}>
          <line x1={x(t)} x2={x(t)} y1={head} y2={height - foot} class="plot-grid" />
          {i % every === 0 && <text x={x(t)} y={height - 9} text-anchor="middle">{showNumber(t, 'length', unit)}</text>}
        </g>
      ))}
      {rows.map((r, i) => {
        const { seat: s } = r;
        const y = head + i * row, old = s.recession_mm ?? 0;
        const edges = (a: number, b: number) => `${x(a)},${y + 5} ${x(b)},${y + 5} ${x(b)},${y + row - 5} ${x(a)},${y + row - 5}`;
        const across = (mm: number) => `M${x(mm)} ${y + 2} L${x(mm)} ${y + row - 2}`;
        const limit = s.depth_high_mm === null ? null : old + s.depth_high_mm;
        return (
          <g key={r.ids[0]} data-name={r.ids[0]} class={s.depth_mm === null ? '' : 'bar-row'} onPointerDown={(e) => take(e, r)}>
            <rect x={left} y={y} width={Math.max(width - left - right, 0)} height={row} fill="transparent" />
            <text x={left - 10} y={y + row / 2 + 5.5} text-anchor="end" font-weight="600">{nameOf(r.ids)}</text>
            {old !== 0 && <polygon points={edges(Math.min(old, 0), Math.max(old, 0))} class="bar-old grip" />}
            {s.depth_mm !== null && <polygon points={edges(old, old + s.depth_mm)} class="bar-plan" />}
            {s.cleanup_mm !== null && <path d={across(old + s.cleanup_mm)} class="bar-cleanup" />}
            {limit !== null && limit <= scale.high && <path d={`${across(limit)} M${x(limit) - 4} ${y + 2} h8 M${x(limit) - 4} ${y + row - 2} h8`} class="bar-limit" />}
            <text x={width - right + 10} y={y + row / 2 + 5.5} class={words[s.decision] ? 'bar-words' : ''}>{valueOf(s)}</text>
          </g>
        );
      })}
      <line x1={x(0)} x2={x(0)} y1={head} y2={height - foot} class="bar-zero" />
    </svg>
  );
}

function sayOf(r: Alike): string {
  const of = (mm: number | null) => showNumber(mm, 'length', shown.value);
  const { seat: s } = r;
  return `${r.ids.join(', ')}: ${words[s.decision] || `depth ${of(s.depth_mm)}`}, cleanup ${of(s.cleanup_mm)}, at most ${of(s.depth_high_mm)}.`;
}

// What a tap on a bar says.
function limitsOf(r: Alike): string {
  const of = (mm: number | null) => showLength(mm, shown.value);
  const { seat: s } = r;
  const most = s.depth_high_mm === null ? 'no limit is known' : `at most ${of(s.depth_high_mm)}${s.limited_by ? `, by ${s.limited_by}` : ''}`;
  return `${nameOf(r.ids)}: ${words[s.decision] || `${of(s.depth_mm)} planned`}; ${s.cleanup_mm === null ? 'the least that cleans it up is not known' : `at least ${of(s.cleanup_mm)} to clean it up`}; ${most}.`;
}
