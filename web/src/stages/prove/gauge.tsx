// The gauge in hand: its name, standard uncertainty, least step and last calibration, kept on this screen and sent with
// every seat measured. Without its uncertainty a verdict near a limit means little.

import { effect, signal } from '@preact/signals';
import { parseQuantity } from '../../numbers/parse';
import { written } from '../../numbers/written';
import { Field } from '../../parts/field';
import { shown } from '../../state/open_job';

function kept(name: string) {
  const value = signal(localStorage.getItem(`seatwright.gauge.${name}`) ?? '');
  effect(() => localStorage.setItem(`seatwright.gauge.${name}`, value.value));
  return value;
}

const gaugeName = kept('name');
const uncertainty = kept('uncertainty'); // as typed, with its unit once settled
const leastStep = kept('step'); // where the uncertainty leaves it out
const calibrated = kept('calibrated');

// The keys of a proof reading that say with what and when.
export function gaugeValues(): Record<string, string> {
  const values: Record<string, string> = { date: new Date().toISOString().slice(0, 10) };
  for (const [key, text] of [['gauge_u', uncertainty], ['resolution', leastStep]] as const) {
    const got = parseQuantity(text.value, 'length', shown.value);
    if (got.ok) values[key] = written(got, 'length');
  }
  if (gaugeName.value.trim() !== '') values['gauge'] = gaugeName.value.trim();
  if (calibrated.value.trim() !== '') values['calibrated'] = calibrated.value.trim();
  return values;
}

export function Gauge() {
  const said = gaugeName.value.trim() === '' ? 'The gauge in hand' : `Gauge: ${gaugeName.value}`;
  return (
    <details>
      <summary>{said}</summary>
      <div class="pair-gauge">
        <div>
          <label for="gauge-name">Name</label>
          <input id="gauge-name" value={gaugeName.value} autocomplete="off" onInput={(e) => { gaugeName.value = e.currentTarget.value; }} />
        </div>
        <Field label="Standard uncertainty" text={uncertainty} quantity="length" unit={shown.value} optional
               onLeave={(typed) => { if (typed) uncertainty.value = written(typed, 'length'); }} />
        <Field label="Least step it shows" text={leastStep} quantity="length" unit={shown.value} optional note="only where the uncertainty leaves it out"
               onLeave={(typed) => { if (typed) leastStep.value = written(typed, 'length'); }} />
        <div>
          <label for="gauge-date">Last calibrated</label>
          <input id="gauge-date" type="date" value={calibrated.value} onInput={(e) => { calibrated.value = e.currentTarget.value; }} />
        </div>
      </div>
    </details>
  );
}
