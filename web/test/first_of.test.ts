// A long list begins with its first few, whatever has to be seen among the rest beside them.
import { expect, test } from 'vitest';
import { firstOf } from '../src/parts/first_of';

const of = (n: number) => Array.from({ length: n }, (_, i) => i);

test('of a long list the first ten stand there, and what has to be seen', () => {
  expect(firstOf(of(32))).toEqual(of(10));
  expect(firstOf(of(32), 10, (i) => i === 31 || i === 3)).toEqual([...of(10), 31]);
  expect(firstOf(of(32), 4)).toEqual(of(4));
});

test('nothing is left out of a list hardly longer, or of one that is not shortened', () => {
  expect(firstOf(of(12))).toEqual(of(12));
  expect(firstOf(of(13))).toEqual(of(10));
  expect(firstOf(of(400), Infinity)).toEqual(of(400));
});
