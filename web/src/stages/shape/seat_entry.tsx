// The seat before cutting: stem height, recession, cleanup, chamber; valve after valve in head order.

import { useSignal, type Signal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { begunAt, draftOf } from '../../entry/draft';
import { record } from '../../entry/outbox';
import { asText, useRefused } from '../../entry/refused';
import { takenReason } from '../../entry/taken';
import { Field } from '../../parts/field';
import { Keypad } from '../../parts/keypad';
import { LiveReading } from '../../parts/live_reading';
import { entries, shown, state } from '../../state/open_job';
import { route } from '../../state/route';
import { SectionEntry } from './section_entry';
import { pointsOf, sectionSources, sectionText } from './section_points';
import { keptOf, question, typedValues, type Asked, type Sure } from '../typed_values';

const asked: Asked[] = [
  { key: 'stem_height', label: 'Stem height', quantity: 'length', range: 'reading.seat[].stem_height' },
  { key: 'recession', label: 'Recession', quantity: 'length', range: 'reading.seat[].recession' },
  { key: 'cleanup', label: 'Cleanup', quantity: 'length', range: 'reading.seat[].cleanup' },
  { key: 'chamber', label: 'Chamber', quantity: 'volume', range: 'reading.seat[].chamber' },
];
// Instead of a recession, and what the plan may ask for: how the old face lies.
const heights: Asked[] = [
  { key: 'below_deck', label: 'Below the deck', quantity: 'length', range: 'reading.seat[].below_deck' },
  { key: 'rest_z', label: 'Z of the cutter resting on it', quantity: 'length', range: 'reading.seat[].rest_z' },
  { key: 'face_outside', label: 'Old face, outside', quantity: 'length', range: 'reading.seat[].face_outside' },
  { key: 'face_width', label: 'Old face, width', quantity: 'length', range: 'reading.seat[].face_width' },
];
const every = [...asked, ...heights];
const lengths = [...every.filter((a) => a.quantity === 'length').map((a) => a.key), 'section'];

export function SeatEntry(props: { job: number; head: string }) {
  const valve = useSignal('');
  const sure = useSignal<Sure>({});
  const sentence = useSignal<string | null>(null);
  const more = useSignal(false); // the other heights are open
  const box = useRef<HTMLElement>(null);
  const ids = state.value?.valves?.map((v) => v.id) ?? state.value?.results.shape?.seats.map((s) => s.id) ?? [];
  const read = new Set(entries.value.entries.filter((e) => e.live && e.kind === 'seat' && e.head === props.head).map((e) => e.valve));
  const fieldsOf = (v: string) => every.map((a) => draftOf(props.job, props.head, 'seat', v, a.key));
  const draft = (of: string, v: string) => draftOf(props.job, props.head, 'seat', v, of);
  const at = valve.value || (begunAt(ids, (v) => [...fieldsOf(v), draft('section', v)]) ?? ids.find((v) => !read.has(v)) ?? ids[0] ?? '');
  const texts = fieldsOf(at);
  const [section, sources, radius, height] = ['section', 'section from', 'section radius', 'section height'].map((of) => draft(of, at)) as [Signal<string>, Signal<string>, Signal<string>, Signal<string>];
  useRefused('seat', props.head, (values, of, why) => {
    const fields = fieldsOf(of);
    if (fields.some((t) => t.peek() !== '')) return false;
    fields.forEach((t, i) => { t.value = asText(values[every[i]!.key]); });
    draft('section', of).value = sectionText(values['section']);
    [valve.value, sentence.value] = [of, why];
    return true;
  });
  // Led here from the machine: it is open and in view. Later than the room's own way to its top.
  const led = route.value.page === 'job' && route.value.view === 'readings';
  useEffect(() => {
    const form = box.current?.closest('details');
    if (!led || !form) return undefined;
    form.open = true;
    const after = setTimeout(() => { form.scrollIntoView(); focus(0); });
    return () => clearTimeout(after);
  }, [led]);
  const focus = (i: number) => box.current?.querySelectorAll<HTMLInputElement>('.field input')[i]?.focus();
  const store = () => {
    const values = typedValues(every, texts, shown.value, sure.value);
    if (typeof values === 'number') {
      if (values >= asked.length) more.value = true;
      return focus(values);
    }
    if (radius.value.trim() !== '' || height.value.trim() !== '') {
      sentence.value = 'A point of the section is half read: add it, or empty its two fields.';
      return;
    }
    const points = pointsOf(section.value, shown.value);
    if (typeof points === 'string') {
      sentence.value = points;
      return;
    }
    if (points.length > 0) values['section'] = points;
    if (Object.keys(values).length === 0) {
      sentence.value = 'Type at least one of them.';
      return;
    }
    sentence.value = null;
    // What was read of this seat before stays, but for what is read anew.
    const before = entries.value.entries.find((e) => e.live && e.kind === 'seat' && e.head === props.head && e.valve === at);
    const reading = before ? { values: { ...keptOf(before, shown.value, lengths), ...values }, corrects: before.id } : { values };
    void record(props.job, { kind: 'seat', head: props.head, valve: at, units: shown.value, ...reading, ...takenReason(texts, sectionSources(section.value, sources.value)) }, `seat ${at}`).then(() => {
      for (const t of [...texts, section, sources]) t.value = '';
      valve.value = ids[ids.indexOf(at) + 1] ?? '';
      focus(0);
    });
  };
  return (
    <details class="fold no-print">
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
            <Field key={a.key} label={a.label} text={texts[i] ?? texts[0]!} quantity={a.quantity} unit={shown.value} optional check={(v) => question(a, texts[i]?.value ?? '', v, shown.value, sure.value)}
                   yes={(text) => { sure.value = { ...sure.value, [a.key]: text }; }}
                   onEnter={() => (i < asked.length - 1 ? focus(i + 1) : store())} />
          ))}
        </div>
        <LiveReading entry="seat" unit={shown.value} fields={live(asked, texts)} onTaken={([key]) => focus(every.findIndex((a) => a.key === (key === 'z' ? 'rest_z' : key)))} />
        <Keypad enter="Next" />
        <details open={more.value} onToggle={(e) => { more.value = e.currentTarget.open; }}>
          <summary>Other heights, and the old face</summary>
          <div class="pair">
            {heights.map((a, i) => {
              const text = texts[asked.length + i] ?? texts[0]!;
              return (
                <Field key={a.key} label={a.label} text={text} quantity={a.quantity} unit={shown.value} optional check={(v) => question(a, text.value, v, shown.value, sure.value)}
                       yes={(t) => { sure.value = { ...sure.value, [a.key]: t }; }} onEnter={() => (i < heights.length - 1 ? focus(asked.length + i + 1) : store())} />
              );
            })}
          </div>
          <LiveReading entry="seat-height" unit={shown.value} fields={live(heights, texts.slice(asked.length))} onTaken={([key]) => focus(every.findIndex((a) => a.key === (key === 'z' ? 'rest_z' : key)))} />
          <p>Below the deck: the middle of the valve’s head face. Z of the resting cutter: from Z0 on the old seat that the plan names.</p>
        </details>
        <details>
          <summary>Worn section, point by point</summary>
          <SectionEntry section={section} sources={sources} radius={radius} height={height} />
        </details>
        {sentence.value && <p class="sentence" role="alert">{sentence.value}</p>}
        <div class="acts"><button type="button" class="main-act" onClick={store}>Store the seat</button></div>
      </section>
    </details>
  );
}

// The readout's Z is the one the resting cutter has.
const live = (of: Asked[], texts: Signal<string>[]) => of.map((a, i) => ({ key: a.key === 'rest_z' ? 'z' : a.key, label: a.label, text: texts[i] ?? texts[0]!, quantity: a.quantity }));
