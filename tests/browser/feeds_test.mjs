// Readings that come by themselves: an adapter of this test's own is set up on the Shelf while what it sends is shown; its
// X and Y stand at the touch, are put into the fields by a tap, and are stored by the person; the Ledger says from where.
// A gauge that goes round serves whatever is read with it: bores, levels, old seats, measures, a trace, a survey. A
// thousand lines a second leave the page with the newest.
import { createServer } from 'node:net';
import { accessFaults, beginWedge, check, comeIn, newHead, openStage, picture, unfold, until } from './steps.mjs';

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
    return page.evaluate(() => [...document.querySelectorAll('[aria-label=Touch] .field input')].map((i) => i.value).join(' ') === '0.000472 in -0.000315 in');
  });
  check(await page.evaluate((id) => fetch(`/api/jobs/${id}`).then((r) => r.json()).then((j) => j.sequence), job) === before, 'taking it stored it by itself');
  await page.locator('[aria-label=Touch] .key-enter').click();
  const line = await until('the Ledger has it', () => page.evaluate(() => fetch('/api/ledger').then((r) => r.json()).then((l) => l.lines.map((x) => x.what).find((w) => /from mill readout/.test(w)))));
  check(/x '0\.0120', y '-0\.0080'/.test(line), `the Ledger says ${line}`);
  await hurried(page, adapter);
  await everywhere(page, server, job, gauge);
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
  check(await input.inputValue() === `${Number((mm / 25.4).toFixed(6))} in`, `${field} is ${await input.inputValue()}`);
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

// Wherever a figure is read from a dial, a bore gauge, a depth gauge or a level, the gauge offers its own.
async function everywhere(page, server, job, gauge) {
  await openStage(page, 'find');
  await unfold(page, 'Guides and pilots');
  await page.getByText('Enter guide bores').click();
  const bore = page.getByLabel('Guide bore', { exact: true });
  for (const [place, mm] of [['top', 8.021], ['middle', 8.017], ['bottom', 8.019]]) await pressed(page, gauge, bore, `Bore, ${place}`, mm);
  await picture(page, 'live-bores');
  await bore.getByLabel('Bore, bottom').press('Enter');
  await ledgerSays(page, "any '+0008.021'");

  await openStage(page, 'shape');
  await page.getByText('Enter a seat before cutting').click();
  const seat = page.getByLabel('Seat before cutting', { exact: true });
  await pressed(page, gauge, seat, 'Recession', 0.214);
  await section(page, seat, gauge);
  await picture(page, 'live-old-seat');
  await seat.getByRole('button', { name: 'Store the seat' }).click();
  await ledgerSays(page, "any '+0000.214'");
  await ledgerSays(page, "any '-0000.031'");

  // Of a head that is read and has its files.
  await page.getByLabel('Head', { exact: true }).selectOption({ label: '6' });
  await openStage(page, 'cut');
  await page.getByText(/^Type the reading of first seat/).first().click();
  const first = page.getByLabel(/^First seat \w+$/).first();
  await pressed(page, gauge, first, await first.locator('.field label').innerText(), 0.105);
  await first.getByRole('button', { name: /^Store first seat/ }).click();
  await ledgerSays(page, "any '+0000.105'");

  await openStage(page, 'prove');
  const proof = page.getByLabel('Proof', { exact: true });
  await pressed(page, gauge, proof, 'Seat width', 1.612);
  await traced(page, proof, gauge);
  await picture(page, 'live-proof');
  await proof.getByRole('button', { name: /^Store seat/ }).click();
  await ledgerSays(page, "any '+0001.612'");
  await ledgerSays(page, "any '+0000.017'");

  await inDegrees(page, server);
  await page.goto(`${server.base}/#/job/${job}/hold`);
  await page.locator('.room[aria-label=hold]').waitFor();
  await page.getByText('Enter a level reading').click();
  const level = page.getByLabel('Level reading', { exact: true });
  await level.locator('[data-live] select').selectOption({ label: 'dial' });
  await level.getByLabel('Reading', { exact: true }).focus();
  await pressedOnce(level, gauge, '+0000.120');
  await level.locator('[data-offered]').click();
  check(await level.getByLabel('Reading', { exact: true }).inputValue() === '0.12°', `the level is ${await level.getByLabel('Reading', { exact: true }).inputValue()}`);
  await level.getByRole('button', { name: 'Store the reading' }).click();
  await ledgerSays(page, "any '+0000.120'");
  await surveyed(page, server, gauge);
  await page.goto(`${server.base}/#/job/${job}/find`);
  await page.locator('.room[aria-label=find]').waitFor();
}

// A point of the worn section: radius and height from the gauge, one after the other; a second one typed beside it.
async function section(page, seat, gauge) {
  await seat.getByText('Worn section, point by point').click();
  const box = seat.locator('details', { hasText: 'Worn section, point by point' });
  await box.locator('[data-live] select').selectOption({ label: 'dial' });
  for (const [field, line, mm] of [['Radius of the point', '+0026.120', '1.028346 in'], ['Height of the point', '-0000.031', '-0.00122 in']]) {
    await box.getByLabel(field, { exact: true }).focus();
    await pressedOnce(box, gauge, line);
    await box.locator('[data-offered]').click();
    check(await box.getByLabel(field, { exact: true }).inputValue() === mm, `${field} is ${await box.getByLabel(field, { exact: true }).inputValue()}`);
  }
  await box.getByRole('button', { name: 'Add the point' }).click();
  const lines = box.getByLabel('Radius and height, one point a line');
  check(await lines.inputValue() === '1.028346 in -0.00122 in', `the section is ${await lines.inputValue()}`);
  await lines.fill(`${await lines.inputValue()}\n26.4 mm -0.012 mm\n26.7 mm 0.01 mm`);
}

// A dial read round the seat: eight readings, one press each.
async function traced(page, proof, gauge) {
  await proof.getByText('Trace, reading by reading').click();
  const trace = proof.locator('details', { hasText: 'Trace, reading by reading' });
  await trace.locator('[data-live] select').selectOption({ label: 'dial' });
  for (let n = 1; n <= 8; ++n) {
    await trace.getByLabel(`Reading ${n}`, { exact: true }).focus();
    await pressedOnce(trace, gauge, `+0000.${String(10 + n).padStart(3, '0')}`);
    await trace.locator('[data-offered]').click();
    await trace.getByLabel(`Reading ${n}`, { exact: true }).press('Enter');
  }
}

// A digital level says degrees.
async function inDegrees(page, server) {
  await page.goto(`${server.base}/#/shelf`);
  const round = page.getByLabel('Gauges that go round', { exact: true });
  await round.getByText('Change it').click();
  await round.getByLabel('Its numbers are in').selectOption('deg');
  await round.getByRole('button', { name: 'Store it' }).click();
  await until('it is stored', async () => await round.getByRole('button', { name: 'Store it' }).count() === 0);
}

// And in a survey: the sensor on the deck.
async function surveyed(page, server, gauge) {
  const id = await page.evaluate(async () => {
    const session = await fetch('/api/session').then((r) => r.json());
    const made = await fetch('/api/surveys', { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': session.csrf }, body: JSON.stringify({ client_key: 'first', title: 'invented head', units: 'mm', values: { cylinders: 2 } }) });
    return (await made.json()).id;
  });
  await page.goto(`${server.base}/#/survey/${id}`);
  const reading = page.getByLabel('Next reading', { exact: true });
  await reading.locator('[data-live] select').selectOption({ label: 'dial' });
  await reading.getByLabel('Sensor', { exact: true }).focus();
  await pressedOnce(reading, gauge, '+0000.310');
  await reading.locator('[data-offered]').click();
  await reading.getByLabel('Turned half a turn').fill('-0.11');
  await picture(page, 'live-survey');
  await page.keyboard.press('Enter');
  await ledgerSays(page, "the survey 'invented head': recorded a lean: ");
}
