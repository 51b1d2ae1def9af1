// What a feed gave to a field, while it stands there unchanged: said with what is stored of it. Typed over, a value is the
// person's own again.

import type { Signal } from '@preact/signals';
import { besideDraft } from './draft';

interface Given { text: string; words: string }

export function noteTaken(text: Signal<string>, words: string): void {
  const note = besideDraft(text, 'from');
  if (note) note.value = JSON.stringify({ text: text.peek(), words } satisfies Given);
}

// Of several fields filled at once the words stand once. Empty: nothing of it came from a feed.
export function takenWords(texts: Signal<string>[]): string {
  const all = texts.flatMap((text) => {
    const note = besideDraft(text, 'from');
    if (!note || note.peek() === '') return [];
    const given = JSON.parse(note.peek()) as Given;
    if (given.text === text.peek()) return [given.words];
    note.value = '';
    return [];
  });
  return [...new Set(all)].join('; ');
}

// As an entry has it.
export function takenReason(texts: Signal<string>[]): { reason?: string } {
  const reason = takenWords(texts);
  return reason === '' ? {} : { reason };
}
