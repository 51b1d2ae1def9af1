// What the gauge says of one seat: runout as one number or as a trace of readings round the seat, width, stem
// height, vacuum. Left open means not measured, and that is never a pass.

import { useSignal, type Signal } from '@preact/signals';
import { useEffect, useId, useRef } from 'preact/hooks';
import { session } from '../../api/client';
import { draftOf } from '../../entry/draft';
import { record } from '../../entry/outbox';
import { asText, useRefused } from '../../entry/refused';
import { takenReason, takenWords } from '../../entry/taken';
import type { Typed } from '../../numbers/parse';
import { written } from '../../numbers/written';
import { Field } from '../../parts/field';
import { Keypad } from '../../parts/keypad';
import { LiveReading } from '../../parts/live_reading';
import { entries, shown } from '../../state/open_job';
import { question, typedValues, type Asked, type Sure } from '../typed_values';
import { Gauge, gaugeValues } from './gauge';
import { walkingOrder } from './walk';

const asked: Asked[] = [
  { key: 'runout', label: 'Runout, full swing', quantity: 'length', range: 'reading.proof[].runout' },
  { key: 'width', label: 'Seat width', quantity: 'length', list: true, range: 'reading.proof[].width' },
  { key: 'stem_height', label: 'Stem height', quantity: 'length', range: 'reading.proof[].stem_height' },
  { key: 'vacuum', label: 'Vacuum held', quantity: 'vacuum', range: 'reading.proof[].vacuum' },
  { key: 'vacuum_after', label: 'Left with pump off', quantity: 'vacuum', range: 'reading.proof[].vacuum_after' },
  { key: 'vacuum_seconds', label: 'Seconds with pump off', quantity: 'plain' },
];
const atTheMachine = 3; // fields: the rest is typed in prove
const leastTrace = 8; // readings: fewer cannot tell shape from eccentricity

// What is typed of a seat and not yet stored.
export const proofFields = (job: number, head: string, valve: string) => asked.map((a) => draftOf(job, head, 'proof', valve, a.key));

interface Props { job: number; head: string; valve: string; pick: (valve: string) => void; moveOn: () => void; compact?: boolean }

export function ProofEntry(props: Props) {
  const texts = proofFields(props.job, props.head, props.valve);
  const said = { cutter: draftOf(props.job, props.head, 'cutter') };
  const accepted = useSignal(false);
  const traced = draftOf(props.job, props.head, 'proof', props.valve, 'trace'); // readings with strokes between
  const sources = draftOf(props.job, props.head, 'proof', props.valve, 'trace from'); // of each of them, a line each
  const one = draftOf(props.job, props.head, 'proof', props.valve, 'trace reading');
  const trace = traced.value === '' ? [] : traced.value.split('|');
  const sure = useSignal<Sure>({});
  const sentence = useSignal<string | null>(null);
  const box = useRef<HTMLElement>(null);
  useEffect(() => { accepted.value = false; }, [props.valve, props.head]);
  useRefused('proof', props.head, (values, of, why) => {
    const fields = proofFields(props.job, props.head, of);
    if (fields.some((t) => t.peek() !== '')) return false;
    fields.forEach((t, i) => { t.value = asText(values[asked[i]!.key]); });
    if (Array.isArray(values['trace'])) draftOf(props.job, props.head, 'proof', of, 'trace').value = values['trace'].map(String).join('|');
    sentence.value = why;
    props.pick(of);
    return true;
  });
  const fields = props.compact ? atTheMachine : asked.length;
  const stored = entries.value.entries.find((e) => e.live && e.kind === 'proof' && e.head === props.head && e.valve === props.valve);
  const focus = (i: number) => box.current?.querySelectorAll<HTMLInputElement>('.pair input')[i]?.focus();
  const store = () => {
    const values = typedValues(asked, texts, shown.value, sure.value);
    if (typeof values === 'number') return focus(values);
    if (trace.length > 0 && trace.length < leastTrace) {
      sentence.value = `A trace has ${leastTrace} or more readings; this one has ${trace.length}.`;
      return;
    }
    if (trace.length > 0) values['trace'] = trace;
    if (Object.keys(values).length === 0) {
      sentence.value = 'Type at least one of them.';
      return;
    }
    sentence.value = null;
    for (const [key, text] of Object.entries(said)) if (text.value.trim() !== '') values[key] = text.value.trim();
    const by = session.value?.person?.name;
    if (by) values['by'] = by;
    if (by && accepted.value) values['accepted_by'] = by;
    void record(props.job, {
      kind: 'proof', head: props.head, valve: props.valve, values: { ...values, ...gaugeValues() }, units: shown.value, ...(stored ? { corrects: stored.id } : {}), ...takenReason(texts, sources.value.split('\n')),
    }, `proof ${props.valve}`).then(() => {
      for (const t of [...texts, traced, sources]) t.value = '';
      accepted.value = false;
      props.moveOn();
      focus(0);
    });
  };
  return (
    <section class="entry no-print" aria-label="Proof" ref={box}>
      {!props.compact && <h3>Measure <b data-proving={props.valve}>{props.valve}</b>{stored ? ' read again, in place of what is there' : ''}</h3>}
      {!props.compact && <div class="acts">
        <label for="proof-valve">Another seat</label>
        <select id="proof-valve" value={props.valve} onChange={(e) => props.pick(e.currentTarget.value)}>
          {walkingOrder().map((v) => <option key={v}>{v}</option>)}
        </select>
      </div>}
      <div class="pair">
        {asked.slice(0, fields).map((a, i) => (
          <Field key={a.key} label={a.label} text={texts[i] ?? texts[0]!} quantity={a.quantity} unit={shown.value} optional awaits={i === 0}
                 check={(v) => question(a, texts[i]?.value ?? '', v, shown.value, sure.value)}
                 yes={(text) => { sure.value = { ...sure.value, [a.key]: text }; }} onEnter={() => (i < fields - 1 ? focus(i + 1) : store())} />
        ))}
      </div>
      <LiveReading entry="proof" unit={shown.value} fields={asked.slice(0, fields).map((a, i) => ({ ...a, text: texts[i] ?? texts[0]! }))} onTaken={([key]) => focus(asked.findIndex((a) => a.key === key))} />
      <Keypad enter="Next" />
      {!props.compact && <><TraceEntry trace={trace} text={one} sources={sources} keep={(all) => { traced.value = all.join('|'); }} />
      <Gauge />
      <details>
        <summary>Cutting edge, acceptance</summary>
        <div class="pair-gauge">
          <Words label="Cutter or edge that cut it" text={said.cutter} />
          <label class="choice">
            <span class="acts">
              <input type="checkbox" checked={accepted.value} onChange={(e) => { accepted.value = e.currentTarget.checked; }} />
              I accept this seat as it is
            </span>
          </label>
        </div>
      </details></>}
      {sentence.value && <p class="sentence" role="alert">{sentence.value}</p>}
      {!props.compact && <div class="acts"><button type="button" data-ends onClick={store}>Store seat {props.valve}</button></div>}
    </section>
  );
}

function Words(props: { label: string; text: Signal<string> }) {
  const id = useId();
  return (
    <div>
      <label for={id}>{props.label}</label>
      <input id={id} value={props.text.value} autocomplete="off" onInput={(e) => { props.text.value = e.currentTarget.value; }} />
    </div>
  );
}

interface TraceProps { trace: string[]; text: Signal<string>; sources: Signal<string>; keep: (all: string[]) => void }

function TraceEntry({ trace, text, sources, keep }: TraceProps) {
  const box = useRef<HTMLDetailsElement>(null);
  const add = (typed: Typed | null) => {
    if (!typed) return;
    sources.value = [...lines(), takenWords([text])].join('\n');
    keep([...trace, written(typed, 'length')]);
    text.value = '';
  };
  const lines = () => [...sources.value.split('\n'), ...Array<string>(trace.length).fill('')].slice(0, trace.length);
  const back = () => {
    sources.value = lines().slice(0, -1).join('\n');
    keep(trace.slice(0, -1));
  };
  return (
    <details open={trace.length > 0} ref={box}>
      <summary>Trace, reading by reading</summary>
      <p>Read evenly round the seat, starting at the mark. Press Enter after each reading. Eight readings or more.</p>
      <Field label={`Reading ${trace.length + 1}`} text={text} quantity="length" unit={shown.value} onEnter={add} />
      <LiveReading entry="trace" unit={shown.value} fields={[{ key: 'runout', label: 'reading', text, quantity: 'length' }]} onTaken={() => box.current?.querySelector('input')?.focus()} />
      {trace.length > 0 && (
        <p>
          {trace.map((t) => t.split(' ')[0]).join('  ')}{' '}
          <button type="button" onClick={back}>Remove the last one</button>
        </p>
      )}
    </details>
  );
}
