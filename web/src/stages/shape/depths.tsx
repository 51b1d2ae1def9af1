// A bar a valve: cleanup, planned depth, limit. The handle asks what another depth would do.

import { useSignal } from '@preact/signals';
import type { ShapedSeat } from '../../api/types';
import { show, showLength, showNumber } from '../../numbers/show';
import { shown } from '../../state/open_job';
import { Wide } from '../../parts/wide';

interface Props {
  seats: ShapedSeat[];
  look: (depths: Record<string, number>) => void;
  back: () => void;
  looking: boolean;
}

const reach = 1; // mm, of a bar whose limits are not known
const words = { cut: 'cut', insert: 'insert', 'not allowed': 'no cutting allowed' };

export function DepthTable(props: Props) {
  const unit = shown.value;
  const tried = useSignal<Record<string, number>>({});
  const most = Math.max(reach, ...props.seats.map((s) => Math.max(s.limit_mm ?? 0, s.depth_mm ?? 0, s.cleanup_mm ?? 0)));
  const attempt = (id: string, depth: number) => {
    tried.value = { ...tried.value, [id]: depth };
    props.look(tried.value);
  };
  const back = () => {
    tried.value = {};
    props.back();
  };
  return (
    <Wide name="Depth of each seat">
      <table class="depths">
        <caption>Depth of each seat, {unit}</caption>
        <thead>
          <tr>
            <th>Seat</th><th>cleanup</th><th>depth</th><th class="words no-print">try another</th><th>Z</th><th>stem height after</th>
            <th>valve sinks by</th><th>bridge left</th><th class="words">and so</th>
          </tr>
        </thead>
        <tbody>
          {props.seats.map((s) => (
            <tr key={s.id} class={s.decision === 'cut' ? undefined : 'attention'}>
              <th scope="row">{s.id}</th>
              <td>{showNumber(s.cleanup_mm, 'length', unit)}</td>
              <td data-depth={s.id}>{showNumber(s.depth_mm, 'length', unit)}</td>
              <td class="words no-print">
                <input type="range" aria-label={`Depth of ${s.id}`} min={0} max={most} step={0.01} value={tried.value[s.id] ?? s.depth_mm ?? 0}
                       aria-valuetext={show(tried.value[s.id] ?? s.depth_mm, 'length', unit)} onInput={(e) => attempt(s.id, Number(e.currentTarget.value))} />
              </td>
              <td>{showNumber(s.z_mm, 'length', unit)}</td>
              <td>{showNumber(s.stem_height_after_mm, 'length', unit)}</td>
              <td>{showNumber(s.recession_added_mm, 'length', unit)}</td>
              <td>{s.bridge_mm === null ? '–' : `${showLength(s.bridge_mm, unit)}${s.bridge_to ? ` to ${s.bridge_to}` : ''}`}</td>
              <td class="words">{[words[s.decision], s.tip_grind_mm ? `grind the tip ${showLength(s.tip_grind_mm, unit)}` : '',
                s.spring_shim_mm ? `shim the spring ${showLength(s.spring_shim_mm, unit)}` : ''].filter((w) => w !== '').join(', ')}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {props.looking && Object.keys(tried.value).length > 0 && (
        <p class="acts"><button type="button" onClick={back}>Back to the planned depths</button><span class="quiet">Only looked at; nothing is changed.</span></p>
      )}
    </Wide>
  );
}
