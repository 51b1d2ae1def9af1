// The page kept on the device: a new build is kept beside the old one, which goes only when the new one is whole, so that a
// tablet switched off in between still opens; and a server that takes the connection and never answers is as good as away.
import { createServer, request } from 'node:http';
import { Browser } from './browser.mjs';
import { beginWedge, check, comeIn, picture, until } from './steps.mjs';

const tablet = { width: 800, height: 1280 };
const newPart = '/assets/new-part-of-the-next-build.js';

export default async function kept(house) {
  if (process.argv.includes('--mock')) return 'left out: the mock has no pages of its own';
  const build = new NextBuild(house.server);
  try {
    return await switchedOff(house, build);
  } finally {
    await build.stop();
  }
}

// Stands before the server: hands everything on, until it serves the page of a next build, which names a part more.
class NextBuild {
  constructor(server) {
    this.state = 'old'; // then: 'unfinished', whose new part never comes; 'whole'
    this.asked = 0;
    this.sockets = new Set();
    this.http = createServer((from, to) => this.answer(server.port, from, to));
    this.http.on('connection', (socket) => { this.sockets.add(socket); socket.on('close', () => this.sockets.delete(socket)); });
  }

  start(port = 0) {
    return new Promise((done) => { this.http.listen(port, '127.0.0.1', () => { this.port = this.http.address().port; done(`http://127.0.0.1:${this.port}`); }); });
  }

  stop() {
    for (const socket of this.sockets) socket.destroy();
    return new Promise((done) => { this.http.close(done); });
  }

  answer(port, from, to) {
    if (from.url === newPart) {
      this.asked += 1;
      if (this.state === 'whole') to.writeHead(200, { 'Content-Type': 'text/javascript' }).end('// the next build has this too\n');
      return;
    }
    const next = from.url === '/' && this.state !== 'old';
    const headers = { ...from.headers, ...(next ? { 'accept-encoding': 'identity' } : {}) };
    if (next) delete headers['if-none-match'];
    const asked = request({ host: '127.0.0.1', port, path: from.url, method: from.method, headers }, (answer) => {
      if (!next) return answer.pipe(to.writeHead(answer.statusCode, answer.headers));
      let text = '';
      answer.setEncoding('utf8').on('data', (part) => { text += part; }).on('end', () => {
        const page = Buffer.from(text.replace(/(name="later" content=")/, `$1${newPart} `));
        const { etag: _, 'content-length': __, ...rest } = answer.headers;
        to.writeHead(200, { ...rest, 'content-length': page.length }).end(page);
      });
    });
    asked.on('error', () => to.destroy());
    from.on('close', () => { if (!from.complete) asked.destroy(); });
    from.pipe(asked);
  }
}

async function switchedOff(house, build) {
  const base = await build.start();
  const page = await house.browser.page(tablet);
  page.expectsNetworkErrors = true;
  await comeIn(page, base);
  const job = await beginWedge(page);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => true));
  await page.goto(`${base}/#/job/${job}/find`);
  await page.locator('.room[aria-label=find]').waitFor();
  const before = await shelves(page);
  check(before.length === 1 && before[0].whole, `kept are ${JSON.stringify(before)}`);

  // The next build comes, and the device is switched off while its last part is still on its way.
  build.state = 'unfinished';
  void page.goto(`${base}/`, { waitUntil: 'commit' }).catch(() => undefined);
  await until('the next build is being kept', () => build.asked > 0);
  await house.browser.kill();
  await build.stop();

  house.browser = await Browser.start(house.browser.dir);
  const again = await house.browser.page(tablet);
  again.expectsNetworkErrors = true;
  await again.goto(`${base}/#/job/${job}/find`);
  await again.locator('.room[aria-label=find]').waitFor();
  await picture(again, 'kept-old-build');

  // Whole, it takes the place of the old one.
  build.state = 'whole';
  await build.start(build.port);
  await comeIn(again, base); // the cookie may not have reached the disk before the kill
  await again.reload();
  const after = await until('the next build is kept whole, and alone', async () => {
    const now = await shelves(again);
    return now.length === 1 && now[0].whole && now[0].parts.includes(newPart) && now;
  });
  check(after[0].parts.length === before[0].parts.length + 1, `of ${before[0].parts.length} parts came ${after[0].parts.length}`);
  return silent(house, again, base, job);
}

// The server stands still with its door open: the page is there all the same, from what is kept.
async function silent(house, page, base, job) {
  await page.goto(`${base}/#/job/${job}/find`);
  await page.locator('.room[aria-label=find]').waitFor();
  await page.waitForTimeout(1_500); // what was answered last is on the disk
  house.server.child.kill('SIGSTOP');
  try {
    const began = Date.now();
    await page.reload({ waitUntil: 'commit' });
    await page.locator('.room[aria-label=find]').waitFor();
    const took = (Date.now() - began) / 1000;
    await page.locator('[data-away]').waitFor();
    check(took < 15, `beside a server that never answers the job was there after ${took.toFixed(1)} s`);
    return `beside a silent server the job is there after ${took.toFixed(1)} s`;
  } finally {
    house.server.child.kill('SIGCONT');
  }
}

// What the device keeps of the page, a shelf a build.
function shelves(page) {
  return page.evaluate(async () => {
    const all = [];
    for (const name of (await caches.keys()).filter((n) => n.startsWith('seatwright-page'))) {
      const parts = (await (await caches.open(name)).keys()).map((r) => new URL(r.url).pathname);
      all.push({ name, whole: parts.includes('/'), parts });
    }
    return all;
  });
}
