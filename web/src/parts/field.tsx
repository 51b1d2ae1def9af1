// A field for a number as people type it. Enter (or the keypad's key) hands the value on; nonsense gets a
// sentence under the field, never a dialog; a value in another unit is said back as it was understood.

import type { Signal } from '@preact/signals';
import { useId, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { besideDraft } from '../entry/draft';
import { parseQuantity, type Typed } from '../numbers/parse';
import { pageUnit, type LengthUnit, type Quantity } from '../numbers/quantity';
import { show } from '../numbers/show';
import { withUnit } from '../numbers/written';
import { active, toNextField } from './active_field';

export interface FieldProps {
  label: string;
  text: Signal<string>;
  quantity: Quantity;
  unit: LengthUnit;
  onEnter?: (value: Typed | null) => void; // null: left empty; without it Enter goes on to the next field
  onLeave?: (value: Typed | null) => void; // focus left with a sound value; null: an optional one left empty
  optional?: boolean;
  awaits?: boolean; // the field a gauge types into when nothing has focus
  note?: string | undefined;
  disabled?: boolean;
  check?: (value: number) => string | null; // a sentence if the value makes no sense here
  follows?: boolean; // a bare figure is in whichever unit is chosen, also one typed before
  made?: boolean; // nobody gave the figure: it stands dashed
  yes?: (text: string) => void; // what `check` asks about may be right: one tap says so
}

const coarse = matchMedia('(pointer: coarse)');

export function Field(props: FieldProps) {
  const id = useId();
  const input = useRef<HTMLInputElement>(null);
  const [sentence, setSentence] = useState<string | null>(() => nonsense(props));
  const [asked, setAsked] = useState(() => (sentence === null ? null : read(props))); // the value that is asked about
  const said = sentence ?? readBack(props);
  // A finger has either our keypad or, where none stands beside the field, the device's whole keyboard: its number
  // pad often lacks minus, stroke and letters.
  useLayoutEffect(() => {
    if (input.current && coarse.matches) input.current.inputMode = input.current.closest('.entry')?.querySelector('.keypad') ? 'none' : 'text';
  }, []);

  // A bare figure keeps the unit it stood beside first, whichever is shown by now: it is written behind it.
  const beside = pageUnit(props.quantity, props.unit);
  useLayoutEffect(() => {
    const note = props.follows ? undefined : besideDraft(props.text, 'unit');
    if (!note) return;
    const text = props.text.peek(), [, was, typed] = /^(\S+) (.*)$/.exec(note.peek()) ?? [];
    if (was !== undefined && typed === text) props.text.value = was === beside ? text : withUnit(text, props.quantity, was);
    else note.value = text === '' ? '' : `${beside} ${text}`;
  });

  // undefined: nonsense, and the sentence stands under the field.
  const settled = (): Typed | null | undefined => {
    const text = props.text.peek().trim();
    if (text === '' && props.optional) return null;
    const got = parseQuantity(text, props.quantity, props.unit);
    const fault = got.ok ? props.check?.(got.value) ?? null : got.sentence;
    setSentence(fault);
    setAsked(got.ok && fault !== null ? got.value : null);
    return got.ok && fault === null ? got : undefined;
  };
  const enter = () => {
    const value = settled();
    if (value === undefined) input.current?.select();
    else if (props.onEnter) props.onEnter(value);
    else if (input.current) toNextField(input.current);
  };
  const set = (text: string) => {
    props.text.value = text;
    if (sentence !== null) setSentence(null);
    setAsked(null);
  };
  const confirm = () => {
    props.yes?.(props.text.peek().trim());
    setSentence(null);
    setAsked(null);
    input.current?.focus();
  };
  const focus = () => {
    if (input.current) active.value = { element: input.current, quantity: props.quantity, text: props.text, set, enter };
  };
  // What the keypad writes into is this field as it is drawn now; a field that is gone takes nothing, though a browser
  // does not say of an element it removes that it has lost the focus.
  useLayoutEffect(() => { if (active.peek()?.element === input.current) focus(); });
  useLayoutEffect(() => {
    const own = input.current;
    return () => { if (active.peek()?.element === own) active.value = null; };
  }, []);
  const blur = () => {
    if (active.peek()?.element === input.current) active.value = null;
    if (props.text.peek().trim() === '' && !props.optional) return;
    const value = settled();
    if (value !== undefined) props.onLeave?.(value);
  };
  return (
    <div class={`field${sentence ? ' field-nonsense' : ''}${props.made ? ' field-made' : ''}`}>
      <label for={id}>{props.label}</label>
      <span class="field-box">
        <input
          id={id} ref={input} type="text" autocomplete="off" autocapitalize="off" spellcheck={false} enterkeyhint="next"
          value={props.text.value} disabled={props.disabled ?? false}
          aria-invalid={sentence !== null} aria-describedby={`${id}-said`} data-awaits={props.awaits ? '' : undefined} data-kept-left={props.onLeave ? '' : undefined}
          onInput={(e) => set(e.currentTarget.value)} onFocus={focus} onBlur={blur}
          onKeyDown={(e) => {
            if (e.key !== 'Enter') return;
            e.preventDefault();
            enter();
          }}
        />
        <span class="unit" aria-hidden="true">{pageUnit(props.quantity, props.unit)}</span>
      </span>
      <div class="said-box">
      <p class="said" id={`${id}-said`} role={sentence ? 'alert' : undefined}>{said ?? props.note ?? (props.made ? 'not from you' : '')}</p>
      {asked !== null && props.yes && (
        <button type="button" data-yes onClick={confirm}>yes, {show(asked, props.quantity, props.unit)}</button>
      )}
      </div>
    </div>
  );
}

const read = (props: FieldProps): number | null => {
  const got = parseQuantity(props.text.peek(), props.quantity, props.unit);
  return got.ok ? got.value : null;
};

// What stands in it from before and makes no sense says so, also after a reload.
function nonsense(props: FieldProps): string | null {
  const text = props.text.peek().trim();
  const got = text === '' ? undefined : parseQuantity(text, props.quantity, props.unit);
  return !got ? null : got.ok ? props.check?.(got.value) ?? null : got.sentence;
}

// "= 1.5625 in" when what was typed is not plainly that already.
function readBack(props: FieldProps): string | null {
  const text = props.text.value.trim();
  if (text === '') return null;
  const got = parseQuantity(text, props.quantity, props.unit);
  if (!got.ok || !/[/,a-zµ"°'½¼¾⅛⅜⅝⅞]/i.test(text)) return null;
  return `= ${show(got.value, props.quantity, props.unit)}`;
}
