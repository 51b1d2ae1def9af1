// The head from above, its first two cylinders: spacing, bore, and the place of the valve chosen are fields on their dimension
// lines. A tap chooses a valve.

import { valueAt } from '../../api/tree';
import type { Kind, Tree } from '../../api/types';
import { useWidth } from '../../parts/use_width';
import { kinds } from '../../state/keys';
import { job } from '../../state/open_job';
import { Dim, DimLine, figureAt } from './dim';

export interface Placed { base: string; kind: Kind; x: number; y: number }

// The valves as the file has them: of the pattern, else one by one.
export function placedValves(): Placed[] {
  const tables = job.value?.tables;
  const pattern = valueAt(tables, 'head.pattern.valve'), single = valueAt(tables, 'head.valve');
  const [list, base] = Array.isArray(pattern) && pattern.length > 0 ? [pattern as Tree[], 'head.pattern.valve'] : [Array.isArray(single) ? (single as Tree[]) : [], 'head.valve'];
  return list.flatMap((v, i) => {
    const [x, y] = [figureAt(`${base}[${i}].x`), figureAt(`${base}[${i}].y`) ?? 0];
    return x === null ? [] : [{ base: `${base}[${i}]`, kind: kinds.find((k) => k === v['kind']) ?? 'intake', x, y }];
  });
}

export const isPattern = () => valueAt(job.value?.tables, 'head.pattern') !== undefined;
export const mirrored = () => valueAt(job.value?.tables, 'head.pattern.alternate') === 'mirrored';

const left = 140, right = 16, top = 56, foot = 140; // px for the fields round the drawing
const field = 62; // px, half a field's width

export function PlanSheet(props: { valves: Placed[]; chosen: Placed | undefined; choose: (base: string) => void }) {
  const { box, width } = useWidth();
  const { valves, chosen } = props;
  const spacing = figureAt('head.pattern.bore_spacing');
  const cylinders = figureAt('head.pattern.cylinders', 'plain') ?? 1;
  const two = isPattern() && spacing !== null && cylinders > 1;
  const radius = (kind: Kind) => (figureAt(`valve.${kind}.head_diameter`) ?? 30) / 2;
  const reach = Math.max(...valves.map((v) => Math.hypot(v.x, v.y) + radius(v.kind)), 10);
  const bore = (figureAt('head.bore_diameter') ?? 2 * Math.min(reach, spacing === null ? reach : 0.49 * spacing)) / 2;
  const [l, r] = isPattern() ? [-Math.max(bore, reach), (two ? spacing : 0) + Math.max(bore, reach)] : [Math.min(...valves.map((v) => v.x), 0) - 20, Math.max(...valves.map((v) => v.x), 0) + 20];
  const half = isPattern() ? Math.max(bore, reach) : Math.max(...valves.map((v) => Math.abs(v.y)), 10) + 25;
  const scale = Math.min((width - left - right) / (r - l), 300 / (2 * half));
  const at = (x: number, y: number) => ({ x: left + (width - left - right) / 2 + (x - (l + r) / 2) * scale, y: top + (half - y) * scale });
  const bottom = top + 2 * half * scale, height = bottom + (isPattern() ? foot : 20);
  const clamp = (x: number) => Math.min(Math.max(x, field + 4), width - field - 4);
  const c1 = at(0, 0), c2 = at(two ? spacing : 0, 0);
  const v = chosen && at(chosen.x, chosen.y);
  return (
    <div class="dim-sheet" ref={box}>
      {width > 0 && valves.length > 0 && (
        <>
          <svg data-figure="plan-fields" viewBox={`0 0 ${width} ${height}`} width={width} height={height} role="img" aria-label={`The head from above: ${valves.map((w, i) => `valve ${i + 1}, ${w.kind}`).join('; ')}.`}>
            <line class="map-bore" x1={at(l, 0).x} x2={at(r, 0).x} y1={c1.y} y2={c1.y} stroke-dasharray="12 4 2 4" />
            {isPattern() && [0, ...(two ? [spacing] : [])].map((dx, k) => (
              <g key={dx}>
                <circle class="map-bore" cx={at(dx, 0).x} cy={c1.y} r={bore * scale} />
                <line class="map-bore" x1={at(dx, 0).x} x2={at(dx, 0).x} y1={top} y2={bottom} stroke-dasharray="12 4 2 4" />
                {k > 0 && valves.map((w) => { const p = at(dx + (mirrored() ? -w.x : w.x), w.y); return <circle key={w.base} class="map-mouth map-second" cx={p.x} cy={p.y} r={radius(w.kind) * scale} />; })}
              </g>
            ))}
            {valves.map((w) => {
              const p = at(w.x, w.y);
              return (
                <g key={w.base} class={`map-guide ${w.base === chosen?.base ? 'map-next' : ''}`} data-guide={w.base} onClick={() => props.choose(w.base)}>
                  <circle class="map-take" cx={p.x} cy={p.y} r={Math.max(22, radius(w.kind) * scale)} />
                  <circle class="map-mouth" cx={p.x} cy={p.y} r={radius(w.kind) * scale} />
                  <text x={p.x} y={p.y + 6} font-size={16} text-anchor="middle">{w.kind === 'intake' ? 'I' : 'E'}</text>
                </g>
              );
            })}
            {v && (
              <>
                <DimLine x1={isPattern() ? c1.x : at(0, 0).x} y1={top - 10} x2={v.x} y2={top - 10} />
                <line class="dim-witness" x1={v.x} x2={v.x} y1={top - 16} y2={v.y} />
                <DimLine x1={left - 14} y1={c1.y} x2={left - 14} y2={v.y} />
                <line class="dim-witness" x1={left - 20} x2={v.x} y1={v.y} y2={v.y} />
              </>
            )}
            {isPattern() && <DimLine x1={c1.x - bore * scale} y1={bottom + 14} x2={c1.x + bore * scale} y2={bottom + 14} />}
            {two && <DimLine x1={c1.x} y1={bottom + 78} x2={c2.x} y2={bottom + 78} />}
            {isPattern() && <text x={8} y={bottom + 76} font-size={16}>cylinders</text>}
          </svg>
          {v && chosen && <Dim at={`${chosen.base}.x`} x={clamp((c1.x + v.x) / 2)} y={top - 34} />}
          {v && chosen && <Dim at={`${chosen.base}.y`} x={field + 4} y={(c1.y + v.y) / 2} />}
          {isPattern() && <Dim at="head.bore_diameter" x={clamp(c1.x)} y={bottom + 40} label="Bore diameter" />}
          {two && <Dim at="head.pattern.bore_spacing" x={clamp((c1.x + c2.x) / 2)} y={bottom + 104} />}
          {isPattern() && <Dim at="head.pattern.cylinders" quantity="plain" x={field + 4} y={bottom + 104} />}
        </>
      )}
    </div>
  );
}
