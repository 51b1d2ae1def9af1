// A sentence of the server on a page: the words are the server's (docs/words.md), here is how they are set: a true minus, a
// name said once, a capital and a full stop.

import { trueMinus } from '../numbers/show';
import { keyOf } from '../state/keys';

const place = /\b(?:head|seat|valve|guide|fixture|machine|depth|find|prove|cut|forecast|reading|pilot|cutter)\.[a-z_*]+(?:\[\d*\])?(?:\.[a-z_0-9]+(?:\[\d*\])?)*/g;

// `name`: of the seat or setup that stands before the sentence already.
export function plain(text: string, name?: string | null): string {
  const once = text.replace(/^(\S+): (?=\1\b)/, '');
  const own = name && once.startsWith(`${name}: `) ? once.slice(name.length + 2) : once;
  return ended(capital(trueMinus(own).trim()));
}

// The one sentence that stands over a room, and what frees it where that is not said already.
export function headline(text: string, frees: string | undefined, name?: string | null): string {
  return !frees || text.includes(frees) ? plain(text, name) : `${plain(text, name)} To free it: ${ended(trueMinus(frees))}`;
}

// Behind the name it is about: "1E" stands there already, "is not measured" goes on.
export function behind(text: string, frees: string | undefined, name: string | null): string {
  const words = headline(text, frees, name);
  return name !== null && words.startsWith(`${name} `) ? words.slice(name.length + 1) : words;
}

// Keys of the file by their labels, in what is no sentence of the catalogue: a list of keys, a fault of what was typed.
export const labelled = (words: string) => words
  .replace(/\breading\.([a-z]+)\.(\S+)\.(\S+?)\.([a-z_]+)(?:\[\d+\])?(?=[\s,;:.)]|$)/g, (_, table: string, head: string, valve: string, figure: string) =>
    `${labelOf(`reading.${table}[].${figure}`)} of ${valve} (${labelOf(`reading.${table}`)}, head ${head})`)
  .replace(/\b(head\.valve|depth\.seat)\.([^\s.]+)\.([a-z_]+)/g, (_, table: string, valve: string, figure: string) => `${labelOf(`${table}[].${figure}`)} of ${valve}`)
  .replace(place, labelOf);

// What a key of the file is called on the pages.
export function labelOf(key: string): string {
  const label = keyOf(key)?.label;
  if (label === undefined) return key.replaceAll(/[_.]/g, ' ');
  const kind = /^(?:seat|valve|guide)\.(intake|exhaust)\./.exec(key)?.[1];
  return `${label.length > 1 ? label.charAt(0).toLowerCase() : label.charAt(0)}${label.slice(1)}${kind ? ` (${kind})` : ''}`;
}

// A name with a figure in it ("1Ia") keeps its letters.
function capital(words: string): string {
  const [first = ''] = words.split(/[\s:,]/, 1);
  return /\d/.test(first) ? words : words.charAt(0).toUpperCase() + words.slice(1);
}

export const ended = (words: string) => (words === '' || /[.!?:]$/.test(words) ? words : `${words}.`);
