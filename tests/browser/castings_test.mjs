// Castings on the Shelf: a job's head is kept, found again by what one knows of it, and begins a new job in two clicks; a
// file comes in, one of a newer program is a sentence.
import { accessFaults, beginWedge, check, comeIn, picture, until } from './steps.mjs';

export default async function castings({ server, browser }) {
  const page = await browser.page();
  await comeIn(page, server.base);
  await beginWedge(page);
  await page.goto(`${server.base}/#/shelf`);
  const section = page.getByLabel('Castings', { exact: true });
  await section.getByLabel('A head of the shop').selectOption({ index: 1 });
  await section.getByRole('button', { name: 'Keep it as a casting' }).click();
  const card = section.locator('[data-casting]');
  await card.first().waitFor();
  const name = await card.getAttribute('data-casting');
  check(/8 valves/.test(await card.innerText()), `the card says ${await card.innerText()}`);
  await keptNotes(page, card, server);
  const spacing = /cylinders ([\d.]+)/.exec(await card.innerText())?.[1];
  check(spacing, `no spacing on the card: ${await card.innerText()}`);
  const other = String(Number(spacing) * 1.2);
  for (const [typed, found] of [['8 valves', 1], ['16 valves', 0], [name.slice(0, 5), 1], ['nobody', 0], ['KX 4711', 1], ['4712', 0], [spacing, 1], [other, 0], [`${spacing} 8 valves kx`, 1]]) {
    await page.getByLabel(/^Search by name/).fill(typed);
    await until(`${typed} finds ${found}`, async () => await card.count() === found);
  }
  await page.getByLabel(/^Search by name/).fill('');
  await picture(page, 'shelf-castings');
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n    '));

  await card.first().waitFor();
  const text = await page.evaluate((href) => fetch(href).then((r) => r.text()), await card.getByText('Take its file').getAttribute('href'));
  const bring = (content) => section.getByText('Bring in a casting’s file').or(section.getByText("Bring in a casting's file")).locator('input[type=file]').setInputFiles({ name: 'casting.toml', mimeType: 'text/plain', buffer: Buffer.from(content) });
  page.expectsNetworkErrors = true; // a refusal is an answer
  await bring(text.replace('form = 1', 'form = 7'));
  await section.getByText(/newer program/).waitFor();
  page.expectsNetworkErrors = false;
  await bring(text.replace(/^name = .*$/m, 'name = "from the shop next door"'));
  await section.locator('[data-casting="from the shop next door"]').waitFor();

  await taught(page, card.first(), name);

  // From the bench: Shelf, New job.
  await page.click('nav >> text=Bench');
  await page.click('nav >> text=Shelf');
  await page.locator(`[data-casting="${name}"]`).getByRole('button', { name: 'New job' }).click();
  await page.locator('.stages').waitFor();
  const id = Number(/job\/(\d+)/.exec(page.url())?.[1]);
  const state = await page.evaluate((job) => fetch(`/api/jobs/${job}/state`).then((r) => r.json()), id);
  check(state.results.hold?.inputs.some((i) => i.from === 'casting'), 'the new job does not stand on its casting');

  // The same from the page of new jobs.
  await page.goto(`${server.base}/#/new`);
  await page.getByLabel('a head the shop has had').check();
  const begin = page.getByLabel('Castings', { exact: true }).locator('li', { hasText: name });
  await picture(page, 'new-job-castings');
  await begin.getByRole('button', { name: 'Begin with it' }).click();
  await page.locator('.stages').waitFor();
  const second = Number(/job\/(\d+)/.exec(page.url())?.[1]);
  check(second > id, 'no other job was made');
}

// The number cast on it, a note and a photograph stay with the casting.
async function keptNotes(page, card, server) {
  await card.locator('summary', { hasText: 'Notes and photographs' }).click();
  await card.getByLabel('Number cast on it').fill('KX 4711');
  await card.getByLabel('Number cast on it').press('Tab');
  await until('the number is on the card', async () => /number KX 4711 cast on it/.test(await card.innerText()));
  await card.getByLabel('A note on this casting').fill('A rib beside cylinder 2 hits the tall post.');
  await card.getByRole('button', { name: 'Keep the note' }).click();
  await card.getByText('A rib beside cylinder 2').waitFor();
  const jpeg = await page.evaluate(() => new Promise((resolve) => {
    const canvas = document.createElement('canvas');
    canvas.width = 300; canvas.height = 200;
    const pen = canvas.getContext('2d');
    pen.fillStyle = '#567'; pen.fillRect(40, 30, 200, 120);
    resolve(canvas.toDataURL('image/jpeg').split(',')[1]);
  }));
  await card.locator('input[type=file]').setInputFiles({ name: 'a.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(jpeg, 'base64') });
  await until('the photograph stands there', async () => await card.locator('img').count() === 1);
  await page.reload();
  await card.locator('summary', { hasText: 'Notes and photographs' }).click();
  await until('it is there after a reload', async () => await card.locator('img').evaluate((i) => i.complete && i.naturalWidth === 300));
  check((await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)) <= 0, 'wider than the screen');
  void server;
}

// A job of the casting with finished heads teaches it while the page stands open; a head of another mould is named; what the
// job says of its head otherwise is a lead's to accept.
async function taught(page, card, name) {
  const post = (path, body) => page.evaluate(async ([to, what]) => {
    const session = await fetch('/api/session').then((r) => r.json());
    const answer = await fetch(to, { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': session.csrf }, body: JSON.stringify(what) });
    return { status: answer.status, body: await answer.json() };
  }, [path, body]);
  const example = await page.evaluate(() => fetch('/api/jobs/1/export').then((r) => r.text()));
  const whole = `casting = "${name}"\n${example.replace(/^casting = .*$/m, '')}`;
  const made = await post('/api/jobs', { from: 'text', text: whole });
  check(made.status === 201, JSON.stringify(made).slice(0, 300));
  await until('the heads have taught', async () => /[1-9]\d* heads? ha(s|ve) taught it/.test(await card.innerText()));
  const read = example.split(/\n(?=\[\[)/).filter((b) => b.startsWith('[[reading.') && /^head = "1"$/m.test(b));
  check(read.length > 8, 'the example has no readings of head 1');
  let n = 0;
  const strange = read.map((b) => b.replace('head = "1"', 'head = "77"').replace(/^y = (.*)$/m, (_, y) => `y = ${(Number(y) + (++n % 3 === 0 ? 0.04 : -0.03 * (n % 2))).toFixed(4)}`)).join('\n');
  const plain = whole.slice(0, whole.indexOf('[[reading.'));
  const other = await post('/api/jobs', { from: 'text', text: `${plain.replace(/^mass = .*$/m, 'mass = "33.5 kg"')}\n${strange}\n` });
  check(other.status === 201, JSON.stringify(other).slice(0, 300));
  await card.locator('[data-stranger]').waitFor();
  check(new RegExp(`Job ${other.body.id}: .*77`).test(await card.locator('[data-stranger]').innerText()), await card.locator('[data-stranger]').innerText());
  await card.locator('summary', { hasText: 'What worked before' }).first().click();
  const worked = await card.locator('table').innerText();
  check(/rpm/.test(worked) && /intake/.test(worked) && /exhaust/.test(worked), worked);

  await card.locator('summary', { hasText: 'describes it otherwise' }).click();
  await picture(page, 'shelf-castings-taught');
  await card.getByRole('button', { name: 'Accept it' }).click();
  await until('it is decided', async () => await card.locator('summary', { hasText: 'describes it otherwise' }).count() === 0);
  const file = await page.evaluate((href) => fetch(href).then((r) => r.text()), await card.getByText('Take its file').getAttribute('href'));
  check(/33\.5 kg/.test(file) && /KX 4711/.test(file) && /jpeg = /.test(file), 'the file lacks what was accepted, the number or the photograph');
}
