// The field that has the word: what the keypad and a gauge that types write into.

import { signal, type Signal } from '@preact/signals';
import type { Quantity } from '../numbers/quantity';
import { noteTyped } from './being_typed';

export interface ActiveField {
  element: HTMLInputElement;
  quantity: Quantity;
  text: Signal<string>;
  set(text: string): void;
  enter(): void;
}

export const active = signal<ActiveField | null>(null);

// Writes at the cursor, in place of what is selected.
export function typeIn(text: string): void {
  const field = active.value;
  if (!field) return;
  const { element } = field;
  const from = element.selectionStart ?? element.value.length;
  const to = element.selectionEnd ?? element.value.length;
  const next = element.value.slice(0, from) + text + element.value.slice(to);
  noteTyped(element);
  field.set(next);
  element.value = next;
  element.setSelectionRange(from + text.length, from + text.length);
}

export function rubOut(): void {
  const field = active.value;
  if (!field) return;
  const { element } = field;
  const to = element.selectionEnd ?? element.value.length;
  let from = element.selectionStart ?? to;
  if (from === to) from = Math.max(0, from - 1);
  const next = element.value.slice(0, from) + element.value.slice(to);
  noteTyped(element);
  field.set(next);
  element.value = next;
  element.setSelectionRange(from, from);
}

// From one field to the next of its section, and after the last to the button that ends it.
export function toNextField(from: HTMLInputElement): void {
  const section = from.closest('section');
  const all = [...section?.querySelectorAll<HTMLInputElement>('.field input') ?? []];
  (all[all.indexOf(from) + 1] ?? section?.querySelector<HTMLElement>('button[data-ends], button.main-act'))?.focus();
}

// A gauge types like a keyboard, whether or not anybody has touched the field first: its digits go to the
// field marked as awaiting a reading.
export function startGaugeWatch(): void {
  addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || !/^[-+.\d]$/.test(event.key)) return;
    const focus = document.activeElement;
    if (focus instanceof HTMLInputElement || focus instanceof HTMLTextAreaElement || focus instanceof HTMLSelectElement) return;
    const awaiting = document.querySelector<HTMLInputElement>('input[data-awaits]');
    awaiting?.focus();
  });
}
