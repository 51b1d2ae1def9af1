// Level readings on the guides as they stand, and the correction as a turn with its direction and amount.

import { useSignal } from '@preact/signals';
import type { Setup } from '../../api/types';
import { record } from '../../entry/outbox';
import { showAngle, showLength } from '../../numbers/show';
import { EntryList } from '../../parts/entry_list';
import { Field } from '../../parts/field';
import { Keypad } from '../../parts/keypad';
import { Row, Rows } from '../../parts/numbers';
import { mayRecord } from '../../state/may';
import { headHere, shown, state } from '../../state/open_job';

const notWorth = 0.005; // deg: finer than a shop's level reads

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
    void record(props.id, {
      kind: 'level', head: headHere.value, valve: at, units: shown.value,
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
              <div>
                <label for="level-valve">Guide</label>
                <select id="level-valve" value={at} onChange={(e) => { valve.value = e.currentTarget.value; }}>
                  {ids.map((v) => <option key={v}>{v}</option>)}
                </select>
              </div>
              <div>
                <label for="level-across">Read</label>
                <select id="level-across" value={across.value} onChange={(e) => { across.value = e.currentTarget.value as 'incline'; }}>
                  <option value="incline">to the back (incline)</option>
                  <option value="cant">along the head (cant)</option>
                </select>
              </div>
              <Field label="Reading" text={first} quantity="angle" unit={shown.value} onEnter={() => focusNext('level-second')} />
              <div id="level-second">
                <Field label="Level turned round" text={second} quantity="angle" unit={shown.value} optional onEnter={store}
                       note="read in its own sign; leave open if not turned" />
              </div>
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

function focusNext(id: string): void {
  document.getElementById(id)?.querySelector('input')?.focus();
}

function Correction(props: { id: number }) {
  const level = state.value?.results.hold?.level;
  if (!level) return null;
  const why = (key: string) => ({ job: props.id, stage: 'hold' as const, key });
  const span = state.value?.results.hold?.posts?.span_mm ?? null;
  return (
    <Rows title="By the level">
      <Row label="Guides lean to the back" why={why('incline_deg')}>{showAngle(level.incline_deg, 3)}</Row>
      <Row label="Guides lean along the head" why={why('cant_deg')}>{showAngle(level.cant_deg, 3)}</Row>
      <Row label="The level itself is out" why={why('incline_bias_deg')}>
        {level.incline_bias_deg === null ? 'not known: turn it round' : showAngle(level.incline_bias_deg, 3)}
      </Row>
      <Row label="Guides differ among themselves (sd)" why={why('scatter_deg')}>{showAngle(level.scatter_deg, 3)}</Row>
      <p class="correction"><b>{turnInWords(level.correction_tilt_deg, 'tilt', null)}</b></p>
      <p class="correction"><b>{turnInWords(level.correction_swing_deg, 'swing', span)}</b></p>
    </Rows>
  );
}

// A positive tilt raises the back edge (+Y); a positive swing lowers the +X end.
export function turnInWords(deg: number | null, which: 'tilt' | 'swing', span: number | null): string {
  if (deg === null) return '';
  if (Math.abs(deg) < notWorth) return which === 'tilt' ? 'The tilt is right as it is.' : 'Along the head it is right as it is.';
  const by = showAngle(Math.abs(deg), 2);
  if (which === 'tilt') return `Turn the cradle ${by} so that the back edge ${deg > 0 ? 'rises' : 'drops'}.`;
  const lift = span === null ? '' : ` (${showLength(Math.abs(Math.sin((deg * Math.PI) / 180)) * span, shown.value)} over the posts)`;
  return `Swing the head ${by} so that its +X end ${deg > 0 ? 'drops' : 'rises'}${lift}.`;
}
