// The level as the eye knows it: a bubble between the marks of the plumb limit, and the way the guides' upper ends must go. The
// bubble rises to the higher side: away from where the upper ends lean.

import { readTree } from '../../api/tree';
import type { Level } from '../../api/types';
import { showAngle } from '../../numbers/show';
import { known } from '../../state/shelf';

const w = 300, h = 84, mid = w / 2, reach = 120, y = 56; // px
const usual = 0.05; // deg, where no fixture gives its limit

export function Bubbles(props: { level: Level }) {
  const { level } = props;
  return (
    <div class="small-pictures">
      <Bubble name="front to back" ends={['front', 'back']} lean={level.incline_deg} turn={level.correction_tilt_deg} />
      <Bubble name="along the head" ends={['−X', '+X']} lean={level.cant_deg} turn={level.correction_swing_deg} />
    </div>
  );
}

function Bubble(props: { name: string; ends: [string, string]; lean: number | null; turn: number | null }) {
  const { lean, turn, ends } = props;
  if (lean === null) return null;
  const limit = readTree(known('fixture.plumb_limit'), 'angle', 'mm') ?? usual;
  const most = Math.max(2.5 * limit, 1.3 * Math.abs(lean));
  const x = (deg: number) => mid + (deg / most) * reach;
  const beyond = Math.abs(lean) > limit;
  const sign = turn === null ? 0 : Math.sign(turn);
  const words = sign === 0 ? 'stands plumb' : `upper ends ${showAngle(Math.abs(turn ?? 0), 3)} to the ${sign > 0 ? ends[1] : ends[0]}`.replace('to the −', 'to −').replace('to the +', 'to +');
  return (
    <svg class="bubble" data-figure={`bubble-${props.name.replaceAll(' ', '-')}`} viewBox={`0 0 ${w} ${h}`} width={w} height={h} role="img" aria-label={`The level, ${props.name}: guides lean ${showAngle(lean, 3)}, ${beyond ? 'more than' : 'within'} the limit of ${showAngle(limit, 3)}; ${words}`}>
      {sign !== 0 && <path class="map-arrow" d={`M${mid - sign * 34} 30 L${mid + sign * 34} 30 m${-sign * 10} -6 l${sign * 10} 6 l${-sign * 10} 6`} />}
      <text x={mid} y={18} text-anchor="middle" font-size={16}>{words}</text>
      <rect class="dim-body" x={mid - reach - 12} y={y - 14} width={2 * reach + 24} height={28} rx={14} />
      <ellipse class={beyond ? 'bubble-off' : 'bubble-in'} cx={x(-lean)} cy={y} rx={15} ry={10} />
      {[-limit, limit].map((l) => <line key={l} class="bar-zero" x1={x(l)} x2={x(l)} y1={y - 14} y2={y + 14} />)}
      <line class="dim-witness" x1={mid} x2={mid} y1={y - 18} y2={y + 18} />
    </svg>
  );
}
