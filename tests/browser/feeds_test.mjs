// Readings that come by themselves: an adapter of this test's own is set up on the Shelf while what it sends is shown; its
// X and Y stand at the touch, are put into the fields by a tap, and are stored by the person; the Ledger says from where.
import { createServer } from 'node:net';
import { accessFaults, beginWedge, check, comeIn, newHead, openStage, picture, until } from './steps.mjs';

export default async function feeds({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock follows nothing';
  const adapter = new Adapter();
  await adapter.listening;
  try {
    return await followed(server, browser, adapter);
  } finally {
    adapter.stop();
  }
}

// Says where the table stands, ten times a second, to whoever listens.
class Adapter {
  constructor() {
    this.at = { xpos: '0.0000', ypos: '0.0000' };
    this.sockets = new Set();
    this.server = createServer((socket) => {
      this.sockets.add(socket);
      socket.on('error', () => undefined).on('close', () => this.sockets.delete(socket));
      socket.on('data', () => socket.write('* PONG 10000\n'));
    });
    this.listening = new Promise((done) => { this.server.listen(0, '127.0.0.1', done); });
    this.timer = setInterval(() => { for (const s of this.sockets) s.write(`|xpos|${this.at.xpos}|ypos|${this.at.ypos}\n`); }, 100);
  }
  get port() { return this.server.address().port; }
  stop() {
    clearInterval(this.timer);
    for (const s of this.sockets) s.destroy();
    this.server.close();
  }
}

async function followed(server, browser, adapter) {
  const page = await browser.page();
  await comeIn(page, server.base);
  const job = await beginWedge(page);
  await page.goto(`${server.base}/#/shelf`);
  const section = page.getByLabel('Readings that come by themselves', { exact: true });
  await section.getByText('Set up a feed').click();
  await section.getByLabel('What you call it').fill('mill readout');
  await section.getByLabel('It is', { exact: true }).selectOption('adapter');
  await section.getByLabel('Name or address on the network').fill('127.0.0.1');
  await section.getByLabel('Port').fill(String(adapter.port));
  await section.getByRole('button', { name: 'Look what it sends' }).click();
  await section.locator('[data-sends]').getByText('xpos').waitFor();
  await section.getByLabel('X is what it sends as').fill('xpos');
  await section.getByLabel('Y is what it sends as').fill('ypos');
  await picture(page, 'shelf-feeds');
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n    '));
  await section.getByRole('button', { name: 'Set it up' }).click();
  await section.locator('[data-feed="mill readout"]').waitFor();

  await page.goto(`${server.base}/#/job/${job}/find`);
  await page.locator('.room[aria-label=find]').waitFor();
  await newHead(page);
  await openStage(page, 'find');
  await page.getByLabel('Read from').selectOption({ label: 'mill readout' });
  adapter.at = { xpos: '0.0120', ypos: '-0.0080' };
  const offered = page.locator('[data-offered]');
  await until('what stands still is offered', async () => await offered.count() > 0 && /stood still/.test(await offered.innerText()));
  await picture(page, 'live-reading');
  const before = await page.evaluate((id) => fetch(`/api/jobs/${id}`).then((r) => r.json()).then((j) => j.sequence), job);
  await until('the newest is offered', async () => {
    await offered.click();
    return page.evaluate(() => [...document.querySelectorAll('[aria-label=Touch] .field input')].map((i) => i.value).join(' ') === '0.012 mm -0.008 mm');
  });
  check(await page.evaluate((id) => fetch(`/api/jobs/${id}`).then((r) => r.json()).then((j) => j.sequence), job) === before, 'taking it stored it by itself');
  await page.locator('[aria-label=Touch] .key-enter').click();
  const line = await until('the Ledger has it', () => page.evaluate(() => fetch('/api/ledger').then((r) => r.json()).then((l) => l.lines.map((x) => x.what).find((w) => /from mill readout/.test(w)))));
  check(/x '0\.0120', y '-0\.0080'/.test(line), `the Ledger says ${line}`);
  // The source goes: said where it would be used.
  adapter.stop();
  await page.locator('[data-live] .sentence, [data-live-values].quiet').first().waitFor();
  return line;
}
