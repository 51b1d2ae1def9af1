// A large keypad for a finger or a gloved knuckle. It writes into the field that has the focus and never
// takes the focus away.

import { active, rubOut, typeIn } from './active_field';

interface Key { face: string; say?: string; type?: string; act?: () => void; wide?: boolean }

const keys: Key[] = [
  ...['7', '8', '9'].map((d) => ({ face: d })),
  { face: '⌫', say: 'rub out', act: rubOut },
  ...['4', '5', '6'].map((d) => ({ face: d })),
  { face: '−', say: 'minus', type: '-' },
  ...['1', '2', '3'].map((d) => ({ face: d })),
  { face: '/', say: 'over', type: '/' },
  { face: '0' },
  { face: '.', say: 'point' },
  { face: 'in', type: ' in' },
  { face: 'mm', type: ' mm' },
];

export function Keypad(props: { enter: string; onEnter?: () => void }) {
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
  return (
    <div class="keypad" role="group" aria-label="Keypad">
      {keys.map((key) => (
        <button key={key.face} type="button" tabIndex={-1} aria-label={key.say ?? key.face} onPointerDown={stay} onMouseDown={stay}
                onClick={() => press(key)}>
          {key.face}
        </button>
      ))}
      <button type="button" tabIndex={-1} class="key-enter" onPointerDown={stay} onMouseDown={stay} onClick={enter}>
        {props.enter}
      </button>
    </div>
  );
}

// With nothing in focus the keypad speaks to the field that awaits a reading.
function refocus(): void {
  if (!active.value) document.querySelector<HTMLInputElement>('input[data-awaits]')?.focus();
}
