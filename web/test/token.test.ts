import './browser_globals';
import { beforeEach, expect, test, vi } from 'vitest';
import { ask, Refusal, session } from '../src/api/client';
import type { Session } from '../src/api/types';

const signedIn = (csrf: string, id = 1) => ({ csrf, person: { id, name: 'A' } }) as unknown as Session;
const json = (status: number, body: unknown) => new Response(JSON.stringify(body), { status, headers: { 'Content-Type': 'application/json' } });
const sent: string[] = [];

// A server that takes the token "new" alone, and says who is signed in.
function serverOf(person: number, meanwhile: () => void): void {
  vi.stubGlobal('fetch', (path: string, asked: RequestInit) => {
    if (asked.method === 'GET') return Promise.resolve(json(200, signedIn('new', person)));
    const token = (asked.headers as Record<string, string>)['X-CSRF-Token'] ?? '';
    sent.push(`${path} ${token}`);
    meanwhile();
    return Promise.resolve(token === 'new' ? json(200, { id: 7 }) : json(403, { error: 'the token is an old one' }));
  });
}

beforeEach(() => {
  sent.length = 0;
  session.value = signedIn('old');
});

test('what is refused for an old token goes again with the new one', async () => {
  serverOf(1, () => {});
  expect(await ask('POST', '/x', {})).toEqual({ id: 7 });
  expect(sent).toEqual(['/api/x old', '/api/x new']);
});

// After a server was started anew the page asks who is signed in and sends what waits at the same time.
test('also where another part of the page had the new token before the answer came', async () => {
  serverOf(1, () => { session.value = signedIn('new'); });
  expect(await ask('POST', '/x', {})).toEqual({ id: 7 });
  expect(sent).toEqual(['/api/x old', '/api/x new']);
});

test('what one person began is not sent under the name of another', async () => {
  serverOf(2, () => {});
  await expect(ask('POST', '/x', {})).rejects.toSatisfy((fault) => fault instanceof Refusal && fault.status === 401);
  expect(sent).toEqual(['/api/x old']);
});
