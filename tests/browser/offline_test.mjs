// The network goes and comes back: entries are shown as waiting, sent in order, and two values for one place
// are both kept until the person chooses. Where the browser keeps pages (this machine, https) the page itself comes back
// without a server; over plain http under a name it says that readings wait only while it stays open.
import { beginWedge, check, comeIn, newHead, openStage, picture, touching, until } from './steps.mjs';

export default async function offline({ server, browser, way }) {
  const page = await browser.page({ width: 800, height: 1280 });
  await comeIn(page, server.base);
  await waysOfKeeping(page, way);
  const job = await beginWedge(page);
  await openStage(page, 'find');
  await newHead(page);
  await page.locator('[data-touching]').waitFor();
  const before = (await entriesOf(page, job)).length;

  page.expectsNetworkErrors = true;
  await page.context().setOffline(true);
  const guides = [];
  for (let i = 0; i < 3; ++i) {
    guides.push(await touching(page));
    await page.getByLabel('X', { exact: true }).fill(`0.100${i}`);
    await page.keyboard.press('Enter');
    await page.getByLabel('Y', { exact: true }).fill(`0.200${i}`);
    await page.keyboard.press('Enter');
    await until('the field moves on without a network', async () => await page.locator('[data-touching]').innerText() !== guides[i]);
  }
  check(new Set(guides).size === 3, `the field stood at ${guides.join(', ')}`);
  await page.getByText('3 entries wait on this screen').waitFor();
  await picture(page, 'tablet-offline');

  const comesBack = keepsPages(way) && !process.argv.includes('--mock'); // the mock forgets all when it stops
  if (comesBack) await withoutServer(page, server);

  await page.context().setOffline(false);
  if (comesBack) await server.up();
  await until('nothing waits any more', async () => await page.locator('[data-away], .is-waiting').count() === 0);
  page.expectsNetworkErrors = false;
  const stuck = await page.locator('.strip', { hasText: 'Not stored yet' }).allInnerTexts();
  check(stuck.length === 0, `not stored: ${stuck.join()}`);
  const after = (await entriesOf(page, job)).slice(before);
  check(after.map((e) => e.valve).join() === guides.join(), `sent as ${after.map((e) => e.valve).join()}, made as ${guides.join()}`);
  check(new Set(after.map((e) => e.client_key)).size === 3, 'an entry was sent twice');

  await twoValues(page, job);
}

const keepsPages = (way) => way !== 'http';

// A browser keeps a page for later on this very machine, or from a server whose certificate it trusts; not where it was merely
// told to overlook one.
async function waysOfKeeping(page, way) {
  const said = page.locator('.strip', { hasText: 'readings wait only while this page stays open' });
  if (keepsPages(way)) {
    const worker = await page.evaluate(() => Promise.race([navigator.serviceWorker.ready.then((r) => r.active?.scriptURL ?? ''), new Promise((late) => { setTimeout(() => late(null), 20_000); })]));
    check(worker !== null && /\/offline\.js$/.test(worker), `the browser keeps no page: ${worker}`);
    check(await said.count() === 0, 'a page that is kept says that it is not');
  } else {
    check(await page.evaluate(() => !('serviceWorker' in navigator)), 'this way the browser keeps pages after all');
    await said.waitFor();
  }
}

// Loaded again with the server gone: the page, the job and what waits are there.
async function withoutServer(page, server) {
  await server.down();
  await page.reload({ waitUntil: 'commit' });
  await page.locator('.room[aria-label=find]').waitFor();
  await page.getByText('3 entries wait on this screen').waitFor();
  await picture(page, 'tablet-reloaded-offline');
}

const entriesOf = (page, job) => page.evaluate((id) => fetch(`/api/jobs/${id}/entries`).then((r) => r.json()).then((a) => a.entries), job);

// Another screen's value for a guide, made without having seen ours.
async function twoValues(page, job) {
  if (process.argv.includes('--mock')) return; // the mock knows no conflicts
  const guide = await touching(page);
  await page.getByLabel('X', { exact: true }).fill('0.3');
  await page.keyboard.press('Enter');
  await page.getByLabel('Y', { exact: true }).fill('0.4');
  await page.keyboard.press('Enter');
  await until('the first value is stored', async () => (await entriesOf(page, job)).some((e) => e.valve === guide && e.values.x === '0.3 in'));
  await page.evaluate(async ([id, valve, head]) => {
    const { csrf } = await fetch('/api/session').then((r) => r.json());
    const body = { client_key: `other-screen-${Date.now()}`, kind: 'touch', head, valve, values: { x: '0.5 in', y: '0.6 in' }, units: 'in' };
    const answer = await fetch(`/api/jobs/${id}/entries`, { method: 'POST', body: JSON.stringify(body),
      headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf } });
    if (!answer.ok) throw new Error(await answer.text());
  }, [job, guide, await page.locator('#head-choice').inputValue()]);
  const differ = page.locator('.differ', { hasText: 'which one is right' });
  await differ.waitFor();
  await until('both values are shown', async () => await differ.locator('li').count() === 2);
  await picture(page, 'tablet-two-values');
  await differ.locator('li', { hasText: '0.5 in' }).getByRole('button').click();
  await until('the choice settles it', async () => await page.locator('.differ', { hasText: 'which one is right' }).count() === 0);
}
