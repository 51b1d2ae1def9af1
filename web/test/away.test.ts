import './browser_globals';
import { expect, test } from 'vitest';
import { wordsFor } from '../src/state/away';

const entry = (by: string, head: string, kind: 'touch' | 'note' | 'seat') => ({ by, head, kind });

test('what others did stands in one line, by person, head and kind; one’s own is not told', () => {
  const later = [entry('B. Miller', '7', 'touch'), entry('B. Miller', '7', 'touch'), entry('B. Miller', '7', 'note'), entry('A. Turner', '7', 'touch')];
  expect(wordsFor(later, 'A. Turner', null)).toBe('B. Miller: 2 touches and 1 note on head 7.');
  expect(wordsFor(later, 'A. Turner', 'C. Hill')).toBe('B. Miller: 2 touches and 1 note on head 7. C. Hill changed the drawing data.');
  expect(wordsFor([entry('A. Turner', '7', 'touch')], 'A. Turner', 'A. Turner')).toBe('');
  expect(wordsFor([entry('B', '7', 'seat'), entry('B', '8', 'seat')], 'A', null)).toBe('B: 1 seat before cutting on head 7; 1 seat before cutting on head 8.');
});
