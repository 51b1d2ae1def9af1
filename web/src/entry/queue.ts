// The queue of entries: each is stored in the browser first, then sent, strictly in the order made. An entry
// leaves the queue only when the server has acknowledged it or the person lets it go.

import { signal } from '@preact/signals';
import type { Waiting, WaitingStore } from './waiting';
import { newKey } from './waiting';

// What became of one attempt to send.
export type Outcome =
  | { kind: 'taken'; answer: unknown }
  | { kind: 'away' } // no network, or the server is not there: try again later
  | { kind: 'refused'; sentence: string }
  | { kind: 'differs'; sentence: string; theirs: unknown };

export type Send = (entry: Waiting) => Promise<Outcome>;
export type NewEntry = Pick<Waiting, 'job' | 'method' | 'path' | 'body' | 'words' | 'place' | 'by'>;
// Whether an entry may go now: it waits for whoever made it.
export type Goes = (entry: Waiting) => boolean;

export class EntryQueue {
  readonly entries = signal<Waiting[]>([]);
  readonly away = signal(false);
  private running: Promise<void> | undefined;
  private again = false;
  private listeners: ((entry: Waiting, answer: unknown) => void | Promise<void>)[] = [];

  constructor(private readonly store: WaitingStore, private readonly send: Send, private readonly goes: Goes = () => true) {}

  onTaken(listener: (entry: Waiting, answer: unknown) => void | Promise<void>): void {
    this.listeners.push(listener);
  }

  // Entries left by an earlier visit, a killed browser included.
  async load(): Promise<void> {
    this.entries.value = await this.store.all();
  }

  // Resolves once the entry is stored in the browser; sending goes on behind.
  async add(entry: NewEntry): Promise<Waiting> {
    const stored = await this.store.add({
      ...entry, key: newKey(), madeAt: new Date().toISOString(), state: 'waiting',
    });
    this.entries.value = [...this.entries.value, stored];
    void this.flush();
    return stored;
  }

  // Sends what waits, oldest first. Calls made meanwhile share the same run.
  flush(): Promise<void> {
    if (this.running) {
      this.again = true;
      return this.running;
    }
    this.running = this.run().finally(() => {
      this.running = undefined;
      if (this.again) {
        this.again = false;
        void this.flush();
      }
    });
    return this.running;
  }

  // The person's answer to a refused or differing entry.
  async letGo(key: string): Promise<void> {
    await this.store.remove(key);
    this.entries.value = this.entries.value.filter((e) => e.key !== key);
  }
  // Sends an entry once more, changed: a value corrected, or a base moved so that it now stands over theirs.
  async sendAgain(key: string, change: Partial<Pick<Waiting, 'method' | 'path' | 'body' | 'words'>>): Promise<void> {
    const entry = this.entries.value.find((e) => e.key === key);
    if (!entry) return;
    const { sentence: _, theirs: __, ...rest } = entry;
    await this.keep({ ...rest, ...change, state: 'waiting' });
    await this.flush();
  }

  // Entries that wait, seen anew: what was just stored for another one is now the ground they stand on.
  async rebase(change: (entry: Waiting) => Waiting | undefined): Promise<void> {
    for (const entry of this.entries.value) {
      const now = entry.state === 'waiting' ? change(entry) : undefined;
      if (now) await this.keep(now);
    }
  }

  private async keep(entry: Waiting): Promise<void> {
    await this.store.replace(entry);
    this.entries.value = this.entries.value.map((e) => (e.key === entry.key ? entry : e));
  }

  private async run(): Promise<void> {
    for (;;) {
      const next = this.entries.value.find((e) => e.state === 'waiting' && this.goes(e));
      if (!next) {
        this.away.value = false;
        return;
      }
      const outcome = await this.send(next);
      if (outcome.kind === 'away') {
        this.away.value = true;
        return;
      }
      this.away.value = false;
      if (outcome.kind === 'taken') {
        // Told before it is let go, so that at no moment it is neither waiting nor stored.
        for (const listener of this.listeners) await listener(next, outcome.answer);
        await this.letGo(next.key);
      } else if (outcome.kind === 'refused') {
        await this.keep({ ...next, state: 'refused', sentence: outcome.sentence });
      } else {
        await this.keep({ ...next, state: 'differs', sentence: outcome.sentence, theirs: outcome.theirs });
      }
    }
  }
}
