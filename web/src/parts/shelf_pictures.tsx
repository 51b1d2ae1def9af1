// What the shop owns, drawn to scale from its figures: cutters by their edges, pilots by their length and steps, fixtures by
// their posts, machines by the table they travel. Cutters and pilots each share one scale, so that they can be compared.

import { readTree } from '../api/tree';
import type { Tree, TreeValue } from '../api/types';
import type { LengthUnit } from '../numbers/quantity';
import { roughNumber, showRough } from '../numbers/show';

const w = 230, h = 104; // px

// `units`: of a bare length in the file; `shown`: of those in words.
interface Of { item: Tree; units: LengthUnit; shown: LengthUnit }

const of = (item: Tree, key: string, units: LengthUnit) => readTree(item[key], 'length', units);
const pair = (v: TreeValue | undefined, units: LengthUnit, quantity: 'length' | 'angle' = 'length') => (Array.isArray(v) ? v.map((x) => readTree(x, quantity, units) ?? 0) : []);

const perMm = 15; // px a mm of a cutter's edge

// Its edges from inside to outside, [r, z] mm, z = 0 and r = 0 in the middle of the edge of that angle (else of the longest).
function edges(facets: { angle: number; width: number }[], face: number | null): [number, number][] {
  const longest = Math.max(...facets.map((f) => f.width));
  const main = facets.findIndex((f) => (face === null ? f.width === longest : Math.abs(f.angle - face) < 0.5));
  const points: [number, number][] = [[0, 0]];
  for (const f of facets) {
    const [r, z] = points.at(-1)!, a = (f.angle * Math.PI) / 180;
    points.push([r + f.width * Math.cos(a), z + f.width * Math.sin(a)]);
  }
  const at = Math.max(main, 0);
  const [a, b] = [points[at]!, points[at + 1] ?? points[at]!];
  return points.map(([r, z]) => [r - (a[0] + b[0]) / 2, z - (a[1] + b[1]) / 2]);
}

export interface SeatOutline { facets: { angle: number; width: number }[]; face: number } // of the seat it would cut

export function CutterPicture(props: Of & { over?: SeatOutline | undefined }) {
  const list = Array.isArray(props.item['facets']) ? (props.item['facets'] as Tree[]) : [];
  const facets = list.map((f) => ({ angle: readTree(f['angle'], 'angle', props.units) ?? 45, width: readTree(f['width'], 'length', props.units) ?? 1 }));
  if (facets.length === 0) return null;
  const own = edges(facets, props.over?.face ?? null);
  const to = ([r, z]: [number, number]) => `${(w / 2 + r * perMm).toFixed(1)},${(h / 2 - z * perMm).toFixed(1)}`;
  const [first, last] = [own[0]!, own.at(-1)!];
  const seat = props.over ? edges(props.over.facets, props.over.face) : null;
  return (
    <svg class="shelf-picture" data-figure="cutter" viewBox={`0 0 ${w} ${h}`} width={w} height={h} role="img"
         aria-label={`Its edges: ${facets.map((f) => `${f.angle.toFixed(0)}°, ${showRough(f.width, props.shown, 2)}`).join('; ')}${seat ? '; over the seat it would cut' : ''}`}>
      <polygon class="dim-body" points={`${own.map(to).join(' ')} ${to([last[0], last[1] + 3])} ${to([first[0], last[1] + 3])}`} />
      {seat && <polyline class="seat-under" points={seat.map(to).join(' ')} />}
      <polyline class="facet-face" points={own.map(to).join(' ')} />
    </svg>
  );
}

const long = 170; // mm of pilot in the picture

// Lying, its tip to the right; with a guide, the guide from its gauge line on.
export function PilotPicture(props: Of & { guide?: { bore: number; length: number } | undefined }) {
  const { item, units, shown, guide } = props;
  const d = of(item, 'diameter', units) ?? 6, tip = of(item, 'tip', units) ?? d * 0.93;
  const reach = of(item, 'reach', units) ?? of(item, 'length', units) ?? 140, gauge = of(item, 'gauge_at', units) ?? of(item, 'above', units) ?? reach - 34;
  const k = (w - 12) / Math.max(long, reach), mid = h / 2;
  const y = (dia: number, s: number) => mid + (s * dia * k) / 2;
  const x = (along: number) => 6 + along * k;
  const cone = Math.max(reach - 14, gauge);
  return (
    <svg class="shelf-picture" data-figure="pilot" viewBox={`0 0 ${w} ${h}`} width={w} height={h} role="img" aria-label={`Pilot of ${showRough(d, shown, 3)}, tip ${showRough(tip, shown, 2)}, ${showRough(reach, shown, 0)} long${guide ? ', in the guide' : ''}`}>
      {guide && [-1, 1].map((s) => <rect key={s} class="dim-body" x={x(gauge)} width={Math.min(guide.length * k, w - x(gauge))} y={s < 0 ? y(guide.bore, -1) - 12 : y(guide.bore, 1)} height={12} />)}
      <polygon class="pilot-body" points={`${x(0)},${y(d, -1)} ${x(cone)},${y(d, -1)} ${x(reach)},${y(tip, -1)} ${x(reach)},${y(tip, 1)} ${x(cone)},${y(d, 1)} ${x(0)},${y(d, 1)}`} />
      <line class="bar-limit" x1={x(gauge)} x2={x(gauge)} y1={y(d, -1) - 16} y2={y(d, 1) + 16} />
      <rect class="dim-body" x={0} y={mid - 16} width={8} height={32} />
    </svg>
  );
}

// From above: the least and the greatest distance of its posts; with a head, its two post holes and the posts in them, to
// their own scale.
export function FixturePicture(props: Of & { head?: { hole: number; apart: number } | undefined }) {
  const { item, units, shown, head } = props;
  const post = of(item, 'post_diameter', units) ?? 12;
  const [least = 200, most = 1000] = pair(item['post_span'], units);
  const k = (w - 40) / 1250, y = 30;
  const at = (span: number) => [w / 2 - (span * k) / 2, w / 2 + (span * k) / 2];
  const tilt = pair(item['tilt'], units, 'angle'), swing = pair(item['swing'], units, 'angle');
  const z = 1.9; // px a mm of a hole
  return (
    <svg class="shelf-picture" data-figure="fixture" viewBox={`0 0 ${w} ${h}`} width={w} height={h} role="img"
         aria-label={`Posts of ${showRough(post, shown, 1)} from ${roughNumber(least, shown, 0)} to ${showRough(most, shown, 0)} apart; tilts ${tilt.map((t) => t.toFixed(0)).join(' to ')}°${head ? `; the head's holes of ${showRough(head.hole, shown, 1)} are ${showRough(head.apart, shown, 0)} apart` : ''}`}>
      <rect class="dim-body" x={10} y={y - 8} width={w - 20} height={16} />
      {[least, most].flatMap((s) => at(s).map((x) => <circle key={`${s}/${x}`} class="map-bore" cx={x} cy={y} r={6} />))}
      {at(head?.apart ?? (least + most) / 2).map((x) => <circle key={x} class="map-post" cx={x} cy={y} r={5} />)}
      {head ? (
        <>
          <circle class="map-mouth" cx={46} cy={76} r={(head.hole / 2) * z} />
          <circle class={post <= head.hole ? 'map-post' : 'post-large'} cx={46} cy={76} r={(post / 2) * z} />
          <text x={76} y={82} font-size={16}>{post <= head.hole ? 'post in the hole' : 'post too thick'}</text>
        </>
      ) : <text x={14} y={82} font-size={16}>tilt {tilt.map((t) => t.toFixed(0)).join(' to ')}°{swing.some((s) => s !== 0) ? `, swing ±${Math.max(...swing).toFixed(0)}°` : ''}</text>}
    </svg>
  );
}

export function MachinePicture(props: Of) {
  const x = of(props.item, 'travel_x', props.units) ?? 1000, y = of(props.item, 'travel_y', props.units) ?? 300;
  const k = Math.min((w - 16) / 1600, (h - 34) / 500);
  return (
    <svg class="shelf-picture" data-figure="machine" viewBox={`0 0 ${w} ${h}`} width={w} height={h} role="img" aria-label={`Its table travels ${roughNumber(x, props.shown, 0)} by ${showRough(y, props.shown, 0)}`}>
      <rect class="dim-body" x={(w - x * k) / 2} y={6} width={x * k} height={y * k} />
      <text x={w / 2} y={h - 6} text-anchor="middle" font-size={16}>{roughNumber(x, props.shown, 0)} × {showRough(y, props.shown, 0)}</text>
    </svg>
  );
}
