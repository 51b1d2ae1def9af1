// Readings that come by themselves: an adapter of this test's own is set up on the Shelf while what it sends is shown; its
// X and Y stand at the touch, are put into the fields by a tap, and are stored by the person; the Ledger says from where.
// A gauge that goes round serves whatever is read with it: bores, levels, old seats, measures, a trace, a survey. A
// thousand lines a second leave the page with the newest.
import { createServer } from 'node:net';
import { accessFaults, beginWedge, check, comeIn, newHead, openStage, picture, until } from './steps.mjs';

export default async function feeds({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock follows nothing';
  const adapter = new Adapter(), gauge = new Gauge();
  await Promise.all([adapter.listening, gauge.listening]);
  try {
    return await followed(server, browser, adapter, gauge);
  } finally {
    adapter.stop();
    gauge.stop();
  }
}

// Sends what it measures when its button is pressed.
class Gauge {
  constructor() {
    this.sockets = new Set();
    this.server = createServer((socket) => {
      this.sockets.add(socket);
      socket.on('error', () => undefined).on('close', () => this.sockets.delete(socket));
    });
    this.listening = new Promise((done) => { this.server.listen(0, '127.0.0.1', done); });
  }
  get port() { return this.server.address().port; }
  press(line) { for (const s of this.sockets) s.write(`${line}\r\n`); }
  stop() {
    for (const s of this.sockets) s.destroy();
    this.server.close();
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
    this.timer = setInterval(() => this.say(), 100);
  }
  say() { for (const s of this.sockets) s.write(`|xpos|${this.at.xpos}|ypos|${this.at.ypos}\n`); }
  // A thousand lines a second, X counting up by 0.001, for so many seconds; then it stands where it is.
  async hurry(seconds) {
    clearInterval(this.timer);
    const began = Date.now();
    for (let said = 0; said < 1000 * seconds;) {
      for (; said < Date.now() - began; ++said) {
        this.at.xpos = (said / 1000).toFixed(4);
        this.say();
      }
      await new Promise((done) => { setTimeout(done, 5); });
    }
    this.timer = setInterval(() => this.say(), 100);
  }
  get port() { return this.server.address().port; }
  stop() {
    clearInterval(this.timer);
    for (const s of this.sockets) s.destroy();
    this.server.close();
  }
}

async function followed(server, browser, adapter, gauge) {
  const page = await browser.page();
  await comeIn(page, server.base);
  const job = await beginWedge(page);
  await page.goto(`${server.base}/#/shelf`);
  const section = page.getByLabel('Readings of long table come from', { exact: true });
  await section.getByText('Set up a feed').click();
  await section.getByLabel('What you call it').fill('mill');
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
  await section.locator('[data-feed=mill]').waitFor();
  // It is changed where it stands, with what was set up in its form.
  await section.getByText('Change it').click();
  check(await section.getByLabel('X is what it sends as').inputValue() === 'xpos', 'the form does not show what is set up');
  await section.getByLabel('What you call it').fill('mill readout');
  await section.getByLabel('for so many seconds').fill('0.5');
  await section.getByRole('button', { name: 'Store it' }).click();
  await section.locator('[data-feed="mill readout"]').waitFor();
  await setUpGauge(page, gauge);

  await page.goto(`${server.base}/#/job/${job}/find`);
  await page.locator('.room[aria-label=find]').waitFor();
  await newHead(page);
  await openStage(page, 'find');
  await page.getByLabel('Touch', { exact: true }).getByLabel('Read from').selectOption({ label: 'mill readout' });
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
  await hurried(page, adapter);
  await openStage(page, 'find');
  // The source goes: said where it would be used.
  adapter.stop();
  await page.locator('[data-live] .sentence, [data-live-values].quiet').first().waitFor();
  return line;
}

async function setUpGauge(page, gauge) {
  const section = page.getByLabel('Gauges that go round', { exact: true });
  await section.getByText('Set up a feed').click();
  await section.getByLabel('What you call it').fill('dial');
  await section.getByLabel('It is', { exact: true }).selectOption('network');
  await section.getByLabel('Name or address on the network').fill('127.0.0.1');
  await section.getByLabel('Port').fill(String(gauge.port));
  await section.getByLabel('A reading is offered when').selectOption('each');
  await picture(page, 'shelf-gauge');
  await section.getByRole('button', { name: 'Set it up' }).click();
  await section.locator('[data-feed=dial]').waitFor();
}

// What the page shows while it hurries is never older than a second and a half.
async function hurried(page, adapter) {
  const seconds = 6;
  const done = adapter.hurry(seconds);
  let worst = 0, seen = 0;
  for (const until = Date.now() + 1000 * (seconds - 1); Date.now() < until;) {
    const text = await page.locator('[aria-label=Touch] [data-live-values]').innerText();
    const [, figure, unit] = /X (-?[\d.]+) (in|mm)/.exec(text) ?? [];
    const x = Number(figure) * (unit === 'in' ? 25.4 : 1);
    const behind = Number(adapter.at.xpos) - x;
    if (Number.isFinite(behind) && x > 1) {
      worst = Math.max(worst, behind);
      seen += 1;
    }
    await new Promise((rest) => { setTimeout(rest, 100); });
  }
  await done;
  check(seen > 10, `the page showed ${seen} values in ${seconds} s`);
  check(worst < 1.5, `the page was ${worst.toFixed(2)} s behind a thousand lines a second`);
  console.log(`    a thousand lines a second: the page was at most ${worst.toFixed(2)} s behind`);
}

// One press of the gauge's button, one tap: its figure stands in the field somebody stands in.
async function pressed(page, gauge, entry, field, mm) {
  await entry.scrollIntoViewIfNeeded();
  await entry.locator('[data-live] select').first().selectOption({ label: 'dial' });
  const input = entry.getByLabel(field, { exact: true });
  await input.focus();
  await pressedOnce(entry, gauge, `+${mm.toFixed(3).padStart(8, '0')}`);
  await entry.locator('[data-offered]').first().click();
  check(await input.inputValue() === `${Number(mm.toFixed(5))} mm`, `${field} is ${await input.inputValue()}`);
  check(await entry.locator('[data-offered]').count() === 0, 'what was used is offered again');
}

// Its button, once the server follows it; what was pressed before and used is not offered again.
async function pressedOnce(entry, gauge, line) {
  await until('the server follows the gauge', async () => gauge.sockets.size > 0);
  await entry.locator('[data-live-values]').first().waitFor();
  const before = await entry.locator('[data-offered]').count() > 0 ? await entry.locator('[data-offered]').first().getAttribute('data-offered') : null;
  gauge.press(line);
  await until(`${line} is offered`, async () => await entry.locator('[data-offered]').count() > 0 && await entry.locator('[data-offered]').first().getAttribute('data-offered') !== before);
}

const ledgerSays = (page, words) => until(`the Ledger says ${words}`, () => page.evaluate((w) => fetch('/api/ledger').then((r) => r.json()).then((l) => l.lines.some((x) => x.what.includes(w))), words));
