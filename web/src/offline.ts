// The service worker: keeps the page itself, so that a tablet switched on while the network is away still opens
// the workbench with what it last knew and with every entry that waits. It never answers for /api: what was
// computed is kept by the page, and entries are sent by the page.
//
// A page and all its parts are kept on a shelf of their own, the page last: a shelf that has the page is whole. An older
// one goes only when a newer one is whole, so that a tablet switched off at any moment in between has one or the other.

interface Extendable extends Event { waitUntil(done: Promise<unknown>): void }
interface Fetching extends Extendable { request: Request; respondWith(answer: Promise<Response>): void }

const shelves = 'seatwright-page'; // what the name of each begins with
const longestWait = 2_500; // ms for the page itself: then the one kept is shown, since a server that does not answer may never

addEventListener('install', (event) => {
  (event as Extendable).waitUntil(fetch('/', { cache: 'no-cache' }).then(keep));
});
addEventListener('activate', (event) => {
  const { clients } = globalThis as unknown as { clients: { claim(): Promise<void> } };
  (event as Extendable).waitUntil(clients.claim());
});
addEventListener('fetch', (event) => {
  const fetching = event as Fetching;
  const { request } = fetching;
  const address = new URL(request.url);
  if (request.method !== 'GET' || address.origin !== location.origin || address.pathname.startsWith('/api/')) return;
  fetching.respondWith(address.pathname.startsWith('/assets/') ? keptFirst(request) : newestFirst(fetching, address.pathname));
});

const known = async () => (await caches.keys()).filter((name) => name.startsWith(shelves)); // in the order they were made

// The newest that is whole.
async function shelfNow(): Promise<Cache | undefined> {
  for (const name of (await known()).reverse()) {
    const shelf = await caches.open(name);
    if (await shelf.match('/')) return shelf;
  }
  return undefined;
}
const kept = async (path: string) => (await shelfNow())?.match(path);

// One at a time: the worker of an older build may be keeping too.
async function keep(page: Response): Promise<void> {
  await navigator.locks.request(shelves, () => keepAlone(page));
}

// The page and all it names, the parts it fetches later among them; what earlier builds left behind goes.
async function keepAlone(page: Response): Promise<void> {
  const text = await page.clone().text();
  if (!page.ok || (await (await kept('/'))?.text()) === text) return;
  const names = [...text.matchAll(/(?:src|href)="(\/[^"]+)"/g)].map((m) => m[1] ?? '');
  names.push(...(/name="later" content="([^"]*)"/.exec(text)?.[1] ?? '').split(' ').filter((n) => n !== ''));
  const before = await known();
  const name = `${shelves} ${Date.now()} ${Math.random()}`;
  const shelf = await caches.open(name);
  try {
    for (const part of new Set(names)) await putPart(shelf, part);
    await shelf.put('/', page);
  } catch (unfinished) {
    await caches.delete(name);
    throw unfinished;
  }
  for (const old of before) await caches.delete(old);
}

// An asset carries a hash of its content in its name: one kept with an earlier page is the right one.
async function putPart(shelf: Cache, part: string): Promise<void> {
  const before = part.startsWith('/assets/') ? await caches.match(part) : undefined;
  if (before) await shelf.put(part, before);
  else await shelf.add(part);
}

async function keptFirst(request: Request): Promise<Response> {
  return (await caches.match(request)) ?? fetch(request);
}

async function newestFirst(fetching: Fetching, path: string): Promise<Response> {
  const stop = new AbortController(), before = await kept(path);
  const late = before ? setTimeout(() => stop.abort(), longestWait) : undefined;
  try {
    const answer = await fetch(fetching.request.url, { cache: 'no-cache', signal: stop.signal }); // of a navigation no request is made anew
    clearTimeout(late);
    if (answer.ok && path === '/') fetching.waitUntil(keep(answer.clone()).catch(() => undefined)); // the next visit tries again
    return answer;
  } catch (away) {
    if (before) return before;
    throw away;
  }
}
