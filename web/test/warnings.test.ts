import { expect, test } from 'vitest';
import type { Warning } from '../src/api/types';
import { gathered } from '../src/parts/warnings';

const warning = (code: string, valve: string | null, blocking = true) => ({ stage: 'shape', code, valve, text: `${valve ?? ''} ${code}`, blocking }) as unknown as Warning;

test('more than three alike are said once; few, and those of no valve, stay one by one and in order', () => {
  const all = [warning('not-measured', '1I'), warning('limits', '2I'), warning('not-measured', '1E'), warning('plan', null), warning('plan', null), warning('plan', null), warning('plan', null),
    warning('not-measured', '3I'), warning('limits', '2E'), warning('not-measured', '3E')];
  expect(gathered(all).map((g) => g.map((w) => w.valve))).toEqual([['1I', '1E', '3I', '3E'], ['2I'], [null], [null], [null], [null], ['2E']]);
});
