// The seat before cutting: stem height, recession, cleanup, chamber; valve after valve in head order.

import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import { record } from '../../entry/outbox';
import { parseQuantity } from '../../numbers/parse';
import type { Quantity } from '../../numbers/quantity';
import { written } from '../../numbers/written';
import { Field } from '../../parts/field';
import { Keypad } from '../../parts/keypad';
import { entries, shown, state } from '../../state/open_job';

const asked: { key: string; label: string; quantity: Quantity }[] = [
  { key: 'stem_height', label: 'Stem height', quantity: 'length' },
  { key: 'recession', label: 'Recession', quantity: 'length' },
  { key: 'cleanup', label: 'Cleanup', quantity: 'length' },
  { key: 'chamber', label: 'Chamber', quantity: 'volume' },
];

export function SeatEntry(props: { job: number; head: string }) {
  const valve = useSignal('');
  const texts = [useSignal(''), useSignal(''), useSignal(''), useSignal('')];
  const sentence = useSignal<string | null>(null);
  const box = useRef<HTMLElement>(null);
  const ids = state.value?.valves?.map((v) => v.id) ?? state.value?.results.shape?.seats.map((s) => s.id) ?? [];
  const read = new Set(entries.value.entries.filter((e) => e.live && e.kind === 'seat' && e.head === props.head).map((e) => e.valve));
  const at = valve.value || (ids.find((v) => !read.has(v)) ?? ids[0] ?? '');
  const focus = (i: number) => box.current?.querySelectorAll<HTMLInputElement>('.field input')[i]?.focus();
  const store = () => {
    const values: Record<string, string> = {};
    for (const [i, a] of asked.entries()) {
      const text = texts[i]?.value.trim() ?? '';
      if (text === '') continue;
      const got = parseQuantity(text, a.quantity, shown.value);
      if (!got.ok) return focus(i);
      values[a.key] = written(got, a.quantity);
    }
    if (Object.keys(values).length === 0) {
      sentence.value = 'Type at least one of them.';
      return;
    }
    sentence.value = null;
    void record(props.job, { kind: 'seat', head: props.head, valve: at, values, units: shown.value }, `seat ${at}`).then(() => {
      for (const t of texts) t.value = '';
      valve.value = ids[ids.indexOf(at) + 1] ?? '';
      focus(0);
    });
  };
  return (
    <details class="no-print">
      <summary>Enter a seat before cutting</summary>
      <section class="entry" aria-label="Seat before cutting" ref={box}>
        <div class="acts">
          <label for="seat-valve">Seat</label>
          <select id="seat-valve" value={at} onChange={(e) => { valve.value = e.currentTarget.value; }}>
            {ids.map((v) => <option key={v} value={v}>{v}{read.has(v) ? ', read' : ''}</option>)}
          </select>
        </div>
        <div class="pair">
          {asked.map((a, i) => (
            <Field key={a.key} label={a.label} text={texts[i] ?? texts[0]!} quantity={a.quantity} unit={shown.value} optional
                   onEnter={() => (i < asked.length - 1 ? focus(i + 1) : store())} />
          ))}
        </div>
        {sentence.value && <p class="sentence" role="alert">{sentence.value}</p>}
        <Keypad enter="Next" />
        <div class="acts"><button type="button" class="main-act" onClick={store}>Store the seat</button></div>
      </section>
    </details>
  );
}
