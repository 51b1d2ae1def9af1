import './browser_globals';
import { afterEach, expect, test, vi } from 'vitest';
import { choose, readerOf, takeNow, watchFeed } from '../src/state/feed';
import type { LengthUnit } from '../src/numbers/quantity';

afterEach(() => vi.unstubAllGlobals());

test('a feed is asked in the unit the page shows, which may change while it is watched', async () => {
  const asked: string[] = [];
  vi.stubGlobal('fetch', (path: string) => {
    asked.push(path);
    return Promise.resolve(new Response('{}', { status: 200, headers: { 'Content-Type': 'application/json' } }));
  });
  const reader = readerOf('touch');
  choose(reader, 7);
  let unit: LengthUnit = 'in';
  const over = watchFeed(reader, () => true, () => unit);
  await vi.waitFor(() => expect(asked).toContain('/api/feeds/7/now?units=in'));
  unit = 'mm';
  await vi.waitFor(() => expect(asked).toContain('/api/feeds/7/now?units=mm'));
  over();
  await takeNow(reader, 'in');
  expect(asked.at(-1)).toBe('/api/feeds/7/take?units=in');
});
