// The start of a visit: who is there, what an earlier visit left unsent, and when to try sending again.

import { effect } from '@preact/signals';
import { askEarly, get, giveUp, session } from '../api/client';
import type { Session } from '../api/types';
import { keepAnswer, keepNow, keptAnswer } from '../entry/disk';
import { noteServerTime } from './clock';
import { outbox } from '../entry/outbox';
import { head, job, shown } from './open_job';
import { route } from './route';

const tryAgainAfter = 3_000; // ms, while entries wait or the server is away
const waitsForWord = 2_500; // ms: a server that takes connections and says nothing is as good as away

export async function startSession(): Promise<void> {
  keepPageForLater();
  await outbox.load();
  await askWho();
  addEventListener('online', () => void wake());
  document.addEventListener('visibilitychange', () => {
    void (document.visibilityState === 'visible' ? wake() : keepNow());
  });
  setInterval(() => {
    if (outbox.entries.peek().some((e) => e.state === 'waiting')) void wake();
  }, tryAgainAfter);
  // Signing in sends what waited for it, and is remembered for a visit without a server.
  effect(() => {
    if (!session.value?.person) return;
    keepAnswer('/session', { ...session.value, csrf: null });
    void outbox.flush();
  });
}

// Browsers allow this on this very machine and over TLS; elsewhere the page itself needs the network to open.
function keepPageForLater(): void {
  if (import.meta.env.PROD && 'serviceWorker' in navigator) {
    navigator.serviceWorker.register('/offline.js').catch(() => undefined);
  }
}

// The token is not kept: without the server there is nothing to send it with.
async function askWho(): Promise<void> {
  const asked = get<Session>('/session').then((now) => {
    session.value = now;
    noteServerTime(now.now);
    return true;
  }, () => false);
  const late = new Promise<false>((resolve) => { setTimeout(() => resolve(false), waitsForWord); });
  if (await (session.peek() ? asked : Promise.race([asked, late]))) return;
  const old = await keptAnswer<Session>('/session');
  if (!old) await asked;
  else if (!session.peek()) {
    session.value = old;
    giveUp();
  }
}

async function wake(): Promise<void> {
  if (!session.value?.csrf) await askWho();
  await outbox.flush();
}

// What the first page will ask for, asked for before it is there: who is signed in, and of a job what it was asked last time.
const signedIn = 'seatwright.signed';
const last = (id: number) => `seatwright.state.${id}`;

export function startEarly(): void {
  const at = route.peek();
  if (localStorage.getItem(signedIn) === 'yes') {
    const query = at.page === 'job' && at.head === undefined ? localStorage.getItem(last(at.id)) : null;
    askEarly(['/session', ...(at.page === 'job' ? [`/jobs/${at.id}`, `/jobs/${at.id}/entries`, ...(query === null ? [] : [`/jobs/${at.id}/state${query}`])] : at.page === 'bench' ? ['/jobs?archived=yes'] : [])]);
  }
  effect(() => {
    if (session.value === null) return;
    if (session.value.person) localStorage.setItem(signedIn, 'yes');
    else localStorage.removeItem(signedIn);
  });
  effect(() => {
    const here = job.value;
    if (here && head.value !== '') localStorage.setItem(last(here.id), `?units=${shown.value}&head=${encodeURIComponent(head.value)}`);
  });
}
