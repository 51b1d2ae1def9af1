// A lead's word on a verdict, sent like every other entry.

import { session } from '../api/client';
import { outbox } from './outbox';

export interface Word { head: string; valve: string; what: string; verdict: 'pass' | 'fail'; reason: string }

export function overrule(job: number, word: Word) {
  const person = session.peek()?.person;
  return outbox.add({
    ...(person ? { by: { id: person.id, name: person.name } } : {}),
    job: String(job), method: 'POST', path: `/jobs/${job}/overrides`, body: { ...word },
    words: `${word.verdict} by word: ${word.valve} ${word.what}`, place: `override/${word.head}/${word.valve}/${word.what}`,
  });
}
