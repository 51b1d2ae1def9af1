// A large keypad for a finger or a gloved knuckle: the keys of the quantity that is typed, and in its right column what
// ends the entry. It writes into the field that has the focus and never takes the focus away.

import type { Quantity } from '../numbers/quantity';
import { active, rubOut, typeIn } from './active_field';

interface Key { face: string; say?: string; type?: string; act?: () => void }

const digit = (face: string): Key => ({ face });
const rows: Key[][] = [
  [digit('7'), digit('8'), digit('9'), { face: '⌫', say: 'rub out', act: rubOut }],
  [digit('4'), digit('5'), digit('6'), { face: '−', say: 'minus', type: '-' }],
  [digit('1'), digit('2'), digit('3'), { face: '/', say: 'over', type: '/' }],
  [digit('0'), { face: '.', say: 'point' }],
];
const unit = (face: string): Key => ({ face, type: ` ${face}` });
const units: Partial<Record<Quantity, [Key, Key]>> = {
  length: [unit('in'), unit('mm')],
  angle: [{ face: '°', say: 'degrees', type: '°' }, { face: '′', say: 'minutes', type: '′' }],
  vacuum: [unit('inHg'), unit('kPa')],
  volume: [unit('cm3'), unit('ml')],
};

interface Props {
  enter: string;
  quantity?: Quantity; // while no field has the focus
  onEnter?: () => void;
  beside?: { words: string; act: () => void }; // a second button, over the one that ends the entry
}

export function Keypad(props: Props) {
  const { beside } = props;
  const own = units[active.value?.quantity ?? props.quantity ?? 'length'] ?? [];
  const keys = [...rows.slice(0, 3).flat(), ...rows[3] ?? [], ...own];
  const press = (key: Key) => {
    refocus();
    if (key.act) key.act();
    else typeIn(key.type ?? key.face);
  };
  const enter = () => {
    refocus();
    if (props.onEnter) props.onEnter();
    else active.value?.enter();
  };
  // Keeps the field's focus (and the cursor in it) where it is.
  const stay = (e: Event) => e.preventDefault();
  const button = (words: string, kind: string, act: () => void) => (
    <button type="button" tabIndex={-1} class={kind} onPointerDown={stay} onMouseDown={stay} onClick={act}>{words}</button>
  );
  return (
    <div class={`keypad${beside ? ' keypad-two' : ''}`} role="group" aria-label="Keypad">
      {keys.map((key) => (
        <button key={key.face} type="button" tabIndex={-1} aria-label={key.say ?? key.face} onPointerDown={stay} onMouseDown={stay}
                onClick={() => press(key)}>
          {key.face}
        </button>
      ))}
      {beside && button(beside.words, 'key-beside', beside.act)}
      {button(props.enter, 'key-enter', enter)}
    </div>
  );
}

// With nothing in focus the keypad speaks to the field that awaits a reading.
function refocus(): void {
  if (!active.value) document.querySelector<HTMLInputElement>('input[data-awaits]')?.focus();
}
