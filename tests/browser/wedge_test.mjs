// The whole job of the wedge demo by clicks and typing, from an empty Bench to the certificate.
import { accessFaults, beginWedge, check, comeIn, docsPicture, newHead, openStage, picture, touching, unfold, until } from './steps.mjs';

export default async function wedge({ server, browser }) {
  const page = await browser.page();
  await comeIn(page, server.base);

  await page.getByText('The bench is empty').waitFor();
  const job = await beginWedge(page);

  await newHead(page);
  await hold(page);
  await find(page);
  await shape(page);
  await cut(page, server, job);
  await prove(page, server, job);

  await page.click('nav >> text=Bench');
  await page.locator('.card').waitFor();
  await picture(page, 'desktop-bench');
  await docsPicture(page, 'bench');
  await faultless(page, 'Bench');
  for (const place of ['Shelf', 'Ledger']) {
    await page.click(`nav >> text=${place}`);
    await page.locator('h1', { hasText: place }).waitFor();
    await page.locator('article, tbody tr').first().waitFor();
    await picture(page, `desktop-${place.toLowerCase()}`);
    await faultless(page, place);
  }
}

async function faultless(page, where) {
  const faults = await accessFaults(page);
  check(faults.length === 0, `${where}: ${faults.join('\n    ')}`);
}

async function hold(page) {
  await openStage(page, 'hold');
  await page.locator('[data-drawing] svg').first().waitFor();
  const line = await page.locator('.room .stage-line').innerText();
  check(/tilt/i.test(line) && /\d/.test(line), `hold's line is no answer: ${line}`);
  // Looking at another tilt: the worst plumb error grows, nothing is stored.
  const before = await page.locator('[data-value=worst-plumb]').innerText();
  await page.getByLabel('Drag the tilt').focus();
  for (let i = 0; i < 10; ++i) await page.keyboard.press('ArrowRight');
  await until('the plumb error follows the tilt', async () => await page.locator('[data-value=worst-plumb]').innerText() !== before);
  await page.getByText('Back to the planned').click();
  await until('the planned tilt is back', async () => await page.locator('[data-value=worst-plumb]').innerText() === before);
  // A level reading, with the sensor turned round.
  await page.getByText('Enter a level reading').click();
  await page.getByLabel('Reading', { exact: true }).fill('0,12');
  await page.getByLabel('Level turned round').fill('-0.08');
  await page.click('text=Store the reading');
  await page.getByText(/upper ends move|guides stand plumb/).first().waitFor();
  await page.getByRole('button', { name: 'Why Tilt' }).click();
  await page.locator('.because .formula').first().waitFor();
  await picture(page, 'desktop-hold');
  await faultless(page, 'hold');
}

async function find(page) {
  await openStage(page, 'find');
  await page.locator('[data-drawing] svg').first().waitFor();
  // Nonsense gets a sentence under the field and stays in it.
  await page.getByLabel('X', { exact: true }).fill('abc');
  await page.keyboard.press('Enter');
  check(await page.getByText('has no number in it').count() === 1, 'nonsense got no sentence');
  // One guide by the keypad, the next one as a gauge types it.
  const first = await touching(page);
  await page.getByLabel('X', { exact: true }).fill('');
  await page.getByLabel('X', { exact: true }).focus();
  const at = await mapOf(page, first);
  for (const key of at.x) await press(page, key);
  await page.getByLabel('Touch', { exact: true }).locator('.key-enter').click();
  for (const key of at.y) await press(page, key);
  await page.getByLabel('Touch', { exact: true }).locator('.key-enter').click();
  await until('the field moves on', async () => {
    const now = await page.locator('[data-touching]').innerText();
    return now !== first && now;
  });
  const next = await mapOf(page, await touching(page));
  await page.locator('h2').first().click(); // nothing has the focus when the gauge speaks
  await page.keyboard.type(`${next.x}\n${next.y}\n`);
  await until('the gauge’s touch is stored', async () => await page.getByText('Touches (2)').count() === 1);
  await page.getByText(/^Touches \(/).click();
  await picture(page, 'desktop-find');
  await docsPicture(page, 'find');
  await faultless(page, 'find');
}

// Where the map says a guide is, in the units shown: what an honest readout would say, off by a little.
async function mapOf(page, guide) {
  const cells = page.locator('tbody tr', { has: page.locator(`button[aria-label="Touch ${guide}"]`) }).locator('td');
  const plain = (text) => String(Number(text.replace('−', '-')) + 0.0004);
  return { x: Number(plain(await cells.nth(0).textContent())).toFixed(4), y: Number(plain(await cells.nth(1).textContent())).toFixed(4) };
}

async function press(page, key) {
  const name = { '.': 'point', '-': 'minus' }[key] ?? key;
  await page.getByLabel('Touch', { exact: true }).locator('.keypad').getByRole('button', { name, exact: true }).click();
}

async function shape(page) {
  await openStage(page, 'shape');
  await page.locator('[data-drawing] svg').first().waitFor();
  const contact = () => page.locator('[data-value=contact-od]').textContent();
  await until('there is a contact diameter', async () => /\d/.test(await contact()));
  const width = page.getByLabel('seat face, width');
  const old = await width.inputValue();
  const face = () => page.locator('[data-name=face]').first().innerHTML();
  const drawn = await face();
  await width.fill('1/16 in');
  await width.press('Enter');
  await until('the new width is stored', async () => await width.inputValue() === '0.0625' || await width.inputValue() === '1.588');
  await until('undo is offered', async () => await page.getByRole('button', { name: /^Undo: intake seat face/ }).count() === 1);
  await page.getByRole('button', { name: /^Undo: intake seat face/ }).click();
  await until('undo brings the old width back', async () => await width.inputValue() === old && await face() === drawn);
  await byHand(page, width, old);
  await picture(page, 'desktop-shape');
  await docsPicture(page, 'shape');
  await faultless(page, 'shape');
}

// The seat face taken on the drawing itself and drawn wider, then undone.
async function byHand(page, width, old) {
  if (process.argv.includes('--mock')) return; // the mock's section answers to nothing
  await page.evaluate(() => scrollTo(0, 0));
  const box = await page.locator('[data-name=face]').first().boundingBox();
  const at = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  await page.mouse.move(at.x + 15, at.y - 15, { steps: 6 });
  await page.mouse.up();
  await until('the width follows the hand', async () => Number(await width.inputValue()) > Number(old));
  await until('undo is offered again', async () => await page.getByRole('button', { name: /^Undo: intake seat face/ }).count() === 1);
  await page.getByRole('button', { name: /^Undo: intake seat face/ }).click();
  await until('undo brings the old width back', async () => await width.inputValue() === old);
}

async function cut(page, server, job) {
  await openStage(page, 'cut');
  await heldBack(page);
  await page.getByLabel('Head', { exact: true }).selectOption('6');
  await page.getByText('read back and found right').first().waitFor();
  await until('the program’s text stands there', async () => /M(30|2)|%/.test(await page.locator('.program-text').first().textContent()));
  await until('cut has a drawing', async () => await page.locator('[data-drawing] svg').count() > 0);
  await everyFile(page, job);
  const file = await page.locator('a[download*=program]').first().getAttribute('href');
  check((await fetch(`${server.base}/`)).ok && file.includes(`/api/jobs/${job}/papers/`), 'no program to take');
  await picture(page, 'desktop-cut');
  await faultless(page, 'cut');
  await firstSeat(page);
  await brokenBlade(page);
  await page.getByLabel('Head', { exact: true }).selectOption('7');
}

// No seat of the new head is read: it has no program, and each seat says why and what frees it.
async function heldBack(page) {
  if (process.argv.includes('--mock')) return;
  await page.getByText('no file of setup A is handed out').waitFor();
  const held = page.getByLabel('Held back', { exact: true }).locator('li', { hasText: 'is not measured' });
  await until('eight seats are held back', async () => await held.count() === 8); // its touches are worked out
  check(/is not measured.*What frees it: /.test(await held.first().innerText()), `a seat held back says: ${await held.first().innerText()}`);
}

// The first seat's depth is typed beside its file, and the second file takes its place.
async function firstSeat(page) {
  if (process.argv.includes('--mock')) return;
  await unfold(page, 'Type the reading of first seat 3I');
  await page.getByLabel(/^First seat 3I: type its depth/).fill('0.05 mm');
  await page.getByText('Store first seat 3I').click();
  await until('the second file is there', async () => await page.locator('.files li', { hasText: 'program-6-A-2.ngc' }).count() === 1);
  const words = await page.locator('.files li', { hasText: 'program-6-A-2.ngc' }).innerText();
  check(words.includes('the rest, the first seat to its depth too'), `of the second file the page says: ${words}`);
  check(await page.getByLabel(/^First seat 3I/).count() === 0, 'the first seat is asked for again');
}

// A blade broke: the files from that seat on, what is begun and left, and the page goes back by choosing no seat.
async function brokenBlade(page) {
  if (process.argv.includes('--mock')) return;
  await page.locator('summary', { hasText: 'A blade broke' }).click();
  const part = page.getByLabel('A blade broke', { exact: true });
  await part.getByLabel('A blade broke at').selectOption('4I');
  await until('the files from there on are listed', async () => await part.locator('a[download*=from4I]').count() > 1);
  check(/begun/.test(await part.innerText()), `what is cut and begun is not said: ${await part.innerText()}`);
  const file = await part.locator('a[download*=from4I][href*=program]').first().getAttribute('href');
  const text = await page.evaluate((at) => fetch(at).then((r) => r.text()), file);
  check(/G21|G20/.test(text), `what is taken is no program: ${text.slice(0, 80)}`);
  await part.scrollIntoViewIfNeeded();
  await picture(page, 'desktop-broken');
  await page.locator('summary', { hasText: 'Some seats only' }).click();
  for (const seat of ['1E', '3E']) await page.getByLabel(seat, { exact: true }).check();
  await until('the files of the two are listed', async () => await page.locator('a[download*=only1E-3E][href*=program]').count() === 1);
  await faultless(page, 'a part of the head');
}

// A setup has a file for each cutter: each is listed with its seats and how Z0 is taken, and each can be taken.
async function everyFile(page, job) {
  if (process.argv.includes('--mock')) return; // the mock has one
  const { programs } = await page.evaluate((id) => fetch(`/api/jobs/${id}/results/cut`).then((r) => r.json()), job);
  const { held_back } = await page.evaluate((id) => fetch(`/api/jobs/${id}/results/cut`).then((r) => r.json()), job);
  check(programs.length === 2, `two cutters cut the wedge head, and there are ${programs.length} files: ${JSON.stringify(held_back)}`);
  for (const p of programs) {
    const words = await page.locator('.files li', { hasText: p.file }).innerText();
    check(words.includes('first seat, cut short') && words.includes(p.zero.words) && words.includes(p.seats.join(', ')), `of ${p.file} the page says: ${words}`);
    check(await page.locator(`a[download="${job}-${p.file}"]`).count() === 1, `${p.file} cannot be taken under the job's number`);
    const digest = (await page.locator('.files li', { hasText: p.file }).locator('.digest').innerText()).trim();
    const text = await page.evaluate((at) => fetch(at).then((r) => r.text()), `/api/jobs/${job}/papers/${p.file}?look=1&head=6`);
    check(/^[0-9a-f]{8}$/.test(digest) && text.split('\n')[0].includes(digest), `beside ${p.file} stands "${digest}", in it ${text.split('\n')[0]}`);
  }
}

async function prove(page, server, job) {
  await openStage(page, 'prove');
  const first = await page.locator('[data-proving]').innerText();
  await page.getByLabel('Runout, full swing').fill('0.0008 in');
  await page.getByText('Trace, reading by reading').click();
  for (const reading of ['0', '.0001', '.0003', '.0004', '.0003', '.0002', '.0001', '0']) {
    await page.getByLabel(/^Reading \d/).fill(reading);
    await page.keyboard.press('Enter');
  }
  await page.getByLabel('Seat width').fill('1.5 mm');
  await page.click(`text=Store seat ${first}`);
  await until('the field walks on', async () => await page.locator('[data-proving]').innerText() !== first);
  await picture(page, 'desktop-measure');
  await faultless(page, 'measure');
  await page.getByRole('link', { name: 'This head' }).click();
  await unfold(page, 'Verdicts in numbers');
  await page.getByRole('button', { name: `Measure ${first}` }).first().waitFor();
  check(await page.locator('td .mark').count() > 0, 'no verdict is shown');
  await picture(page, 'desktop-prove');
  await faultless(page, 'prove');
  const answer = await page.evaluate((id) => fetch(`/api/jobs/${id}/papers/certificate.pdf`).then(async (r) => ({ ok: r.ok, head: (await r.text()).slice(0, 5) })), job);
  check(answer.ok && (answer.head === '%PDF-' || process.argv.includes('--mock')), 'the certificate is no PDF');
}
