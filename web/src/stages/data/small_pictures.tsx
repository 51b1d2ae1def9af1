// How the guides lean and how the cylinders repeat, set on small pictures: the axis is turned by hand or its angle typed; the
// way neighbours and the other hand of a casting stand is chosen by its picture.

import { useSignal } from '@preact/signals';
import { valueAt } from '../../api/tree';
import { show } from '../../numbers/show';
import { mayChange } from '../../state/may';
import { job, shown } from '../../state/open_job';
import { Dim, figureAt, store } from './dim';
import { isPattern, type Placed } from './plan_sheet';

const step = 0.25, steepest = 79; // deg
const w = 172, h = 128, foot = { x: w / 2, y: 92 }; // px

export function Lean(props: { of: Placed; way: 'incline' | 'cant' }) {
  const { of, way } = props;
  const key = `${of.base}.${way}`;
  const tried = useSignal<number | null>(null);
  const angle = tried.value ?? figureAt(key, 'angle') ?? 0;
  const axis = way === 'incline' ? 'Y' : 'X';
  const turn = (a: number, r: number) => ({ x: foot.x + r * Math.sin((a * Math.PI) / 180), y: foot.y - r * Math.cos((a * Math.PI) / 180) });
  const [up, down] = [turn(angle, 78), turn(angle, -30)];
  const follow = (e: PointerEvent) => {
    const box = (e.currentTarget as SVGSVGElement).getBoundingClientRect();
    const a = (Math.atan2(e.clientX - box.left - foot.x, foot.y - (e.clientY - box.top)) * 180) / Math.PI;
    tried.value = Math.min(Math.max(Math.round(a / step) * step, -steepest), steepest);
  };
  const may = mayChange(key);
  const end = () => {
    if (tried.value !== null) store(key, `${tried.value} deg`, show(tried.value, 'angle', shown.value));
    tried.value = null;
  };
  return (
    <div class="small-picture">
      <svg data-figure={way} viewBox={`0 0 ${w} ${h}`} width={w} height={h} role="img" aria-label={`${way}: the guide leans ${show(angle, 'angle', shown.value)} towards +${axis}`} class={may ? 'ink-drag' : undefined}
           onPointerDown={may ? (e) => { e.currentTarget.setPointerCapture(e.pointerId); follow(e); } : undefined}
           onPointerMove={may ? (e) => { if (e.buttons !== 0) follow(e); } : undefined} onPointerUp={may ? end : undefined}>
        <line class="bar-zero" x1={8} x2={w - 8} y1={foot.y} y2={foot.y} />
        <line class="dim-witness" x1={foot.x} x2={foot.x} y1={8} y2={foot.y} stroke-dasharray="5 4" />
        <line class="facet-face" x1={down.x} y1={down.y} x2={up.x} y2={up.y} />
        <circle class="map-mark map-filled" cx={up.x} cy={up.y} r={6} />
        <text x={4} y={foot.y + 26} font-size={16}>−{axis}</text>
        <text x={w - 4} y={foot.y + 26} font-size={16} text-anchor="end">+{axis}</text>
      </svg>
      <span>{way === 'incline' ? 'Incline, seen along the head' : 'Cant, seen across the head'}</span>
      <span class="dim-own"><Dim at={key} quantity="angle" x={62} y={22} /></span>
    </div>
  );
}

interface Way { value: string; words: string; seconds: (v: Placed) => { x: number; y: number }; firsts?: (v: Placed) => { x: number; y: number } }
const same = (v: Placed) => ({ x: v.x, y: v.y });
const inX = (v: Placed) => ({ x: -v.x, y: v.y }), inY = (v: Placed) => ({ x: v.x, y: -v.y });

export function Repeats(props: { valves: Placed[] }) {
  if (!isPattern()) return null;
  const flip = valueAt(job.value?.tables, 'head.pattern.alternate') === 'mirrored';
  return (
    <>
      <Ways legend="Neighbouring cylinders" at="head.pattern.alternate" otherwise="same" valves={props.valves}
            ways={[{ value: 'same', words: 'alike', seconds: same }, { value: 'mirrored', words: 'mirrored', seconds: inX }]} />
      <Ways legend="The other hand of the casting" at="head.mirror" otherwise="none" valves={props.valves}
            ways={[{ value: 'none', words: 'as drawn', seconds: flip ? inX : same }, { value: 'x', words: 'mirrored along', firsts: inX, seconds: flip ? same : inX }, { value: 'y', words: 'mirrored across', firsts: inY, seconds: (v) => ({ x: flip ? -v.x : v.x, y: -v.y }) }]} />
    </>
  );
}

function Ways(props: { legend: string; at: string; otherwise: string; valves: Placed[]; ways: Way[] }) {
  const now = valueAt(job.value?.tables, props.at) ?? props.otherwise;
  const spacing = figureAt('head.pattern.bore_spacing') ?? 100;
  const k = 46 / spacing;
  const dot = (p: { x: number; y: number }, kind: string, cx: number, key: string) => <circle key={key} class={kind === 'intake' ? 'map-mark' : 'map-mark map-filled'} cx={cx + p.x * k * 1.3} cy={22 - p.y * k * 1.3} r={kind === 'intake' ? 6 : 4.5} />;
  return (
    <fieldset class="choice">
      <legend>{props.legend}</legend>
      {props.ways.map((way) => (
        <label key={way.value}>
          <input type="radio" name={props.at} checked={now === way.value} disabled={!mayChange(props.at)} onChange={() => store(props.at, way.value, way.words)} />
          <svg viewBox="0 0 104 44" width="80" height="34" aria-hidden="true">
            {props.valves.flatMap((v) => [dot((way.firsts ?? same)(v), v.kind, 28, `${v.base}a`), dot(way.seconds(v), v.kind, 76, `${v.base}b`)])}
          </svg>
          {way.words}
        </label>
      ))}
    </fieldset>
  );
}
