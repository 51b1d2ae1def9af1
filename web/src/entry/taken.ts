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

// As an entry has it, with what was noted beside its fields (of a trace's readings, of a section's points).
export function takenReason(texts: Signal<string>[], besides: string[] = []): { reason?: string } {
  const all = [takenWords(texts), ...besides].filter((w) => w !== '');
  return all.length === 0 ? {} : { reason: within(all) };
}

// The server takes 10 000 bytes: what goes beyond them is counted, not cut in the middle.
function within(all: string[]): string {
  const most = 9_800;
  const bytes = (text: string) => new TextEncoder().encode(text).length;
  let [kept, size] = [0, 0];
  for (; kept < all.length && size + bytes(all[kept]!) + 2 <= most; ++kept) size += bytes(all[kept]!) + 2;
  return [...all.slice(0, kept), ...(kept < all.length ? [`and ${all.length - kept} more readings`] : [])].join('; ');
}
