// One place that talks to the server: adds the token, tells a refusal (with its sentence) from a server that
// is away.

import { signal } from '@preact/signals';
import type { Fault, Session } from './types';

// The server answered and said no.
export class Refusal extends Error {
  constructor(readonly status: number, sentence: string, readonly body: { version?: number; faults?: Fault[]; second_factor?: boolean; password_needed?: boolean }) {
    super(sentence);
  }
}
// No answer: the network or the server is away.
export class Away extends Error {
  constructor() {
    super('The server does not answer; the network may be away.');
  }
}

// Whoever asked wants no answer any more.
export class TakenBack extends Error {}

export const session = signal<Session | null>(null);
export const serverAway = signal(false);
export const sending = signal(0); // changes on their way to the server

export type Method = 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE';
const longestAnswer = 15_000; // ms: longer than any answer takes, shorter than a person waits
const shortestTry = 3_000; // ms, while the server is away: one that is there says so within that
const patience = () => AbortSignal.timeout(serverAway.peek() ? shortestTry : longestAnswer);
const patienceForBytes = 30_000; // as long as the server waits for them

async function answerOf(method: Method, path: string, body?: unknown, gone?: AbortSignal): Promise<Response> {
  const used = session.peek();
  const response = await askOnce(method, path, body, gone);
  if (response.status !== 403 || method === 'GET' || !(await renewedSince(used))) return accepted(response);
  // What one person began does not go under the name of another; where nobody is signed in the server says so.
  const now = session.peek()?.person;
  if (now && now.id !== used?.person?.id) throw new Refusal(401, 'Somebody else is signed in here now.', {});
  return accepted(await askOnce(method, path, body, gone));
}

// Signed in anew in another window, or by another part of this page while the answer was on its way: the token sent was
// then the old one.
async function renewedSince(used: Session | null): Promise<boolean> {
  if (session.peek()?.csrf !== used?.csrf) return true;
  const now = await askOnce('GET', '/session').then((r) => (r.ok ? (r.json() as Promise<Session>) : null));
  if (!now || now.csrf === used?.csrf) return false;
  session.value = now;
  return true;
}

async function accepted(response: Response): Promise<Response> {
  if (!response.ok) throw await refusalOf(response);
  return response;
}

// Asked for while the page itself is still being made ready: over a slow network each answer waited for in its turn costs a
// round trip. Each is given to whoever asks first, once, and only while it is fresh.
const early = new Map<string, { answer: Promise<Response>; stop: AbortController }>();
const freshFor = 10_000; // ms

export function askEarly(paths: string[]): void {
  for (const path of paths) {
    const stop = new AbortController();
    const answer = fetch(`/api${path}`, { credentials: 'same-origin', cache: 'no-store', signal: stop.signal });
    answer.catch(() => undefined);
    early.set(path, { answer, stop });
  }
  setTimeout(() => early.clear(), freshFor);
}

// A server that takes connections and says nothing: what was asked of it is not waited for any longer.
export function giveUp(): void {
  serverAway.value = true;
  for (const asked of early.values()) asked.stop.abort();
}

// Only a good one: a refusal may be from before somebody signed in, and what failed then may go now.
async function taken(path: string): Promise<Response | undefined> {
  const asked = early.get(path);
  if (!asked) return undefined;
  const late = setTimeout(() => asked.stop.abort(), serverAway.peek() ? shortestTry : longestAnswer);
  const found = await asked.answer.catch(() => undefined);
  clearTimeout(late);
  early.delete(path);
  if (asked.stop.signal.aborted) throw new Away();
  return found?.ok ? found : undefined;
}

// (AbortSignal.any is newer than some tablets that stand in shops.)
function eitherOf(...signals: AbortSignal[]): AbortSignal {
  const ended = new AbortController();
  for (const signal of signals) {
    if (signal.aborted) ended.abort();
    signal.addEventListener('abort', () => ended.abort(), { once: true });
  }
  return ended.signal;
}

async function askOnce(method: Method, path: string, body?: unknown, gone?: AbortSignal): Promise<Response> {
  if (method !== 'GET') early.clear(); // what was known before may be otherwise now
  const headers: Record<string, string> = {};
  const bytes = body instanceof Blob; // a piece of a file, as it is
  if (body !== undefined) headers['Content-Type'] = bytes ? 'application/octet-stream' : 'application/json';
  if (method !== 'GET' && session.value?.csrf) headers['X-CSRF-Token'] = session.value.csrf;
  let response: Response;
  const waits = bytes ? AbortSignal.timeout(patienceForBytes) : patience();
  try {
    response = (method === 'GET' ? await taken(path) : undefined) ?? await fetch(`/api${path}`, {
      method, headers, credentials: 'same-origin', cache: 'no-store', signal: gone ? eitherOf(waits, gone) : waits,
      ...(body === undefined ? {} : { body: bytes ? body : JSON.stringify(body) }),
    });
  } catch {
    if (gone?.aborted) throw new TakenBack();
    serverAway.value = true;
    throw new Away();
  }
  // A proxy's; with a sentence it is the server's own word: damaged data, too much at once.
  if ([502, 503, 504].includes(response.status) && !response.headers.get('Content-Type')?.startsWith('application/json')) {
    serverAway.value = true;
    throw new Away();
  }
  serverAway.value = false;
  return response;
}

async function refusalOf(response: Response): Promise<Refusal> {
  const body = (await response.json().catch(() => ({}))) as { error?: string; version?: number; faults?: Fault[]; second_factor?: boolean };
  if (response.status === 401 && session.value?.person) session.value = { ...session.value, person: null };
  return new Refusal(response.status, body.error ?? `The server refused (status ${response.status}).`, body);
}

export async function ask<T>(method: Method, path: string, body?: unknown, gone?: AbortSignal): Promise<T> {
  if (method !== 'GET') sending.value += 1;
  try {
    const response = await answerOf(method, path, body, gone);
    return (response.status === 204 ? undefined : await response.json()) as T;
  } finally {
    if (method !== 'GET') sending.value -= 1;
  }
}

export const get = <T>(path: string) => ask<T>('GET', path);
export const post = <T>(path: string, body: unknown = {}, gone?: AbortSignal) => ask<T>('POST', path, body, gone);

export async function getText(path: string): Promise<string> {
  return (await answerOf('GET', path)).text();
}

export async function getBytes(path: string): Promise<ArrayBuffer> {
  return (await answerOf('GET', path)).arrayBuffer();
}

export const sentenceOf = (fault: unknown): string => (fault instanceof Error ? fault.message : String(fault));
