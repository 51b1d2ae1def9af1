// Guide bores at top, middle, bottom, guide after guide in head order.

import { useSignal, type Signal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import { begunAt, draftOf } from '../../entry/draft';
import { record } from '../../entry/outbox';
import { asText, useRefused } from '../../entry/refused';
import { takenReason } from '../../entry/taken';
import { Field } from '../../parts/field';
import { Keypad } from '../../parts/keypad';
import { LiveReading } from '../../parts/live_reading';
import { entries, shown, state } from '../../state/open_job';
import { question, typedValues, type Asked, type Sure } from '../typed_values';

const places = ['top', 'middle', 'bottom'] as const;
const asked: Asked[] = places.map((p) => ({ key: p, label: 'Bore', quantity: 'length', range: `reading.guide[].${p}` }));

export function GuideEntry(props: { job: number; head: string }) {
  const valve = useSignal('');
  const sentence = useSignal<string | null>(null);
  const sure = useSignal<Sure>({});
  const box = useRef<HTMLElement>(null);
  const ids = state.value?.valves?.map((v) => v.id) ?? state.value?.results.hold?.setups.flatMap((s) => s.valves.map((v) => v.id)) ?? [];
  const read = new Set(entries.value.entries.filter((e) => e.live && e.kind === 'guide' && e.head === props.head).map((e) => e.valve));
  const fieldsOf = (v: string) => places.map((p) => draftOf(props.job, props.head, 'guide', v, p));
  const at = valve.value || (begunAt(ids, fieldsOf) ?? ids.find((v) => !read.has(v)) ?? ids[0] ?? '');
  const [top, middle, bottom] = fieldsOf(at) as [Signal<string>, Signal<string>, Signal<string>];
  const texts = { top, middle, bottom };
  useRefused('guide', props.head, (values, of, why) => {
    const fields = fieldsOf(of);
    if (fields.some((t) => t.peek() !== '')) return false;
    fields.forEach((t, i) => { t.value = asText(values[places[i]!]); });
    [valve.value, sentence.value] = [of, why];
    return true;
  });
  const focus = (i: number) => box.current?.querySelectorAll<HTMLInputElement>('.field input')[i]?.focus();
  const store = () => {
    const values = typedValues(asked, places.map((p) => texts[p]), shown.value, sure.value);
    if (typeof values === 'number') return focus(values);
    const open = places.findIndex((p) => values[p] === undefined);
    if (open >= 0) return focus(open);
    const before = entries.value.entries.find((e) => e.live && e.kind === 'guide' && e.head === props.head && e.valve === at);
    const corrects = before ? { corrects: before.id } : {};
    sentence.value = null;
    void record(props.job, { kind: 'guide', head: props.head, valve: at, values, units: shown.value, ...corrects, ...takenReason(places.map((p) => texts[p])) }, `guide ${at}`).then(() => {
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
                   onEnter={() => (i < 2 ? focus(i + 1) : store())} check={(v) => (v > 0 ? question(asked[i]!, texts[p].value, v, shown.value, sure.value) : 'A bore must be more than zero.')}
                   yes={(text) => { sure.value = { ...sure.value, [p]: text }; }} />
          ))}
        </div>
        <LiveReading entry="guide" unit={shown.value} fields={places.map((p) => ({ key: p, label: p, text: texts[p], quantity: 'length' }))} onTaken={([key]) => focus(places.findIndex((p) => p === key))} />
        {sentence.value && <p class="sentence" role="alert">{sentence.value}</p>}
        <Keypad enter="Next" />
      </section>
    </details>
  );
}
