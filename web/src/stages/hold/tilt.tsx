// Turning the head by hand: on the drawing about its middle, or with the handle below it.

import { useId } from 'preact/hooks';
import { showAngle } from '../../numbers/show';

const reach = 12; // deg to either side of the plan: further is another setup, not a correction
const finest = 0.05; // deg

// Follows the pointer round the middle of the drawing until it is let go.
export function turnByHand(down: PointerEvent, svg: SVGSVGElement, from: number, turn: (to: number) => void): void {
  const box = svg.getBoundingClientRect();
  const bearing = (e: PointerEvent) =>
    Math.atan2(e.clientY - (box.top + box.height / 2), e.clientX - (box.left + box.width / 2)) * (180 / Math.PI);
  const start = bearing(down);
  const move = (e: PointerEvent) => {
    let by = start - bearing(e); // anticlockwise on the screen raises the back edge
    if (by > 180) by -= 360;
    if (by < -180) by += 360;
    turn(Math.round((from + by) / finest) * finest);
  };
  const up = () => {
    removeEventListener('pointermove', move);
    removeEventListener('pointerup', up);
    removeEventListener('pointercancel', up);
  };
  addEventListener('pointermove', move);
  addEventListener('pointerup', up);
  addEventListener('pointercancel', up);
  down.preventDefault();
}

interface HandleProps { planned: number; tilt: number | null; turn: (to: number | null) => void; fault: string | null }

export function TiltHandle(props: HandleProps) {
  const id = useId();
  const { planned, tilt, turn } = props;
  const now = tilt ?? planned;
  return (
    <div class="no-print">
      <div class="slider">
        <label for={id}>Drag the tilt</label>
        <input id={id} type="range" min={planned - reach} max={planned + reach} step={finest} value={now}
               onInput={(e) => turn(Number(e.currentTarget.value))} />
        <output for={id}>{showAngle(now)}</output>
      </div>
      {tilt !== null && (
        <div class="acts">
          <button type="button" onClick={() => turn(null)}>Back to the planned {showAngle(planned)}</button>
          <span class="quiet">This is only a look. Nothing is changed.</span>
        </div>
      )}
      {props.fault && <p class="sentence" role="alert">{props.fault}</p>}
    </div>
  );
}
