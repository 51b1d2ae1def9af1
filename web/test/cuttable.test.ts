import './browser_globals';
import { describe, expect, it } from 'vitest';
import { cuttable } from '../src/state/shelf';

describe('materials to choose for a seat', () => {
  it('say how fast they are cut', () => {
    expect(cuttable([{ name: 'iron', speed: ['20 m/min', '40 m/min'] }, { name: 'aluminium', modulus: '70 GPa' }, { speed: 3 }])).toEqual(['iron']);
    expect(cuttable(undefined)).toEqual([]);
  });
});
