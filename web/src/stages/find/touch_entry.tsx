// Entering a touch: X, Enter, Y, Enter, and the field stands at the next guide. Keypad, keyboard and a gauge
// that types all end in the same two fields.

import { useSignal, type Signal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { draftOf } from '../../entry/draft';
import { record } from '../../entry/outbox';
import { asText, useRefused } from '../../entry/refused';
import { takenReason } from '../../entry/taken';
import { parseQuantity, type Typed } from '../../numbers/parse';
import { written } from '../../numbers/written';
import { Field } from '../../parts/field';
import { Keypad } from '../../parts/keypad';
import { LiveReading } from '../../parts/live_reading';
import { entries, shown } from '../../state/open_job';
import { implausible } from '../typed_values';

const near = (v: number) => implausible({ label: 'readout', quantity: 'length', range: 'reading.touch[].x' }, v, shown.value);
const nameless = '?'; // the touch is then assigned to the guide it fits

// What is typed of a guide and not yet stored.
export const touchFields = (job: number, head: string, guide: string) => ['x', 'y'].map((axis) => draftOf(job, head, 'touch', guide, axis));

interface Props {
  job: number;
  head: string;
  guide: string | null;
  settled: boolean; // false while the guide may still change: the touch stored last is being worked out
  all: string[]; // the guides of the setup
  datum: string; // the one the map counts from
  pick: (valve: string) => void;
  moveOn: () => void;
  compact?: boolean; // at the machine: the sentence above names the guide, a tap on the map chooses another
}

export function TouchEntry(props: Props) {
  const sentence = useSignal<string | null>(null);
  const box = useRef<HTMLElement>(null);
  const { guide } = props;
  const [x, y] = touchFields(props.job, props.head, guide ?? '') as [Signal<string>, Signal<string>];
  useRefused('touch', props.head, (values, of, why) => {
    const [wasX, wasY] = touchFields(props.job, props.head, of) as [Signal<string>, Signal<string>];
    if (wasX.peek() !== '' || wasY.peek() !== '') return false;
    [wasX.value, wasY.value, sentence.value] = [asText(values['x']), asText(values['y']), why];
    props.pick(of);
    return true;
  });
  // Once a number stands in a field, another screen's entry must not move it to another guide.
  useEffect(() => {
    const hold = (text: string) => {
      if (text !== '' && guide) props.pick(guide);
    };
    const stops = [x.subscribe(hold), y.subscribe(hold)];
    return () => stops.forEach((stop) => stop());
  }, [guide]);
  if (!guide) return null;
  const touches = entries.value.entries.filter((e) => e.live && e.kind === 'touch' && e.head === props.head);
  const touched = new Set(touches.map((e) => e.valve));
  const stored = guide === nameless ? undefined : touches.find((e) => e.valve === guide);
  const inputs = () => box.current?.querySelectorAll<HTMLInputElement>('.field input') ?? [];
  const toY = () => inputs()[1]?.focus();

  const store = (yTyped: Typed | null) => {
    const xTyped = parseQuantity(x.value, 'length', shown.value);
    if (!xTyped.ok || near(xTyped.value) !== null || !yTyped) return inputs()[0]?.focus();
    const values = { x: written(xTyped, 'length'), y: written(yTyped, 'length') };
    sentence.value = null;
    void record(props.job, {
      kind: 'touch', head: props.head, valve: guide, values, units: shown.value, ...(stored ? { corrects: stored.id } : {}), ...takenReason([x, y]),
    }, `touch ${guide}: X ${values.x}, Y ${values.y}`).then(() => {
      x.value = '';
      y.value = '';
      props.moveOn();
      inputs()[0]?.focus();
    });
  };
  const zeroed = () => {
    x.value = '0';
    y.value = '0';
    const zero = parseQuantity('0', 'length', shown.value);
    if (zero.ok) store(zero);
  };
  return (
    <section class="entry no-print" aria-label="Touch" aria-busy={!props.settled} ref={box}>
      {!props.compact && <h3>Touch <b data-touching={guide}>{guide === nameless ? 'a guide without a name' : guide}</b>{stored ? ' read again, in place of the earlier reading' : ''}</h3>}
      {props.compact && stored && <p>This guide is touched already. A new reading takes the place of the old one.</p>}
      {touches.length === 0 && guide === props.datum && (
        <p>The map counts from {guide}: pilot in its guide, readout to zero, then <i>Zeroed here</i>.</p>
      )}
      {!props.compact && <div class="acts">
        <label for="touch-guide">Another guide</label>
        <select id="touch-guide" value={guide} onChange={(e) => props.pick(e.currentTarget.value)}>
          {props.all.map((id) => <option key={id} value={id}>{id}{touched.has(id) ? ', touched' : ''}</option>)}
          <option value={nameless}>which one is not known</option>
        </select>
      </div>}
      <div class="pair">
        <Field label="X" text={x} quantity="length" unit={shown.value} awaits onEnter={toY} check={near} />
        <Field label="Y" text={y} quantity="length" unit={shown.value} onEnter={store} check={near} />
      </div>
      <LiveReading entry="touch" unit={shown.value} fields={[{ key: 'x', label: 'X', text: x, quantity: 'length' }, { key: 'y', label: 'Y', text: y, quantity: 'length' }]} onTaken={(keys) => { props.pick(guide); inputs()[keys.includes('y') ? 1 : 0]?.focus(); }} />
      {sentence.value && <p class="sentence" role="alert">{sentence.value}</p>}
      <Keypad enter="Next" beside={{ words: 'Zeroed here', act: zeroed }} />
    </section>
  );
}
