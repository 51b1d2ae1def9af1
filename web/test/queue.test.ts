import './browser_globals';
import 'fake-indexeddb/auto';
import { beforeEach, describe, expect, it } from 'vitest';
import { disk } from '../src/entry/disk';
import { EntryQueue, type NewEntry, type Outcome } from '../src/entry/queue';
import type { Waiting } from '../src/entry/waiting';

const touch = (valve: string, x = '1'): NewEntry => ({
  job: 'j1', method: 'POST', path: `/jobs/j1/readings`, body: { valve, x }, words: `touch ${valve}`, place: `touch/1/${valve}`,
});

// A server that can be pulled from the wall.
class FakeServer {
  present = true;
  got: Waiting[] = [];
  answer: (entry: Waiting) => Outcome = () => ({ kind: 'taken', answer: {} });
  send = async (entry: Waiting): Promise<Outcome> => {
    await Promise.resolve();
    if (!this.present) return { kind: 'away' };
    const outcome = this.answer(entry);
    if (outcome.kind === 'taken') this.got.push(entry);
    return outcome;
  };
  valves = () => this.got.map((e) => e.body['valve']);
}

let server: FakeServer;
beforeEach(async () => {
  server = new FakeServer();
  for (const entry of await disk.all()) await disk.remove(entry.key);
});

describe('the queue of entries', () => {
  it('sends in the order made and keeps nothing that was taken', async () => {
    const queue = new EntryQueue(disk, server.send);
    await Promise.all(['1I', '1E', '2I'].map((v) => queue.add(touch(v))));
    await queue.flush();
    await queue.flush();
    expect(server.valves()).toEqual(['1I', '1E', '2I']);
    expect(await disk.all()).toEqual([]);
  });

  it('holds entries while the server is away and sends them in order when it is back', async () => {
    const queue = new EntryQueue(disk, server.send);
    server.present = false;
    for (const v of ['1I', '1E', '2I']) await queue.add(touch(v));
    await queue.flush();
    expect(queue.away.value).toBe(true);
    expect(queue.entries.value.map((e) => e.state)).toEqual(['waiting', 'waiting', 'waiting']);
    server.present = true;
    await queue.flush();
    expect(server.valves()).toEqual(['1I', '1E', '2I']);
    expect(queue.away.value).toBe(false);
  });

  it('outlives its page: a new queue finds what an earlier one stored', async () => {
    server.present = false;
    const before = new EntryQueue(disk, server.send);
    const first = await before.add(touch('1I'));
    await before.add(touch('1E'));
    const after = new EntryQueue(disk, server.send);
    await after.load();
    server.present = true;
    await after.flush();
    expect(server.valves()).toEqual(['1I', '1E']);
    expect(server.got[0]?.key).toBe(first.key); // the same client key, so a retry is the same entry
  });

  it('keeps a refused entry with its sentence and goes on with the rest', async () => {
    server.answer = (e) => e.body['valve'] === '9X'
      ? { kind: 'refused', sentence: 'This head has no valve 9X.' } : { kind: 'taken', answer: {} };
    const queue = new EntryQueue(disk, server.send);
    await queue.add(touch('9X'));
    await queue.add(touch('1I'));
    await queue.flush();
    expect(server.valves()).toEqual(['1I']);
    expect(queue.entries.value).toMatchObject([{ state: 'refused', sentence: 'This head has no valve 9X.' }]);
    expect(await disk.all()).toMatchObject([{ state: 'refused' }]);
  });

  it('keeps both values where they differ until the person chooses', async () => {
    let based = false;
    server.answer = (e) => e.body['over'] === 7 || based
      ? { kind: 'taken', answer: {} } : { kind: 'differs', sentence: 'Another value stands here.', theirs: { id: 7, x: '2' } };
    const queue = new EntryQueue(disk, server.send);
    const mine = await queue.add(touch('1I'));
    await queue.flush();
    expect(queue.entries.value).toMatchObject([{ state: 'differs', theirs: { id: 7, x: '2' } }]);
    based = true;
    await queue.sendAgain(mine.key, { body: { ...mine.body, over: 7 } });
    expect(server.got).toHaveLength(1);
    expect(queue.entries.value).toEqual([]);
  });

  it('tells who listens what was taken', async () => {
    const queue = new EntryQueue(disk, server.send);
    const heard: string[] = [];
    queue.onTaken((entry) => { heard.push(entry.words); });
    await queue.add(touch('3E'));
    await queue.flush();
    expect(heard).toEqual(['touch 3E']);
  });
});
