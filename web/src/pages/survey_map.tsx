// The head as far as it is known, seen on its deck: holes, guides with their ellipses, what is open dashed.

import { useEffect, useRef, useState } from 'preact/hooks';
import type { Survey, SurveyStep } from '../api/types';
import { spots, type Spot } from './survey_spots';
import { shown, waiting } from './survey_state';
import { showLength } from '../numbers/show';

const pad = 56; // px
const largest = 20; // px, of an ellipse
const steps125 = [1, 2, 5];

export function SurveyMap(props: { survey: Survey; next: SurveyStep | undefined }) {
  const { survey, next } = props;
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(0);
  useEffect(() => {
    if (!box.current) return undefined;
    const watch = new ResizeObserver(([e]) => setWidth(Math.round(e?.contentRect.width ?? 0)));
    watch.observe(box.current);
    return () => watch.disconnect();
  }, []);
  const all = spots(survey, waiting.value.map((w) => w.body), next);
  const known = all.filter((s) => s.ellipse);
  const times = magnified(known);
  return (
    <figure class="sheet-frame hero" data-drawing="survey">
      <div class="map-box survey-map" ref={box}>
        {width > 0 && <Sheet all={all} width={width} />}
      </div>
      <figcaption>
        <span>{all.length === 0 ? 'The head appears here as you read.' : `${known.length} of ${survey.guides.length} guides placed`}</span>
        {times > 0 && <span>ellipses (19 times in 20) drawn {times} times larger</span>}
      </figcaption>
      <ul class="unseen">{all.map((s) => <li key={s.name}>{s.name}: {said(s)}</li>)}</ul>
    </figure>
  );
}

const said = (s: Spot) =>
  `${s.kind}, X ${showLength(s.x, shown.value)}, Y ${showLength(s.y, shown.value)}${s.open ? ', as read, not placed yet' : ''}${s.aside ? ', a reading of it set aside' : ''}${s.next ? ', next to read' : ''}`;

// 1, 2, 5, 10, … so that the largest ellipse is well to be seen and none hides its neighbour. Taken as 1 px a mm.
function magnified(known: Spot[]): number {
  const most = Math.max(0, ...known.map((s) => s.ellipse?.long ?? 0));
  if (most === 0) return 0;
  const wished = largest / most;
  const power = 10 ** Math.floor(Math.log10(wished));
  return Math.max(1, power * (steps125.filter((n) => n * power <= wished).at(-1) ?? 1));
}

function Sheet(props: { all: Spot[]; width: number }) {
  const { all, width } = props;
  if (all.length === 0) return <svg width={width} height="120" role="img" aria-label="Nothing read yet" />;
  const xs = all.map((s) => s.x), ys = all.map((s) => s.y);
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const scale = Math.min((width - 2 * pad) / Math.max(right - left, 40), 320 / Math.max(high - low, 40));
  const height = (high - low) * scale + 2 * pad;
  const across = (width - (right - left) * scale) / 2;
  const px = (s: Spot): [number, number] => [across + (s.x - left) * scale, height - pad - (s.y - low) * scale];
  const times = magnified(all.filter((s) => s.ellipse));
  return (
    <svg width={width} height={height} role="img" aria-label="The head as far as it is known, seen on its deck">
      <rect x={across - 40} y={pad - 40} width={(right - left) * scale + 80} height={height - 2 * pad + 80} class="map-outline" />
      {all.map((s) => {
        const [x, y] = px(s);
        const words = [s.next ? 'map-next' : '', s.aside ? 'map-suspect' : '', s.open ? 'survey-open' : ''].join(' ');
        const r = s.kind === 'hole' ? 8 : s.kind === 'deck' ? 4 : 12;
        return (
          <g key={s.name} class={words} data-spot={s.name} data-open={s.open ? '' : undefined}>
            <circle cx={x} cy={y} r={r} class={s.kind === 'guide' ? 'map-mouth' : 'map-hole'} />
            {s.lean && <path d={`M${x} ${y} l${(s.lean[0] * 45).toFixed(1)} ${(-s.lean[1] * 45).toFixed(1)}`} class="map-mark" />}
            {s.ellipse && <ellipse cx={x} cy={y} rx={Math.max(1, s.ellipse.long * times)} ry={Math.max(1, s.ellipse.short * times)} transform={`rotate(${(-s.ellipse.turn).toFixed(1)} ${x} ${y})`} class="map-sure" />}
            {s.kind !== 'deck' && <text x={x} y={y + (s.y < (low + high) / 2 ? r + 18 : -r - 6)} font-size="16" text-anchor="middle" class="map-id">{s.name}</text>}
          </g>
        );
      })}
    </svg>
  );
}
