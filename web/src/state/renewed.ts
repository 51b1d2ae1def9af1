// A page that stands open while the workbench is renewed: it keeps the version it first heard, and once it hears another and
// nothing on it would be lost it reloads itself. Entries that wait are sent first; those that cannot be sent stand in the
// browser's store, which outlives the page.

import { effect, signal } from '@preact/signals';
import { get, sending, serverAway, session } from '../api/client';
import { heardAnew } from '../api/events';
import type { Session } from '../api/types';
import { keepNow } from '../entry/disk';
import { isMine, outbox } from '../entry/outbox';

const lookEvery = 1_000; // ms, while this page is older than the server
const place = 'seatwright.renewed'; // the versions this tab has reloaded itself for: never twice for one

export interface Known { first: string | null; heard: string | null; reloadedFor: string[] }
export interface Held { typing: boolean; waiting: number; sending: number }
export type Renewal = 'none' | 'send' | 'wait' | 'reload'; // send: first what waits in the queue

export function renewalOf(known: Known, held: Held): Renewal {
  const { first, heard, reloadedFor } = known;
  if (first === null || heard === null || heard === first || reloadedFor.includes(heard)) return 'none';
  if (held.waiting > 0) return 'send';
  return held.typing || held.sending > 0 ? 'wait' : 'reload';
}

export const renewed = signal(false); // the server is another than this page is of, and the page could not reload yet

const known: Known = { first: null, heard: null, reloadedFor: [] };
let looks = 0; // the newest look alone goes on

export function startRenewal(typing: () => boolean): void {
  known.reloadedFor = JSON.parse(sessionStorage.getItem(place) ?? '[]') as string[];
  const hear = (version: string) => {
    known.first ??= version;
    if (known.heard === version) return;
    known.heard = version;
    void look(typing);
  };
  const askAgain = () => void versionNow().then((version) => { if (version !== undefined) hear(version); });
  effect(() => { if (session.value) hear(session.value.version); });
  effect(() => { if (heardAnew.value > 0) askAgain(); });
  let away = false;
  effect(() => {
    if (away && !serverAway.value) askAgain();
    away = serverAway.value;
  });
  document.addEventListener('visibilitychange', () => { if (document.visibilityState === 'visible') askAgain(); });
}

const versionNow = () => get<Session>('/session').then((now) => now.version, () => undefined);

async function look(typing: () => boolean): Promise<void> {
  const own = ++looks;
  const now = () => renewalOf(known, {
    typing: typing(), sending: sending.peek(), waiting: outbox.entries.peek().filter((e) => e.state === 'waiting' && isMine(e)).length,
  });
  const wanted = now();
  renewed.value = wanted !== 'none';
  if (wanted === 'none') return;
  if (wanted === 'send' && !outbox.away.peek()) await outbox.flush();
  // Asked once more: without a server the page would not come back everywhere.
  if (wanted === 'reload' && await versionNow() === known.heard && own === looks && now() === 'reload') {
    known.reloadedFor.push(String(known.heard));
    sessionStorage.setItem(place, JSON.stringify(known.reloadedFor));
    await keepNow();
    location.reload();
    return;
  }
  setTimeout(() => { if (own === looks) void look(typing); }, lookEvery);
}
