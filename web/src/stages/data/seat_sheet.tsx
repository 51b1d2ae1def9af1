// The valve and its seat in section, drawn to their figures: head, margin, face angle and stem of the valve, and each facet's
// angle and width, are fields beside what they dimension.

import type { Kind } from '../../api/types';
import { useWidth } from '../../parts/use_width';
import { job } from '../../state/open_job';
import { facetsOf } from '../shape/facet_list';
import { Dim, DimLine, figureAt } from './dim';

const line = 54; // px from one row of fields to the next

export function ValveSheet(props: { kind: Kind }) {
  const { box, width } = useWidth();
  const base = `valve.${props.kind}`;
  const head = figureAt(`${base}.head_diameter`) ?? 40, stem = figureAt(`${base}.stem_diameter`) ?? 8, margin = figureAt(`${base}.margin`) ?? 1.5;
  const face = figureAt(`${base}.face_angle`, 'angle') ?? figureAt(`seat.${props.kind}.angle`, 'angle') ?? 45;
  const scale = Math.min((width - 20) / head, 5) * 0.62;
  const mid = width / 2, top = 66, r = (head / 2) * scale, s = (stem / 2) * scale, m = Math.max(margin * scale, 4);
  const rise = 0.22 * r * Math.tan((face * Math.PI) / 180);
  const under = top + m + rise, neck = under + 0.5 * r, end = neck + 70;
  const half = (sign: number) => `L${mid + sign * r} ${top} L${mid + sign * r} ${top + m} L${mid + sign * 0.78 * r} ${under} Q${mid + sign * s} ${under + 0.12 * r} ${mid + sign * s} ${neck} L${mid + sign * s} ${end}`;
  return (
    <div class="dim-sheet" ref={box}>
      {width > 0 && (
        <>
          <svg data-figure="valve-fields" viewBox={`0 0 ${width} ${end + 66}`} width={width} height={end + 66} role="img" aria-label={`The ${props.kind} valve in section.`}>
            <path class="dim-body" d={`M${mid} ${top} ${half(1)} L${mid} ${end} Z M${mid} ${top} ${half(-1)} L${mid} ${end} Z`} />
            <DimLine x1={mid - r} y1={top - 12} x2={mid + r} y2={top - 12} />
            <DimLine x1={mid - s} y1={end + 10} x2={mid + s} y2={end + 10} />
            <path class="dim-witness" d={`M${mid - 0.9 * r} ${top + m + rise * 0.45} L${66} ${under + 26} M${mid + r} ${top + m / 2} L${width - 66} ${under + 26}`} />
          </svg>
          <Dim at={`${base}.head_diameter`} x={mid} y={top - 38} />
          <Dim at={`${base}.face_angle`} quantity="angle" x={66} y={under + 48} />
          <Dim at={`${base}.margin`} x={width - 66} y={under + 48} />
          <Dim at={`${base}.stem_diameter`} x={mid} y={end + 38} />
        </>
      )}
    </div>
  );
}

export function FacetSheet(props: { kind: Kind }) {
  const { box, width } = useWidth();
  const here = job.value;
  if (!here) return null;
  const facets = facetsOf(here, props.kind);
  // From the throat outward and up; the picture is as high as its rows of fields.
  const points = [{ r: 0, z: 0 }];
  for (const f of facets) {
    const a = ((f.angle ?? 45) * Math.PI) / 180, from = points.at(-1)!;
    points.push({ r: from.r + (f.width ?? 1) * Math.cos(a), z: from.z + (f.width ?? 1) * Math.sin(a) });
  }
  const height = line * (facets.length + 1) + 16, room = Math.max(width - 286, 50);
  const spanR = points.at(-1)!.r || 1, spanZ = points.at(-1)!.z || 1;
  const scale = Math.min((room - 24) / spanR, (height - 60) / spanZ);
  const at = (p: { r: number; z: number }) => ({ x: 12 + p.r * scale, y: height / 2 + (spanZ / 2 - p.z) * scale });
  const rowAt = (i: number) => 34 + line * (facets.length - 1 - i); // the top facet on top
  return (
    <div class="dim-sheet" ref={box}>
      {width > 0 && (
        <>
          <svg data-figure="facet-fields" viewBox={`0 0 ${width} ${height}`} width={width} height={height} role="img" aria-label={`The facets of the ${props.kind} seat.`}>
            {facets.map((f, i) => {
              const [a, b] = [at(points[i]!), at(points[i + 1]!)];
              return (
                <g key={f.name}>
                  <line class={f.name === 'face' ? 'facet-face' : 'facet-side'} x1={a.x} y1={a.y} x2={b.x} y2={b.y} />
                  <path class="dim-witness" d={`M${(a.x + b.x) / 2} ${(a.y + b.y) / 2} L${width - 272} ${rowAt(i)}`} />
                </g>
              );
            })}
            <text x={width - 140} y={height - line / 2 + 4} text-anchor="end" font-size={16}>inset of the contact</text>
          </svg>
          {facets.map((f, i) => <Dim key={f.angleKey} at={f.angleKey} quantity="angle" x={width - 202} y={rowAt(i)} label={`${f.words}, angle`} />)}
          {facets.map((f, i) => <Dim key={f.widthKey} at={f.widthKey} x={width - 68} y={rowAt(i)} label={`${f.words}, width`} />)}
          <Dim at={`seat.${props.kind}.inset`} x={width - 68} y={height - line / 2} />
        </>
      )}
    </div>
  );
}
