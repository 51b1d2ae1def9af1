// Level readings on the guides as they stand, and the correction as a turn with its direction and amount.

import { useSignal, type Signal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import type { Setup } from '../../api/types';
import { begunAt, draftOf } from '../../entry/draft';
import { record } from '../../entry/outbox';
import { asText, useRefused } from '../../entry/refused';
import { takenReason } from '../../entry/taken';
import { parseQuantity } from '../../numbers/parse';
import { written } from '../../numbers/written';
import { EntryList } from '../../parts/entry_list';
import { Field } from '../../parts/field';
import { Keypad } from '../../parts/keypad';
import { LiveReading } from '../../parts/live_reading';
import { mayRecord } from '../../state/may';
import { entries, headHere, shown } from '../../state/open_job';
import { Correction } from './correction';

export function LevelEntry(props: { setup: Setup | undefined; id: number }) {
  const valve = useSignal('');
  const across = useSignal<'incline' | 'cant'>('incline');
  const sentence = useSignal<string | null>(null);
  const box = useRef<HTMLElement>(null);
  const here = headHere.value;
  const ids = props.setup?.valves.map((v) => v.id) ?? [];
  const fieldsOf = (v: string) => [draftOf(props.id, here, 'level', across.value, v, 'first'), draftOf(props.id, here, 'level', across.value, v, 'second')];
  const at = ids.includes(valve.value) ? valve.value : begunAt(ids, fieldsOf) ?? ids[0] ?? '';
  const [first, second] = fieldsOf(at) as [Signal<string>, Signal<string>];
  useRefused('level', here, (values, of, why) => {
    across.value = values['across'] === 'cant' ? 'cant' : 'incline';
    const [one, two] = fieldsOf(of) as [Signal<string>, Signal<string>];
    if (one.peek() !== '') return false;
    [one.value, two.value, valve.value, sentence.value] = [asText(values['first']), asText(values['second']), of, why];
    return true;
  });
  if (!props.setup) return null;
  const store = () => {
    const read = [first, second].map((t) => (t.value.trim() === '' ? null : parseQuantity(t.value, 'angle', shown.value)));
    const wrong = read.findIndex((r, i) => (i === 0 && r === null) || r?.ok === false);
    sentence.value = read[0] === null ? 'Type the reading first.' : null;
    if (wrong >= 0) return box.current?.querySelectorAll<HTMLInputElement>('.field-box input')[wrong]?.focus();
    const [one, two] = read.map((r) => (r?.ok ? written(r, 'angle') : undefined));
    const before = entries.value.entries.find((e) => e.live && e.kind === 'level' && e.head === headHere.value && e.valve === at
      && (e.values['across'] ?? 'incline') === across.value);
    void record(props.id, {
      kind: 'level', head: headHere.value, valve: at, units: shown.value, ...(before ? { corrects: before.id } : {}),
      values: { across: across.value, first: one, ...(two === undefined ? {} : { second: two }) }, ...takenReason([first, second]),
    }, `level ${at}`).then(() => {
      first.value = '';
      second.value = '';
      valve.value = ids[(ids.indexOf(at) + 1) % ids.length] ?? at;
    });
  };
  return (
    <>
      <Correction id={props.id} />
      {mayRecord() && (
        <details class="fold no-print">
          <summary>Enter a level reading</summary>
          <section class="entry" aria-label="Level reading" ref={box}>
            <div class="pair">
              <div class="field">
                <label for="level-valve">Guide</label>
                <select id="level-valve" value={at} onChange={(e) => { valve.value = e.currentTarget.value; }}>
                  {ids.map((v) => <option key={v}>{v}</option>)}
                </select>
              </div>
              <div class="field">
                <label for="level-across">Read</label>
                <select id="level-across" value={across.value} onChange={(e) => { across.value = e.currentTarget.value as 'incline'; }}>
                  <option value="incline">to the back</option>
                  <option value="cant">along the head</option>
                </select>
              </div>
              <Field label="Reading" text={first} quantity="angle" unit={shown.value} awaits />
              <Field label="Level turned round" text={second} quantity="angle" unit={shown.value} optional onEnter={store}
                     note="read in its own sign; leave open if not turned" />
            </div>
            <LiveReading entry="level" unit={shown.value} fields={[{ key: 'first', label: 'reading', text: first, quantity: 'angle' }, { key: 'second', label: 'turned round', text: second, quantity: 'angle' }]} />
            {sentence.value && <p class="sentence" role="alert">{sentence.value}</p>}
            <Keypad enter="Next" quantity="angle" />
            <div class="acts"><button type="button" data-ends onClick={store}>Store the reading</button></div>
          </section>
        </details>
      )}
      <EntryList kinds={['level']} head={headHere.value} title="Level readings" />
    </>
  );
}
