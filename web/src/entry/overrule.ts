// A lead's word on a verdict, sent like every other entry.

import { outbox } from './outbox';

export interface Word { head: string; valve: string; what: string; verdict: 'pass' | 'fail'; reason: string }

export function overrule(job: number, word: Word) {
  return outbox.add({
    job: String(job), method: 'POST', path: `/jobs/${job}/overrides`, body: { ...word },
    words: `${word.verdict} by word: ${word.valve} ${word.what}`, place: `override/${word.head}/${word.valve}/${word.what}`,
  });
}
