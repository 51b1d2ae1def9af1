// Of questions asked in quick succession only the latest is answered, and a long one gives way.
import './browser_globals';
import { expect, it } from 'vitest';
import { Latest } from '../src/state/latest';

interface Sent { question: string; gone: AbortSignal; answer: (words: string) => void; refuse: (why: Error) => void }

function asker(givesWay?: (question: string) => boolean) {
  const sent: Sent[] = [];
  const latest = new Latest<string, string>(
    (question, gone) => new Promise((answer, refuse) => { sent.push({ question, gone, answer, refuse }); }), givesWay,
  );
  return { latest, sent };
}
const soon = () => new Promise((resolve) => setImmediate(resolve));

it('one goes out at a time, and of those asked meanwhile the latest', async () => {
  const { latest, sent } = asker();
  for (const question of ['a', 'b', 'c']) latest.ask(question);
  expect(sent.map((s) => s.question)).toEqual(['a']);
  sent[0]!.answer('A');
  await soon();
  expect(latest.answer.value).toBe('A');
  expect(sent.map((s) => s.question)).toEqual(['a', 'c']);
  expect(sent[0]!.gone.aborted).toBe(false);
});

it('a long one is taken back when another is asked, and nobody hears of it', async () => {
  const { latest, sent } = asker((question) => question === 'everything');
  latest.ask('everything');
  latest.ask('a');
  expect(sent[0]!.gone.aborted).toBe(true);
  sent[0]!.refuse(new Error('taken back'));
  await soon();
  expect(latest.fault.value).toBe(null);
  expect(sent.map((s) => s.question)).toEqual(['everything', 'a']);
  sent[1]!.answer('A');
  await soon();
  expect(latest.answer.value).toBe('A');
  // One that came through all the same is not shown over what was asked after it.
  latest.ask('everything');
  latest.ask('b');
  sent[2]!.answer('all of it');
  await soon();
  expect(latest.answer.value).toBe('A');
  // Short ones are waited for.
  latest.ask('c');
  expect(sent[3]!.gone.aborted).toBe(false);
});
