// Can it fall? The numbers, and what to do before hands go under it.

import type { Setup } from '../../api/types';
import { show, showAngle, trueMinus } from '../../numbers/show';
import { Row, Rows } from '../../parts/numbers';
import { shown, state } from '../../state/open_job';

const leastSlipFactor = 2; // below this the plan warns
const mayFall = ['slip', 'slides-when-released', 'lift'];
const oneLiftKg = 23; // common limit for one person; local rules decide

// The band under the drawing: what to heed before hands go under it, in one line.
export function SafetyBand(props: { setup: Setup }) {
  const { safety } = props.setup;
  const words = [
    safety.mass_kg === null ? 'Mass not given' : `${show(safety.mass_kg, 'mass', shown.value)}${safety.mass_kg > oneLiftKg ? ': two people or a hoist' : ''}`,
    `the deck slopes ${showAngle(safety.slope_deg, 0)}`,
    safety.slides_when_released === null ? 'treat it as if it slides when the clamps open' : safety.slides_when_released ? 'it slides when the clamps open' : 'it stays when the clamps open',
    ...(safety.uphill ? [`load from the ${safety.uphill}`] : []),
  ];
  return <p class="safety-band" role="note">{words.join('; ')}. Hands clear of the cradle while it turns.</p>;
}

export function SafetyBox(props: { setup: Setup; id: number }) {
  const { safety } = props.setup;
  const why = (key: string) => ({ job: props.id, stage: 'hold' as const, key });
  const heavy = safety.mass_kg !== null && safety.mass_kg > oneLiftKg;
  const weak = safety.slip_factor !== null && safety.slip_factor < leastSlipFactor;
  const sentences = state.value?.warnings.filter((w) => w.stage === 'hold' && mayFall.includes(w.code)) ?? [];
  return (
    <section class="differ safety" aria-label="Safety">
      <h3>Before it is lifted or let go</h3>
      <Rows>
        <Row label="Mass" attention={heavy}>{show(safety.mass_kg, 'mass', shown.value)}</Row>
        <Row label="Deck slopes" why={why('slope_deg')}>{showAngle(safety.slope_deg)}</Row>
        <Row label="Clamps hold, times over" attention={weak} why={why('slip_factor')}>
          {safety.slip_factor === null ? '–' : safety.slip_factor.toFixed(1)}
        </Row>
        <Row label="When the clamps open it" attention={safety.slides_when_released !== false} why={why('slides_when_released')}>
          {safety.slides_when_released === null ? 'not known: friction is not given' : safety.slides_when_released ? 'slides' : 'stays'}
        </Row>
      </Rows>
      <ul>
        {heavy && <li>Two people or a hoist.</li>}
        {safety.slides_when_released && safety.stopped && <li>The posts stop the slide, as it is loaded from the {safety.uphill ?? 'uphill side'}; hands stay off the downhill side.</li>}
        {safety.slides_when_released && sentences.length === 0 && <li>Tilt it back level before the clamps are opened.</li>}
        {sentences.map((w) => <li key={w.code + w.text}>{trueMinus(w.text)}</li>)}
        <li>Keep hands clear of the cradle while it turns, and lock it before letting go. Stop the spindle first. Brush chips off, do not blow them.</li>
      </ul>
    </section>
  );
}
