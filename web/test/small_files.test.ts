// A small file that serves one other stands in it: an idea is read in one place, not fetched from a second.
import { posix } from 'node:path';
import { expect, test } from 'vitest';
import { sources, type Source } from './sources';

const small = 40; // lines
const most = 250; // lines of a file that takes another in

const alone: Record<string, string> = {
  'pages/help.tsx': 'fetched when it is first asked for',
  'pages/tour.tsx': 'fetched when it is first asked for',
  'parts/link_here.tsx': 'fetched when it is first asked for',
  'parts/who_reads.tsx': 'fetched when it is first asked for',
  'state/shortcuts.ts': 'started by main.tsx, which starts all and does nothing itself',
};

interface Small { path: string; by: string; lines: number; together: number }

// `lines` of a file that is imported by one other alone.
function servants(all: Source[]): Small[] {
  const named = new Map(all.map((s) => [s.path.replace(/\.tsx?$/, ''), s]));
  const users = new Map<Source, Set<Source>>();
  for (const by of all) {
    for (const [, to] of by.text.matchAll(/(?:\bfrom|\bimport)\s*\(?\s*'(\.[^']+)'/g)) {
      const used = named.get(posix.join(posix.dirname(by.path), to!));
      if (used) users.set(used, (users.get(used) ?? new Set()).add(by));
    }
  }
  return [...users].filter(([of, by]) => of.lines <= small && by.size === 1)
    .map(([of, by]) => ({ path: of.path, by: [...by][0]!.path, lines: of.lines, together: of.lines + [...by][0]!.lines }));
}

test('no small file serves one other alone', () => {
  expect(sources.length).toBeGreaterThan(150);
  const found = servants(sources).filter((s) => s.together <= most);
  expect(found.filter((s) => !(s.path in alone)).map((s) => `${s.path}, ${s.lines} lines, serves ${s.by} alone`)).toEqual([]);
  expect(Object.keys(alone).filter((path) => !found.some((s) => s.path === path)), 'excepted, and no longer so').toEqual([]);
});

test('one that does is found', () => {
  const source = (path: string, text: string, lines: number): Source => ({ path, text, lines });
  const house = [source('a/room.tsx', "import { of } from './of';\nimport { all } from '../all';\nconst L = later(() => import('./late'));", 60), source('b.ts', "import type { X } from './all';", 50),
    source('a/of.ts', '', 12), source('all.ts', '', 12), source('a/late.tsx', '', 41)];
  expect(servants(house).map((s) => [s.path, s.by, s.together])).toEqual([['a/of.ts', 'a/room.tsx', 72]]);
});
