// A line a valve: cleanup, planned depth, what its limits leave. The handle, as the bar on the drawing, asks what
// another depth would do to all that follows.

import type { ShapedSeat } from '../../api/types';
import { inWords, show, showNumber } from '../../numbers/show';
import { Table } from '../../parts/table';
import { shown } from '../../state/open_job';

interface Props {
  seats: ShapedSeat[];
  tried: Record<string, number>; // depths looked at, mm
  attempt: (id: string, depth: number) => void;
}

const reach = 1; // mm, of a handle whose limits are not known
const words = {
  cut: 'cut', insert: 'fit an insert', 'not allowed': 'no cutting allowed', 'not measured': 'not measured',
  'below finish': 'already below the finished height',
};

export function DepthTable(props: Props) {
  const unit = shown.value;
  const { tried, attempt } = props;
  const length = (n: number | null | undefined) => showNumber(n, 'length', unit);
  const most = Math.max(reach, ...props.seats.map((s) => Math.max(s.depth_high_mm ?? 0, s.depth_mm ?? 0, s.cleanup_mm ?? 0)));
  const handle = (s: ShapedSeat) => (
    <input type="range" aria-label={`Depth of ${s.id}`} min={0} max={most} step={0.01} value={tried[s.id] ?? s.depth_mm ?? 0}
           aria-valuetext={show(tried[s.id] ?? s.depth_mm, 'length', unit)} onInput={(e) => attempt(s.id, Number(e.currentTarget.value))} />
  );
  return (
    <div class="depths">
      <Table
        caption={`Depth of each seat, ${inWords(unit)}`}
        head={['Seat', 'cleanup', 'depth', 'try another', 'at most', 'limited by', 'Z', 'and so']} words={[3, 5, 7]}
        rows={props.seats.map((s) => ({
          key: s.id, attention: s.decision !== 'cut' || beyond(s),
          cells: [s.id, length(s.cleanup_mm), <b data-depth={s.id}>{length(s.depth_mm)}</b>, handle(s), length(s.depth_high_mm), s.limited_by ?? '–',
            length(s.z_mm), `${words[s.decision]}${beyond(s) ? ', beyond its limit' : ''}`],
        }))}
      />
    </div>
  );
}

const half = 0.0005; // mm: half the last digit shown
const beyond = (s: ShapedSeat) => s.depth_mm !== null && s.depth_high_mm != null && s.depth_mm > s.depth_high_mm + half;
