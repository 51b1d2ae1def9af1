// The workbench is renewed while a page stands open: the page says so, keeps what is typed and what waits, and reloads
// itself once nothing would be lost; never twice for one version.
import { createServer, request } from 'node:http';
import { beginWedge, check, comeIn, newHead, openStage, picture, touching, until } from './steps.mjs';

export default async function renewed({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock has no streams that end';
  const front = new Front(server.port);
  try {
    return await walked(browser, await front.start(), front);
  } finally {
    await front.stop();
  }
}

// Stands before the server: hands everything on, but says another version, and may keep entries from it.
class Front {
  constructor(port) {
    this.port = port;
    this.version = null; // null: the server's own
    this.takes = true; // entries
    this.sockets = new Set();
    this.streams = new Set();
    this.http = createServer((from, to) => this.answer(from, to));
    this.http.on('connection', (socket) => { this.sockets.add(socket); socket.on('close', () => this.sockets.delete(socket)); });
  }

  start() {
    return new Promise((done) => { this.http.listen(0, '127.0.0.1', () => done(`http://127.0.0.1:${this.http.address().port}`)); });
  }

  stop() {
    for (const socket of this.sockets) socket.destroy();
    return new Promise((done) => { this.http.close(done); });
  }

  // As a restart does: the streams end.
  renew(version) {
    this.version = version;
    for (const stream of this.streams) stream.destroy();
  }

  answer(from, to) {
    if (!this.takes && from.method === 'POST' && from.url.includes('/entries')) return to.destroy();
    const session = from.url === '/api/session';
    const headers = { ...from.headers, ...(session ? { 'accept-encoding': 'identity' } : {}) };
    const asked = request({ host: '127.0.0.1', port: this.port, path: from.url, method: from.method, headers }, (answer) => {
      if (from.url.includes('/events')) {
        this.streams.add(to);
        to.on('close', () => { this.streams.delete(to); asked.destroy(); });
      }
      if (!session || answer.statusCode !== 200 || this.version === null) return answer.on('error', () => to.destroy()).pipe(to.writeHead(answer.statusCode, answer.headers));
      let text = '';
      answer.setEncoding('utf8').on('data', (part) => { text += part; }).on('end', () => {
        const said = Buffer.from(JSON.stringify({ ...JSON.parse(text), version: this.version }));
        to.writeHead(200, { ...answer.headers, 'content-length': said.length }).end(said);
      });
    });
    asked.on('error', () => to.destroy());
    from.pipe(asked);
  }
}

const idle = 5_000; // ms: longer than the page looks for a hand at it

async function walked(browser, base, front) {
  const page = await browser.page({ width: 800, height: 1280 });
  page.expectsNetworkErrors = true; // streams that end, entries that do not arrive
  await comeIn(page, base);
  const job = await beginWedge(page);
  await openStage(page, 'find');
  await newHead(page);
  const guide = await touching(page);
  const mark = () => page.evaluate(() => { globalThis.sameVisit = true; });
  const same = () => page.evaluate(() => globalThis.sameVisit === true);
  const reloaded = (words) => until(words, async () => !(await same().catch(() => true)));
  await mark();

  // Half typed.
  await page.getByLabel('X', { exact: true }).fill('0.1004');
  front.renew('9.0.0');
  await page.locator('[data-renewed]').waitFor();
  check(/was renewed/.test(await page.locator('[data-renewed]').innerText()), 'the line says something else');
  await page.locator('h2').first().click(); // the field is left, its figure not stored
  await page.waitForTimeout(idle);
  check(await same(), 'the page reloaded although a figure was half typed');
  check(await page.getByLabel('X', { exact: true }).inputValue() === '0.1004', 'what was half typed is gone');
  await picture(page, 'renewed-waits');

  // Waiting in the queue.
  front.takes = false;
  await page.getByLabel('X', { exact: true }).press('Enter');
  await page.getByLabel('Y', { exact: true }).fill('0.2004');
  await page.keyboard.press('Enter');
  await page.getByText('1 entry waits on this screen').waitFor();
  await page.locator('h2').first().click();
  await page.waitForTimeout(idle);
  check(await same(), 'the page reloaded although an entry waits');
  front.takes = true;
  await reloaded('once the entry is sent the page reloads');
  await page.locator('[data-touching]').waitFor();
  const entries = (await page.evaluate((id) => fetch(`/api/jobs/${id}/entries`).then((r) => r.json()), job)).entries.filter((e) => e.valve === guide && e.values.x === '0.1004 in');
  check(entries.length === 1, `the entry that waited is stored ${entries.length} times`);
  check(await page.locator('[data-renewed]').count() === 0, 'the page of the new version says it is old');

  // The same version again, then a third, which an idle page follows, then one it has been reloaded for before.
  await mark();
  front.renew('9.0.0');
  await page.waitForTimeout(idle);
  check(await same(), 'the page reloaded for the version it has');
  front.renew('9.0.1');
  await reloaded('an idle page reloads by itself');
  await page.locator('[data-touching]').waitFor();
  await mark();
  front.renew('9.0.0');
  await page.waitForTimeout(idle);
  check(await same(), 'the page reloaded twice for one version');
  check(await page.locator('[data-renewed]').count() === 0, 'the page promises a reload that does not come');
}
