// A seat has chattered: its marks are counted, and the speeds at which the same spindle is calm follow.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { parseQuantity } from '../../numbers/parse';
import { Field } from '../../parts/field';
import { shown } from '../../state/open_job';
import { fetchShelf, known } from '../../state/shelf';

export function Marks() {
  const texts = { marks: useSignal(''), rpm: useSignal(''), blades: useSignal('1') };
  useEffect(() => void fetchShelf(), []);
  const read = (text: string) => {
    const got = parseQuantity(text, 'plain', shown.value);
    return got.ok && got.value > 0 ? got.value : null;
  };
  const [marks, rpm, blades] = [read(texts.marks.value), read(texts.rpm.value), read(texts.blades.value)];
  const limit = (key: string, otherwise: number) => {
    const value = known(`machine.${key}`);
    return typeof value === 'number' ? value : otherwise;
  };
  const calm = marks !== null && rpm !== null && blades !== null
    ? calmSpeeds(marks, rpm, blades, limit('rpm_min', 1), limit('rpm_max', 10_000)) : null;
  const positive = (v: number) => (v > 0 ? null : 'This must be more than zero.');
  return (
    <details class="fold">
      <summary>A seat has chattered</summary>
      <section class="entry" aria-label="Chatter marks">
        <div class="pair">
          <Field label="Marks round the seat" text={texts.marks} quantity="plain" unit={shown.value} check={positive} />
          <Field label="Cut at, turns a minute" text={texts.rpm} quantity="plain" unit={shown.value} check={positive} />
          <Field label="Blades of the cutter" text={texts.blades} quantity="plain" unit={shown.value} check={positive} />
        </div>
        {calm && (
          <p role="status">
            It chattered at {calm.hz.toFixed(0)} Hz (marks × turns a minute / 60).{' '}
            {calm.rpm.length > 0 ? <>Calm at <b>{calm.rpm.map((n) => n.toFixed(0)).join(', ')}</b> turns a minute (60 × Hz / (blades × 1, 2, …)), within this machine’s range.</>
              : 'This machine has no calm speed in its range. Cut a narrower form, or hold the head stiffer.'}
          </p>
        )}
      </section>
    </details>
  );
}

// Marks counted on a chattered seat, and the calm speeds. M marks round the seat at n turns a minute are a frequency
// f = M·n/60 in Hz; with z blades the cut is calm at 60·f/(z·k) turns a minute, k = 1, 2, …: each blade then meets the
// wave the last one left at the same place. Speeds outside slowest..fastest (turns a minute) are left out.
const most = 8; // speeds said

interface Calm { hz: number; rpm: number[] }

export function calmSpeeds(marks: number, rpm: number, blades: number, slowest: number, fastest: number): Calm {
  const hz = (marks * rpm) / 60;
  const all: number[] = [];
  for (let k = 1; all.length < most; ++k) {
    const n = (60 * hz) / (blades * k);
    if (n < slowest || n < 1) break;
    if (n <= fastest) all.push(n);
  }
  return { hz, rpm: all };
}
