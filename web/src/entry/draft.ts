// What is typed and not yet stored, kept per place (job, head, valve, field): it survives a look elsewhere, a reload and
// a turn of the tablet, and never moves to another place. It stays in this tab alone and goes when somebody signs out.

import { effect, signal, type Signal } from '@preact/signals';

const prefix = 'seatwright.draft.';
const known = new Map<string, { text: Signal<string>; stop: () => void }>();

export function draftOf(...place: (string | number)[]): Signal<string> {
  const name = prefix + place.join('/');
  const found = known.get(name);
  if (found) return found.text;
  const text = signal(sessionStorage.getItem(name) ?? '');
  const stop = effect(() => {
    if (text.value === '') sessionStorage.removeItem(name);
    else sessionStorage.setItem(name, text.value);
  });
  known.set(name, { text, stop });
  return text;
}

// A note kept beside a draft, as long as the draft itself is; undefined for a text that is none.
export function besideDraft(text: Signal<string>, what: string): Signal<string> | undefined {
  for (const [name, draft] of known) if (draft.text === text) return draftOf(name.slice(prefix.length), what);
  return undefined;
}

// The place among these at which something is half typed, if there is one.
export function begunAt(places: string[], fieldsOf: (place: string) => Signal<string>[]): string | undefined {
  return places.find((p) => fieldsOf(p).some((t) => t.peek().trim() !== ''));
}

export function forgetDrafts(): void {
  for (const { stop } of known.values()) stop();
  known.clear();
  for (const name of Object.keys(sessionStorage)) if (name.startsWith(prefix)) sessionStorage.removeItem(name);
}
