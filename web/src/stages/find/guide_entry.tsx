// Guide bores at top, middle, bottom, guide after guide in head order.

import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import { record } from '../../entry/outbox';
import { parseQuantity } from '../../numbers/parse';
import { written } from '../../numbers/written';
import { Field } from '../../parts/field';
import { Keypad } from '../../parts/keypad';
import { entries, shown, state } from '../../state/open_job';

const places = ['top', 'middle', 'bottom'] as const;

export function GuideEntry(props: { job: number; head: string }) {
  const valve = useSignal('');
  const texts = { top: useSignal(''), middle: useSignal(''), bottom: useSignal('') };
  const box = useRef<HTMLElement>(null);
  const ids = state.value?.valves?.map((v) => v.id) ?? state.value?.results.hold?.setups.flatMap((s) => s.valves.map((v) => v.id)) ?? [];
  const read = new Set(entries.value.entries.filter((e) => e.live && e.kind === 'guide' && e.head === props.head).map((e) => e.valve));
  const at = valve.value || (ids.find((v) => !read.has(v)) ?? ids[0] ?? '');
  const focus = (i: number) => box.current?.querySelectorAll<HTMLInputElement>('.field input')[i]?.focus();
  const store = () => {
    const typed = places.map((p) => parseQuantity(texts[p].value, 'length', shown.value));
    const bad = typed.findIndex((t) => !t.ok);
    if (bad >= 0) return focus(bad);
    const values = Object.fromEntries(places.map((p, i) => {
      const t = typed[i];
      return [p, t?.ok ? written(t, 'length') : ''];
    }));
    const before = entries.value.entries.find((e) => e.live && e.kind === 'guide' && e.head === props.head && e.valve === at);
    const corrects = before ? { corrects: before.id } : {};
    void record(props.job, { kind: 'guide', head: props.head, valve: at, values, units: shown.value, ...corrects }, `guide ${at}`).then(() => {
      for (const p of places) texts[p].value = '';
      valve.value = ids[ids.indexOf(at) + 1] ?? '';
      focus(0);
    });
  };
  return (
    <details class="no-print">
      <summary>Enter guide bores</summary>
      <section class="entry" aria-label="Guide bore" ref={box}>
        <div class="acts">
          <label for="guide-valve">Guide</label>
          <select id="guide-valve" value={at} onChange={(e) => { valve.value = e.currentTarget.value; }}>
            {ids.map((v) => <option key={v} value={v}>{v}{read.has(v) ? ', read' : ''}</option>)}
          </select>
        </div>
        <div class="pair">
          {places.map((p, i) => (
            <Field key={p} label={`Bore, ${p}`} text={texts[p]} quantity="length" unit={shown.value}
                   onEnter={() => (i < 2 ? focus(i + 1) : store())} check={(v) => (v > 0 ? null : 'A bore is more than nothing.')} />
          ))}
        </div>
        <Keypad enter="Next" />
      </section>
    </details>
  );
}
