import './browser_globals';
import { expect, test } from 'vitest';
import { lastOf, undoLabel } from '../src/state/undo';

test('undo takes back what this person did on this screen and nothing that somebody did later', () => {
  const all = [
    { job: '1', by: 1, words: 'touch 1E', kind: 'entry' as const, id: 5 },
    { job: '1', by: 2, words: 'touch 2E', kind: 'entry' as const, id: 6 },
    { job: '1', by: 1, words: 'width', kind: 'change' as const, version: 4 },
    { job: '2', by: 1, words: 'other job', kind: 'entry' as const, id: 7 },
  ];
  const here = (version: number) => ({ job: '1', by: 1, version, live: () => true });
  expect(lastOf(all, here(4))?.words).toBe('width');
  expect(lastOf(all, here(5))?.words).toBe('touch 1E'); // somebody changed the job after this person did
  expect(lastOf(all, { ...here(5), live: () => false })).toBeUndefined();
  expect(lastOf(all, { ...here(5), by: 2 })?.words).toBe('touch 2E');
});

test('what was done on another head than the open one says which', () => {
  expect(undoLabel('touch 1I: X 0.5 mm', '2', '1')).toBe('Undo: head 2, touch 1I: X 0.5 mm');
  expect(undoLabel('touch 1I: X 0.5 mm', '1', '1')).toBe('Undo: touch 1I: X 0.5 mm');
  expect(undoLabel('head 2 put aside', '2', '1')).toBe('Undo: head 2 put aside');
  expect(undoLabel('width 1.2 mm', undefined, '1')).toBe('Undo: width 1.2 mm');
});
