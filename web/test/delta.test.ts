import { describe, expect, it } from 'vitest';
import { isDelta, patched } from '../src/api/delta';

describe('a state brought up to date', () => {
  const state = { key: '1.1.1', heads: ['1'], results: { hold: { a: 1 }, find: null as unknown } };

  it('has what was changed, and shares what was not', () => {
    const now = patched(state, [
      { op: 'replace', path: '/key', value: '1.2.1' },
      { op: 'add', path: '/heads/-', value: '2' },
      { op: 'replace', path: '/results/find', value: {} },
      { op: 'add', path: '/results/find/heads', value: [7] },
    ]);
    expect(now).toEqual({ key: '1.2.1', heads: ['1', '2'], results: { hold: { a: 1 }, find: { heads: [7] } } });
    expect(now.results.hold).toBe(state.results.hold);
    expect(state.heads).toEqual(['1']);
  });

  it('loses what is gone', () => {
    expect(patched(state, [{ op: 'remove', path: '/results/hold' }]).results).toEqual({ find: null });
  });

  it('refuses what does not fit it: the page then asks for the whole', () => {
    expect(() => patched(state, [{ op: 'replace', path: '/nothing', value: 1 }])).toThrow('/nothing');
    expect(() => patched(state, [{ op: 'add', path: '/results/find/heads', value: 1 }])).toThrow('heads');
    expect(() => patched(state, [{ op: 'remove', path: '/heads/0' }])).toThrow('/heads/0');
  });

  it('is told from a whole one', () => {
    expect(isDelta({ since: '1', key: '2', patch: [] })).toBe(true);
    expect(isDelta(state)).toBe(false);
  });
});
