// What a role may change on a page is what the table of keys says, and a control that changes the job asks for its own key.
import './browser_globals';
import { afterEach, expect, test } from 'vitest';
import { session } from '../src/api/client';
import type { Job, Role } from '../src/api/types';
import { mayChange, whyNot } from '../src/state/may';
import { job } from '../src/state/open_job';
import { sources } from './sources';

const as = (role: Role) => { session.value = { person: { id: 1, name: 'T', role } } as unknown as typeof session.value; };
const taken = (first: Job['first_taken']) => { job.value = { id: 1, first_taken: first } as unknown as Job; };
afterEach(() => { session.value = null; job.value = null; });

const leads = ['dialect', 'fixture', 'machine', 'depth.plan', 'cutter[0].facets[1].angle', 'seat.intake.runout_max', 'a_key_nobody_knows'];
const atFirst = ['seat.exhaust.top[0].width', 'seat.intake.material'];

test('a lead changes all, a machinist no key of a lead, a reader none', () => {
  taken(null);
  as('lead');
  expect([...leads, ...atFirst, 'title'].filter((k) => !mayChange(k))).toEqual([]);
  expect(whyNot('dialect')).toBeNull();
  as('machinist');
  expect(leads.filter(mayChange)).toEqual([]);
  expect([...atFirst, 'title'].filter((k) => !mayChange(k))).toEqual([]);
  expect(whyNot('dialect')).toBe('Only a lead changes this.');
  expect(whyNot('seat.intake.material')).toBeNull();
  as('reader');
  expect([...leads, ...atFirst, 'title'].filter(mayChange)).toEqual([]);
  expect(whyNot('title')).toBeNull();
});

test('what programs are made from is a lead’s once one was taken, and the page says so', () => {
  as('machinist');
  taken({ file: 'program-1-A-1.ngc', by: 'T', at: '' });
  expect(atFirst.filter(mayChange)).toEqual([]);
  expect(whyNot('seat.intake.material')).toMatch(/was taken/);
  expect(mayChange('title')).toBe(true);
});

// Files that hand a change on without asking themselves.
const askedElsewhere: Record<string, string> = {
  'stages/shape/room.tsx': 'facets.tsx and drag.ts ask',
  'stages/data/room.tsx': 'parts/tree_table.tsx asks for each field',
};
const changes = (text: string) => /import \{[^}]*\bchange\b[^}]*\} from '[./]*entry\/outbox'/.test(text);
const asks = (text: string) => /\bmayChange\(/.test(text) && !/disabled=\{!mayRecord\(\)\}/.test(text);

test('who changes the job asks whether that key may be changed, not whether anything may be recorded', () => {
  const changing = sources.filter((s) => changes(s.text));
  expect(changing.length).toBeGreaterThan(8);
  const blind = changing.filter((s) => !asks(s.text)).map((s) => s.path);
  expect(blind.filter((p) => !(p in askedElsewhere))).toEqual([]);
  expect(Object.keys(askedElsewhere).filter((p) => !blind.includes(p)), 'excepted, and no longer so').toEqual([]);
  for (const path of ['stages/shape/facets.tsx', 'stages/shape/drag.ts', 'parts/tree_table.tsx']) expect(asks(sources.find((s) => s.path === path)!.text), path).toBe(true);
});

test('one that does not ask is found', () => {
  const blind = "import { change } from '../../entry/outbox';\n<select disabled={!mayRecord()} />";
  expect([changes(blind), asks(blind)]).toEqual([true, false]);
});
