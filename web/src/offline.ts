// The service worker: keeps the page itself, so that a tablet switched on while the network is away still opens
// the workbench with what it last knew and with every entry that waits. It never answers for /api: what was
// computed is kept by the page, and entries are sent by the page.

interface Extendable extends Event { waitUntil(done: Promise<unknown>): void }
interface Fetching extends Extendable { request: Request; respondWith(answer: Promise<Response>): void }

const shelfName = 'seatwright-page';

addEventListener('install', (event) => {
  (event as Extendable).waitUntil(keepPage());
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
  fetching.respondWith(address.pathname.startsWith('/assets/') ? keptFirst(request) : newestFirst(request));
});

// The page and all it names, the parts it fetches later among them; what earlier builds left behind goes.
async function keepPage(): Promise<void> {
  const page = await fetch('/', { cache: 'no-cache' });
  const text = await page.clone().text();
  const names = [...text.matchAll(/(?:src|href)="(\/[^"]+)"/g)].map((m) => m[1] ?? '');
  names.push(...(/name="later" content="([^"]*)"/.exec(text)?.[1] ?? '').split(' ').filter((n) => n !== ''));
  await caches.delete(shelfName);
  const shelf = await caches.open(shelfName);
  await shelf.put('/', page);
  await shelf.addAll(names);
}

// Assets carry a hash of their content in their name: a kept one is the right one.
async function keptFirst(request: Request): Promise<Response> {
  return (await caches.match(request)) ?? fetch(request);
}

async function newestFirst(request: Request): Promise<Response> {
  try {
    const answer = await fetch(request);
    if (answer.ok && new URL(request.url).pathname === '/') {
      // A new build names other assets: keep them with it.
      const known = await (await caches.match('/'))?.text();
      if (known !== (await answer.clone().text())) await keepPage();
    }
    return answer;
  } catch (away) {
    const kept = await caches.match(new URL(request.url).pathname);
    if (kept) return kept;
    throw away;
  }
}
