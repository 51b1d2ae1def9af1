// A sentence of the program as it is read on a page: keys of the file by their labels, no line to write into a file where a
// button stands for it, a name said once, a capital and a full stop.

import { trueMinus } from '../numbers/show';
import { keyOf } from '../state/keys';

const place = /\b(?:head|seat|valve|guide|fixture|machine|depth|find|prove|cut|forecast|reading|pilot|cutter)\.[a-z_*]+(?:\[\d*\])?(?:\.[a-z_0-9]+(?:\[\d*\])?)*/g;

// `name`: of the seat or setup that stands before the sentence already.
export function plain(text: string, name?: string | null): string {
  const once = text.replace(/^(\S+): (?=\1\b)/, '');
  const own = name && once.startsWith(`${name}: `) ? once.slice(name.length + 2) : once;
  const words = own
    .replace(/[;,]? or (?:write )?allow (?:= \[\{[^\]]*\}\]|what = "[^"]*")/g, ', or a lead lets it pass')
    .replace(/[;,]? or (?:write )?sure = (?:\["[^"]*"\]|true in that reading)(?: if it is right)?/g, ', or somebody says that it is right')
    .replace(/\ballow = \[\{[^\]]*\}\]/g, 'a lead lets it pass')
    .replace(/\b(or )?keep = true beside/g, (_, or?: string) => `${or ? 'or say ' : ''}“use it all the same” beside`)
    .replace(', taken out of head.assumed', ', or said to be right')
    .replace(', and take them out of head.assumed', ', or say that they are right')
    .replace(/^rest_z of \S+: |(?<=[\s,])rest_z of \S+: /g, '')
    .replace(/\[\[([a-z_.]+)\]\]/g, (_, table: string) => labelOf(table))
    .replace(/: wanted to |; wanted to /, '; it is needed to ')
    .replace(/^.*$/s, labelled)
    .replace(/`([^`]*)`/g, '“$1”')
    .replace(/(\d) deg\b/g, '$1°');
  return sentence(trueMinus(words));
}

// The one sentence that stands over a room: what frees it only where that is not said already.
export function headline(text: string, name?: string | null): string {
  const [reason = '', frees = ''] = text.split('; what frees it: ');
  if (frees === '') return plain(text, name);
  return reason.includes(frees) ? plain(reason, name) : `${plain(reason, name)} To free it: ${lower(plain(frees))}`;
}

// Behind the name it is about: "1E" stands there already, "is not measured" goes on.
export function behind(text: string, name: string | null): string {
  const words = headline(text, name);
  return name !== null && words.startsWith(`${name} `) ? words.slice(name.length + 1) : words;
}

// Keys of the file by their labels, in words that are no sentence of their own.
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

const lower = (words: string) => (/^[A-WY](?=[a-z ])/.test(words) ? words.charAt(0).toLowerCase() + words.slice(1) : words);

// A name with a figure in it ("1Ia") keeps its letters.
function sentence(words: string): string {
  const trimmed = words.trim();
  const [first = ''] = trimmed.split(/[\s:,]/, 1);
  const begun = /\d/.test(first) ? trimmed : trimmed.charAt(0).toUpperCase() + trimmed.slice(1);
  return begun === '' || /[.!?:]$/.test(begun) ? begun : `${begun}.`;
}
