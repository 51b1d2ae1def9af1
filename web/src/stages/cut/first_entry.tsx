// The first seat of a file has been cut short: its measured depth is typed here, and the second file follows.

import { useSignal } from '@preact/signals';
import { draftOf } from '../../entry/draft';
import { record } from '../../entry/outbox';
import { asText, useRefused } from '../../entry/refused';
import { takenReason } from '../../entry/taken';
import type { LengthUnit } from '../../numbers/quantity';
import { Field } from '../../parts/field';
import { Keypad } from '../../parts/keypad';
import { LiveReading } from '../../parts/live_reading';
import { mayRecord } from '../../state/may';
import { entries, job, shown, state, waitingHere } from '../../state/open_job';
import { plannedIn, takenOf } from '../../state/said_steps';
import { question, typedValues, type Asked, type Sure } from '../typed_values';

const figures: (Asked & { note: string })[] = [
  { key: 'depth', label: 'depth', quantity: 'length', range: 'reading.first[].depth', note: 'How far the new seat lies below the old one, with the same valve or gauge before and after.' },
  { key: 'stem_height', label: 'stem height', quantity: 'length', range: 'reading.first[].stem_height', note: 'Use the same valve as before the cut, never one that was pounded in.' },
  { key: 'below_deck', label: 'below the deck', quantity: 'length', range: 'reading.first[].below_deck', note: 'How far the middle of the valve’s head lies below the deck, with the same valve as before the cut.' },
];

interface Props {
  head: string;
  seat: string;
  atControl: boolean; // Z0 is moved by hand on this machine: no file is shifted
  compact?: boolean; // at the machine: with its keypad
  newBlade?: boolean; // a reading of the old blade stays beside this one
}

export function FirstEntry({ head, seat, atControl, newBlade = false, compact = false }: Props) {
  const id = job.value?.id;
  const text = draftOf(id ?? 0, head, 'first', seat);
  const sentence = useSignal<string | null>(null);
  const figure = useSignal(figures[0]!.key);
  const sure = useSignal<Sure>({});
  const asked = figures.find((f) => f.key === figure.value) ?? figures[0]!;
  const unit: LengthUnit = shown.value;
  const waits = waitingHere.value.some((w) => w.body['kind'] === 'first' && w.body['head'] === head && w.body['valve'] === seat);
  useRefused('first', head, (values, of, why) => {
    const key = figures.find((f) => values[f.key] !== undefined)?.key;
    if (of !== seat || text.peek() !== '' || key === undefined) return false;
    [figure.value, text.value, sentence.value] = [key, asText(values[key]), why];
    return true;
  });
  if (id === undefined || !mayRecord()) return null;
  const store = () => {
    const values = typedValues([asked], [text], unit, sure.value);
    if (typeof values === 'number' || Object.keys(values).length === 0) return;
    if (atControl) values['trimmed'] = 'control';
    const before = entries.value.entries.find((e) => e.live && e.kind === 'first' && e.head === head && e.valve === seat);
    // What the sheet in hand planned: of the file that cut it, whatever is changed in the plan later.
    const ofFiles = { ...plannedIn((state.value?.results.cut?.programs ?? []).filter((p) => p.head === head)), ...takenOf(head).planned };
    const planned = before === undefined || newBlade ? ofFiles[`${seat} ${asked.key}`] : before.values[asked.key] !== undefined && before.values['planned'];
    if (planned) values['planned'] = planned;
    const beside = before === undefined ? {} : newBlade ? { repeat: true } : { corrects: before.id };
    sentence.value = null;
    void record(id, { kind: 'first', head, valve: seat, units: unit, values, ...beside, ...takenReason([text]) }, `first seat ${seat}`).then(() => { text.value = ''; });
  };
  return (
    <section class="entry no-print" aria-label={`First seat ${seat}`}>
      <div class="acts">
        <label for={`figure-${seat}`}>Measured as</label>
        <select id={`figure-${seat}`} value={asked.key} onChange={(e) => { figure.value = e.currentTarget.value; }}>
          {figures.map((f) => <option key={f.key} value={f.key}>{f.label}</option>)}
        </select>
      </div>
      <Field key={asked.key} label={`First seat ${seat}: type its ${asked.label}`} text={text} quantity="length" unit={unit} note={asked.note} awaits={compact}
             check={(v) => question(asked, text.value, v, unit, sure.value)} yes={(t) => { sure.value = { ...sure.value, [asked.key]: t }; }} onEnter={store} />
      <LiveReading entry="first" unit={unit} fields={[{ ...asked, text }]} />
      {sentence.value && <p class="sentence" role="alert">{sentence.value}</p>}
      {compact ? <Keypad enter="Store" /> : <div class="acts"><button type="button" class="main-act" onClick={store}>Store first seat {seat}</button></div>}
      {waits && <p role="status">{atControl ? 'Stored here, waiting to be sent.' : 'Stored here, waiting to be sent: the second file comes after that.'}</p>}
    </section>
  );
}
