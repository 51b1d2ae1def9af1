// How fast a page is there, and that it does not grow: first drawing on loopback and over a slow network, with an empty and
// a filled cache; heap and nodes after five hundred entries against those after fifty.
import { Busy, beginWedge, check, comeIn, newHead, touching, until } from './steps.mjs';

const mostFirst = 600, mostSlow = 4_000, mostFilled = 1_500, mostSettles = 1_000; // ms
const slow = { offline: false, latency: 400, downloadThroughput: 50_000, uploadThroughput: 50_000 }; // ms, bytes/s
const mostGrown = 1.10;
const few = 50, many = 500, heads = 60;

export const measures = true;

export default async function figures({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock is no server';
  const busy = new Busy();
  const page = await browser.page();
  await comeIn(page, server.base);
  const job = await beginWedge(page);
  const address = `${server.base}/#/job/${job}/find`;
  const said = [];
  const fast = await firstDrawing(browser, page, address, null, true);
  said.push(`first drawing ${fast.toFixed(0)} ms`);
  const empty = await firstDrawing(browser, page, address, slow, true);
  const filled = await firstDrawing(browser, page, address, slow, false);
  said.push(`at 400 ms and 50 kB/s ${empty.toFixed(0)} ms, with a filled cache ${filled.toFixed(0)} ms`);
  const settles = await touchSettles(page, address);
  said.push(`there a touch settles in ${settles.toFixed(0)} ms`);
  const grown = await growth(page, address, job);
  said.push(grown.words);
  said.push(busy.words);
  const late = [[fast, mostFirst, 'first drawing on loopback'], [empty, mostSlow, 'slow network, empty cache'], [filled, mostFilled, 'slow network, filled cache'], [settles, mostSettles, 'slow network, a touch settles']].filter(([is, most]) => is > busy.factor * most);
  check(late.length === 0, `${late.map(([is, most, what]) => `${what}: ${is.toFixed(0)} ms, at most ${most}`).join('; ')} (${said.join('; ')})`);
  check(grown.heap <= mostGrown && grown.nodes <= mostGrown, said.join('; '));
  return said.join('; ');
}

// From asking for the page to the first frame with a drawing in it; the quickest of five, since others use the machine too.
async function firstDrawing(browser, page, address, network, cleared) {
  let best = Infinity;
  for (let i = 0; i < 5; ++i) {
    const tab = await page.context().newPage();
    const cdp = await page.context().newCDPSession(tab);
    await cdp.send('Network.enable');
    if (cleared) {
      await cdp.send('Network.clearBrowserCache');
      await cdp.send('Storage.clearDataForOrigin', { origin: new URL(address).origin, storageTypes: 'service_workers,cache_storage,indexeddb' });
    }
    if (network) await cdp.send('Network.emulateNetworkConditions', network);
    const began = Date.now();
    await tab.goto(address, { waitUntil: 'commit' });
    await tab.waitForFunction(() => document.querySelector('.room svg[data-figure] circle, .room [data-drawing] svg :is(line, circle, polyline)') !== null, null, { polling: 'raf', timeout: 60_000 });
    best = Math.min(best, Date.now() - began);
    if (!cleared) await tab.waitForTimeout(300);
    await tab.close();
  }
  return best;
}

// Over the slow network: from the Enter behind a touch to the next guide, worked out with it. The quickest of five.
async function touchSettles(page, address) {
  const tab = await page.context().newPage();
  await tab.goto(address);
  await tab.locator('#head-choice').waitFor();
  await newHead(tab);
  await touching(tab);
  const cdp = await tab.context().newCDPSession(tab);
  await cdp.send('Network.enable');
  await cdp.send('Network.emulateNetworkConditions', slow);
  let best = Infinity;
  for (let i = 0; i < 5; ++i) {
    const guide = await touching(tab);
    const { x, y } = await tab.evaluate((g) => {
      const cells = [...document.querySelectorAll('tbody tr')].find((r) => r.querySelector(`button[aria-label="Touch ${g}"]`)).querySelectorAll('td');
      return { x: cells[0].textContent.replace('−', '-'), y: cells[1].textContent.replace('−', '-') };
    }, guide);
    await tab.getByLabel('X', { exact: true }).fill(x);
    await tab.keyboard.press('Enter');
    await tab.getByLabel('Y', { exact: true }).fill(y);
    const began = Date.now();
    await tab.keyboard.press('Enter');
    await until('the touch has settled', async () => await tab.locator('[aria-label=Touch][aria-busy=false] [data-touching]').count() === 1 && await tab.locator('[data-touching]').innerText() !== guide && await tab.locator('.is-waiting').count() === 0);
    best = Math.min(best, Date.now() - began);
    await tab.waitForTimeout(1_500);
  }
  await tab.close();
  return best;
}

async function growth(page, address, job) {
  await page.goto(address);
  await page.reload();
  await page.locator('.room[aria-label=find]').waitFor();
  // The files a page fetches once it has come to rest (parts/later.tsx, after 4 s) are no growth.
  await page.waitForTimeout(6_000);
  await enter(page, job, 0, few);
  const before = await weigh(page);
  await enter(page, job, few, many);
  const after = await weigh(page);
  return { heap: after.heap / before.heap, nodes: after.nodes / before.nodes, words: `after ${many} entries the heap is ${(after.heap / 1e6).toFixed(1)} MB (${(after.heap / before.heap).toFixed(2)} of that after ${few}), ${after.nodes} nodes (${(after.nodes / before.nodes).toFixed(2)})` };
}

async function enter(page, job, from, to) {
  await page.evaluate(async ([id, a, b, h]) => {
    const { csrf } = await fetch('/api/session').then((r) => r.json());
    const valves = (await fetch(`/api/jobs/${id}/state`).then((r) => r.json())).valves.map((v) => v.id);
    for (let i = a; i < b; ++i) {
      await fetch(`/api/jobs/${id}/entries`, { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf },
        body: JSON.stringify({ kind: 'seat', head: String(100 + (i % h)), valve: valves[Math.floor(i / h) % valves.length], values: { recession: '0.2 mm' }, units: 'mm', client_key: `figures-test-${String(i).padStart(4, '0')}` }) });
    }
  }, [job, from, to, heads]);
  await until('the page has heard of all', async () => await page.evaluate((id) => fetch(`/api/jobs/${id}`).then((r) => r.json()).then((j) => document.querySelector('.title-block')?.textContent.includes(`entry ${j.sequence}`)), job));
  await page.waitForTimeout(1_000);
}

async function weigh(page) {
  const cdp = await page.context().newCDPSession(page);
  await cdp.send('HeapProfiler.enable');
  for (let i = 0; i < 3; ++i) await cdp.send('HeapProfiler.collectGarbage');
  const { usedSize } = await cdp.send('Runtime.getHeapUsage');
  const nodes = await page.evaluate(() => document.querySelectorAll('*').length);
  await cdp.detach();
  return { heap: usedSize, nodes };
}
