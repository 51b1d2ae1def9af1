// Level readings on the guides as they stand, and the correction as a turn with its direction and amount.

import { useSignal } from '@preact/signals';
import type { Setup } from '../../api/types';
import { record } from '../../entry/outbox';
import { EntryList } from '../../parts/entry_list';
import { Field } from '../../parts/field';
import { Keypad } from '../../parts/keypad';
import { mayRecord } from '../../state/may';
import { entries, headHere, shown } from '../../state/open_job';
import { Correction } from './correction';

export function LevelEntry(props: { setup: Setup | undefined; id: number }) {
  const valve = useSignal('');
  const across = useSignal<'incline' | 'cant'>('incline');
  const first = useSignal('');
  const second = useSignal('');
  if (!props.setup) return null;
  const ids = props.setup.valves.map((v) => v.id);
  const at = ids.includes(valve.value) ? valve.value : ids[0] ?? '';
  const store = () => {
    if (first.value.trim() === '') return;
    const said = (text: string) => `${text.replace(',', '.').replace(/\s*(°|deg)?$/, '')} deg`;
    const before = entries.value.entries.find((e) => e.live && e.kind === 'level' && e.head === headHere.value && e.valve === at
      && (e.values['across'] ?? 'incline') === across.value);
    void record(props.id, {
      kind: 'level', head: headHere.value, valve: at, units: shown.value, ...(before ? { corrects: before.id } : {}),
      values: { across: across.value, first: said(first.value), ...(second.value.trim() ? { second: said(second.value) } : {}) },
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
        <details class="no-print">
          <summary>Enter a level reading</summary>
          <section class="entry" aria-label="Level reading">
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
              <Field label="Reading" text={first} quantity="angle" unit={shown.value} />
              <Field label="Level turned round" text={second} quantity="angle" unit={shown.value} optional onEnter={store}
                     note="read in its own sign; leave open if not turned" />
            </div>
            <Keypad enter="Next" />
            <div class="acts"><button type="button" class="main-act" onClick={store}>Store the reading</button></div>
          </section>
        </details>
      )}
      <EntryList kinds={['level']} title="Level readings" />
    </>
  );
}
