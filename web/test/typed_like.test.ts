import './browser_globals';
import { describe, expect, it } from 'vitest';
import './browser_globals';
import { typedLike } from '../src/parts/tree_table';
import { written } from '../src/numbers/written';
import { parseQuantity } from '../src/numbers/parse';

describe('a value typed over one in the file', () => {
  it('stays a number where it was one', () => expect(typedLike(1.5, '1,75')).toBe(1.75));
  it('becomes a string with a unit when one is typed', () => expect(typedLike(1.5, '0.06 in')).toBe('0.06 in'));
  it('keeps lists as lists', () => expect(typedLike(['-30 deg', '50 deg'], '-20 deg; 40 deg')).toEqual(['-20 deg', '40 deg']));
  it('keeps lists of points', () => expect(typedLike([[1, 2], [3, 4]], '1 2; 3 5')).toEqual([[1, 2], [3, 5]]));
});

describe('a typed number as the job file writes it', () => {
  const said = (text: string) => {
    const got = parseQuantity(text, 'length', 'in');
    return got.ok ? written(got, 'length') : got.sentence;
  };
  it.each([
    ['1-9/16', '1.5625 in'], ['39.7mm', '39.7 mm'], ['0,05', '0.05 in'], ['2 thou', '2 thou'], ['50 µm', '50 um'], ['.1', '0.1 in'],
  ])('%s is %s', (text, want) => expect(said(text)).toBe(want));
});
