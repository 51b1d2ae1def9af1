// The map as it stands under the spindle: as large as its box allows, words of 16 px, a tap chooses. Touched, open, next and
// suspect are different shapes; ellipses and the offsets inside the circles are drawn larger than the places, and the
// caption says how much.

import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { showChance } from '../../numbers/show';
import { setWordsApart } from '../../parts/words_apart';
import type { MapData, MapGuide } from './data';
import type { Point } from './frame';

const ellipse95 = 2.4477; // root of the chi-square quantile of two degrees of freedom at 0.95
const pad = 14; // px round the drawing
const largest = 46; // px, a circle's radius
const band = 26; // px over and under a circle for its words

interface Props {
  data: MapData;
  next: string | null; // drawn large
  title: string;
  fill?: boolean; // the box gives the height; else the drawing takes what it needs
  pick?: (valve: string) => void;
  chances?: boolean;
  open?: string; // what "open" is called here
  way?: { order: string[]; gone: number }; // from guide to guide, so many of them gone
}

export function GuideMap(props: Props) {
  const box = useRef<HTMLDivElement>(null);
  const svg = useRef<SVGSVGElement>(null);
  const [room, setRoom] = useState({ w: 0, h: 0 });
  useEffect(() => {
    const holder = box.current;
    if (!holder) return undefined;
    const watch = new ResizeObserver(() => setRoom({ w: holder.clientWidth, h: holder.clientHeight }));
    watch.observe(holder);
    return () => watch.disconnect();
  }, []);
  const size = props.fill ? room : { w: room.w, h: heightFor(props.data, room.w) };
  const view = viewOf(props.data, size.w, size.h);
  const least = Math.min(...props.data.guides.map((g) => g.chance ?? 1));
  useLayoutEffect(() => {
    if (svg.current && view) setWordsApart(svg.current);
  });
  return (
    <div class={`map-box ${props.fill ? 'machine-map' : ''}`} ref={box}>
      {view && (
        <svg ref={svg} data-figure="map" role="img" aria-label={`${props.title}. ${props.data.guides.map((g) => sayOf(g, props.next, props.open)).join('. ')}.`} width={size.w} height={size.h} viewBox={`0 0 ${size.w} ${size.h}`}>
          <Casting data={props.data} view={view} />
          {props.way && <Way {...props.way} data={props.data} view={view} />}
          {props.data.guides.map((g) => <Guide key={g.id} guide={g} view={view} next={g.id === props.next} chances={(props.chances ?? false) && (view.roomy || g.chance === least)} pick={props.pick} />)}
        </svg>
      )}
    </div>
  );
}

interface View { to: (p: Point) => Point; scale: number; r: number; enlarge: number; roomy: boolean; all: Point[] }

const wordsNeed = 84; // px from guide to guide, or their chances run into one another

// From guide to guide along a row, px: words stand outward of two rows.
function rowsApart(at: Point[]): number {
  const along = at.flatMap((p, i) => at.slice(i + 1).filter((q) => Math.abs(q.y - p.y) < 20).map((q) => Math.abs(q.x - p.x)));
  return Math.min(...along, Infinity);
}

// What the head takes at the full width, within what a screen can give.
function heightFor(data: MapData, w: number): number {
  const all = [...data.outline, ...data.guides.map((g) => g.at)];
  if (all.length === 0) return 0;
  const span = (v: number[]) => Math.max(...v) - Math.min(...v);
  const aspect = span(all.map((p) => p.y)) / Math.max(span(all.map((p) => p.x)), 1);
  return Math.round(Math.min(Math.max((w - 2 * pad) * aspect + 2 * pad + 2 * band, 200), 0.6 * innerHeight));
}

// One scale for both axes; the whole outline in the box, with room for words.
function viewOf(data: MapData, w: number, h: number): View | null {
  const all = [...data.outline, ...data.guides.map((g) => g.at)];
  if (w < 50 || h < 50 || all.length === 0) return null;
  // A guide that stands off the casting as drawn keeps its whole circle in the box.
  const bounds = (beyond: number) => {
    const xs = [...data.outline.map((p) => p.x), ...data.guides.flatMap((g) => [g.at.x - beyond, g.at.x + beyond])];
    const ys = [...data.outline.map((p) => p.y), ...data.guides.flatMap((g) => [g.at.y - beyond, g.at.y + beyond])];
    return [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)] as const;
  };
  const scaleIn = ([x0, x1, y0, y1]: readonly [number, number, number, number]) => Math.min((w - 2 * pad) / Math.max(x1 - x0, 1), (h - 2 * pad) / Math.max(y1 - y0, 1));
  const [l, r, b, t] = bounds(24 / scaleIn(bounds(0)));
  const scale = scaleIn([l, r, b, t]);
  const to = (p: Point): Point => ({ x: w / 2 + (p.x - (l + r) / 2) * scale, y: h / 2 - (p.y - (b + t) / 2) * scale });
  const at = data.guides.map((g) => to(g.at));
  let nearest = Infinity;
  at.forEach((p, i) => at.slice(i + 1).forEach((q) => { nearest = Math.min(nearest, Math.hypot(p.x - q.x, p.y - q.y)); }));
  const radius = Math.max(7, Math.min(largest, Number.isFinite(nearest) ? 0.38 * nearest : largest));
  const widest = Math.max(...data.guides.map((g) => g.clearance ?? 0), 0);
  return { to, scale, r: radius, enlarge: widest > 0 ? radius / widest : 0, roomy: nearest >= wordsNeed || rowsApart(at) >= wordsNeed, all: at };
}

function Casting(props: { data: MapData; view: View }) {
  const { data, view } = props;
  return (
    <>
      <polygon class="map-outline" points={data.outline.map((p) => { const q = view.to(p); return `${q.x.toFixed(1)},${q.y.toFixed(1)}`; }).join(' ')} />
      {data.bores.map((b, i) => { const p = view.to(b.at); return <circle key={i} class="map-bore" cx={p.x} cy={p.y} r={b.r * view.scale} />; })}
      {data.holes.map((h, i) => { const p = view.to(h); return <circle key={i} class="map-hole" cx={p.x} cy={p.y} r={6} />; })}
      {data.posts.map((h, i) => { const p = view.to(h); return <g key={i}><circle class="map-hole" cx={p.x} cy={p.y} r={8} /><circle class="map-post" cx={p.x} cy={p.y} r={4.5} /></g>; })}
    </>
  );
}

function Guide(props: { guide: MapGuide; view: View; next: boolean; chances: boolean; pick: ((valve: string) => void) | undefined }) {
  const { guide: g, view, next, pick } = props;
  const p = view.to(g.at);
  const r = view.r * (next ? 1.25 : 1);
  // In two rows the words stand outward, so that no word comes over a neighbour's circle.
  const near = (sign: number) => view.all.some((q) => Math.abs(q.x - p.x) < 1.6 * view.r && sign * (q.y - p.y) > 1 && sign * (q.y - p.y) < 2.2 * view.r + 40);
  const under = near(-1) && !near(1);
  const idAt = under ? p.y + r + (next ? 22 : 18) : p.y - r - 7;
  const wordsAt = under ? idAt + 19 : near(1) ? idAt - (next ? 24 : 19) : p.y + r + band - 8;
  const words = g.words ?? (g.standing === 'suspect' ? 'suspect' : props.chances ? showChance(g.chance) : '–');
  return (
    <g class={`map-guide map-${next ? 'next' : g.standing}`} data-guide={g.id} onClick={pick ? () => pick(g.id) : undefined}>
      <circle class="map-take" cx={p.x} cy={p.y} r={Math.max(24, r)} />
      <circle class="map-mouth" cx={p.x} cy={p.y} r={r} />
      {g.sd && view.enlarge > 0 && (
        <ellipse class="map-sure" cx={p.x + g.off.x * view.enlarge} cy={p.y - g.off.y * view.enlarge}
                 rx={Math.min(2 * r, Math.max(2, ellipse95 * g.sd.x * view.enlarge))} ry={Math.min(2 * r, Math.max(2, ellipse95 * g.sd.y * view.enlarge))} />
      )}
      <Shape at={p} standing={g.standing} next={next} />
      {g.readAt && <Arrow from={p} to={view.to(g.readAt)} reach={r} />}
      <text class="map-id" x={p.x} y={idAt} font-size={next ? 22 : 16} text-anchor="middle">{g.id}</text>
      {words !== '–' && <text class="map-words" x={p.x} y={wordsAt} font-size={16} text-anchor="middle">{words}</text>}
    </g>
  );
}

function Shape(props: { at: Point; standing: MapGuide['standing']; next: boolean }) {
  const { x, y } = props.at;
  const q = props.next ? 9 : 6;
  if (props.standing === 'suspect') return <path class="map-mark" d={`M${x} ${y - q} L${x + q} ${y} L${x} ${y + q} L${x - q} ${y} Z M${x - q / 2} ${y - q / 2} L${x + q / 2} ${y + q / 2} M${x + q / 2} ${y - q / 2} L${x - q / 2} ${y + q / 2}`} />;
  if (props.standing === 'measured') return <path class="map-mark" d={`M${x - q} ${y} L${x - q / 3} ${y + q * 0.7} L${x + q} ${y - q * 0.8}`} />;
  if (props.standing === 'fail') return <path class="map-mark" d={`M${x - q} ${y - q} L${x + q} ${y + q} M${x + q} ${y - q} L${x - q} ${y + q}`} />;
  if (props.standing === 'undecided') return <path class="map-mark" d={`M${x - q} ${y - 2} q${q / 2} -5 ${q} 0 t${q} 0 M${x - q} ${y + 4} q${q / 2} -5 ${q} 0 t${q} 0`} />;
  if (props.standing === 'held') return <path class="map-mark" d={`M${x - q} ${y} L${x + q} ${y}`} />;
  if (props.next) return <path class="map-mark" d={`M${x} ${y + q} L${x - q} ${y - q * 0.7} L${x + q} ${y - q * 0.7} Z`} />;
  if (props.standing === 'cut') return <circle class="map-mark map-filled" cx={x} cy={y} r={q} />;
  if (props.standing === 'touched') return <rect class="map-mark map-filled" x={x - 4.5} y={y - 4.5} width={9} height={9} />;
  return <circle class="map-mark" cx={x} cy={y} r={4} />;
}

// The way from guide to guide as the tool goes it, an arrow each; what is gone already is drawn full.
function Way(props: { order: string[]; gone: number; data: MapData; view: View }) {
  const { data, view } = props;
  const at = props.order.flatMap((id) => data.guides.find((g) => g.id === id) ?? []).map((g) => view.to(g.at));
  return (
    <>
      {at.slice(1).map((b, i) => {
        const a = at[i]!;
        const far = Math.hypot(b.x - a.x, b.y - a.y) || 1;
        const [ux, uy] = [(b.x - a.x) / far, (b.y - a.y) / far];
        // Bent to one side of the way, so that out and back along one row are two lines.
        const bend = Math.min(Math.max(0.16 * far, 8), 60);
        const [mx, my] = [(a.x + b.x) / 2 - uy * bend + 5 * ux, (a.y + b.y) / 2 + ux * bend + 5 * uy];
        const barb = (s: number) => `L${mx - 9 * ux - s * 4.5 * uy} ${my - 9 * uy + s * 4.5 * ux}`;
        const arc = `M${a.x} ${a.y} Q${(a.x + b.x) / 2 - 2 * bend * uy} ${(a.y + b.y) / 2 + 2 * bend * ux} ${b.x} ${b.y}`;
        return <path key={i} class={i < props.gone ? 'map-way map-gone' : 'map-way'} d={`${arc} M${mx} ${my} ${barb(1)} M${mx} ${my} ${barb(-1)}`} />;
      })}
    </>
  );
}

const shortest = 26; // px of an arrow: nearer reads as nothing

// From where the others put the guide to where it was read; too short a way is drawn longer.
function Arrow(props: { from: Point; to: Point; reach: number }) {
  const { from, to } = props;
  const far = Math.hypot(to.x - from.x, to.y - from.y) || 1;
  const k = far < shortest + props.reach ? (shortest + props.reach) / far : 1;
  const [x, y] = [from.x + (to.x - from.x) * k, from.y + (to.y - from.y) * k];
  const turn = Math.atan2(y - from.y, x - from.x);
  const barb = (by: number) => `L${x - 11 * Math.cos(turn + by)} ${y - 11 * Math.sin(turn + by)}`;
  return <path class="map-arrow" d={`M${from.x} ${from.y} L${x} ${y} M${x} ${y} ${barb(0.4)} M${x} ${y} ${barb(-0.4)}`} />;
}

function sayOf(g: MapGuide, next: string | null, open = 'not touched'): string {
  const known = g.standing === 'open' ? open : g.standing === 'held' ? 'held back' : g.standing === 'idle' ? 'not of this file' : g.standing === 'suspect' ? 'touched, does not agree' : g.standing;
  return `${g.id}${g.id === next ? ', next' : ''}, ${known}`;
}

export const MapLegend = (props: { enlarge?: string }) => (
  <p class="map-legend">
    <svg viewBox="0 0 20 20" aria-hidden="true"><rect x="5" y="5" width="10" height="10" class="map-key-touch" /></svg>touched
    <svg viewBox="0 0 20 20" aria-hidden="true"><circle cx="10" cy="10" r="4.5" class="map-key" /></svg>not touched
    <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M10 17 L2 4 L18 4 Z" class="map-key-next" /></svg>next
    <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M10 2 L18 10 L10 18 L2 10 Z M6 6 L14 14 M14 6 L6 14" class="map-key-warn" /></svg>does not agree
    {props.enlarge && <span class="quiet">{props.enlarge}</span>}
  </p>
);
