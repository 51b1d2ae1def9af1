// What is typed: it follows the setup, takes what its field says it takes, is one change, is undone by who made it, waits
// for who made it, survives a look elsewhere, and figures nobody gave are asked for.
import { accessFaults, addPerson, beginWedge, check, comeIn, newHead, openStage, owner, picture, signIn, signOut, touching, until } from './steps.mjs';

export const always = true;
export default async function entries({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock computes nothing';
  const page = await browser.page();
  await comeIn(page, server.base);
  const job = await beginWedge(page);
  await angles(page, job);
  await halfTyped(page);
  await refused(page, job);
  await oneVersion(page, job);
  await ownUndo(page, job);
  await byPerson(page, server, job);
  await letGo(page, job);
  await whoReads(page, job);
  await setups(page);
  await notFromYou(page);
  await farClock(browser, server, job);
  return undefined;
}

const miller = { name: 'B. Miller', password: 'seats follow guides', role: 'lead' };
const ask = (page, path) => page.evaluate((p) => fetch(`/api${p}`).then((r) => r.json()), path);
const entriesOf = async (page, job) => (await ask(page, `/jobs/${job}/entries`)).entries;
const versionOf = async (page, job) => (await ask(page, `/jobs/${job}`)).version;

// Two at one machine: what one reads out and the other types names both, until one tap ends it.
async function whoReads(page, job) {
  await addPerson(page, { name: 'Zoe', role: 'machinist', password: 'level before the cut' });
  await openStage(page, 'find');
  await page.locator('.bar-more > summary').click();
  await page.locator('.bar-more details > summary', { hasText: 'Somebody else reads' }).click();
  await page.getByLabel('Readings typed here are read by').selectOption('Zoe');
  await page.locator('h2').first().click();
  const ends = page.getByRole('button', { name: /^Zoe reads/ });
  await ends.waitFor();
  await picture(page, 'who-reads');
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n    '));
  const before = (await entriesOf(page, job)).length;
  const last = async () => (await entriesOf(page, job)).slice(before).filter((e) => e.kind === 'touch').at(-1);
  const touch = async (x) => {
    await touching(page);
    await page.getByLabel('X', { exact: true }).fill(x);
    await page.keyboard.press('Enter');
    await page.getByLabel('Y', { exact: true }).fill('0.0004');
    await page.keyboard.press('Enter');
  };
  await touch('0.0041');
  const read = await until('the touch is stored', last);
  check(read.read_by === 'Zoe' && read.by !== 'Zoe', `it says ${JSON.stringify([read.read_by, read.by])}`);
  await ends.click();
  await until('one tap ends it', async () => await ends.count() === 0);
  await touch('0.0043');
  const own = await until('the next touch is stored', async () => { const now = await last(); return now?.id !== read.id && now; });
  check(own.read_by === null, `after it was ended: ${own.read_by}`);
}

// An angle in degrees and minutes is taken as typed; a gauge that types twice fills both fields; one button is filled.
async function angles(page, job) {
  await openStage(page, 'hold');
  const before = (await entriesOf(page, job)).length;
  const made = async () => (await entriesOf(page, job)).slice(before).filter((e) => e.kind === 'level');
  await page.getByText('Enter a level reading').click();
  const entry = page.getByLabel('Level reading', { exact: true });
  check(await entry.getByRole('button', { name: 'degrees' }).count() === 1 && await entry.getByRole('button', { name: 'mm', exact: true }).count() === 0, 'the keypad of an angle shows the keys of a length');
  const filled = await entry.evaluate((e) => [...e.querySelectorAll('button')].filter((b) => b.checkVisibility() && getComputedStyle(b).backgroundColor === getComputedStyle(e.querySelector('.key-enter')).backgroundColor).length);
  check(filled === 1, `${filled} buttons of the level entry are filled`);
  await page.getByLabel('Reading', { exact: true }).fill("0° 6'");
  await page.getByLabel('Level turned round').fill("-0° 3'");
  await page.getByText('Store the reading').click();
  const read = await until('the reading in degrees and minutes is stored', async () => (await made())[0]);
  check(/^0\.1 deg$/.test(read.values.first) && /^-0\.05 deg$/.test(read.values.second), `stored as ${JSON.stringify(read.values)}`);
  await page.locator('h2').first().click();
  await page.keyboard.type('0.12\n-0.08\n');
  const two = await until('the gauge’s two readings are one entry', async () => (await made())[1]);
  check(two.values.first === '0.12 deg' && two.values.second === '-0.08 deg', `the gauge's readings: ${JSON.stringify(two.values)}`);
}

// A number half typed is there after a look elsewhere and after a reload, and does not move to another head.
async function halfTyped(page) {
  await openStage(page, 'find');
  await newHead(page);
  const guide = await touching(page);
  await page.getByLabel('X', { exact: true }).fill('1.01');
  await openStage(page, 'shape');
  await openStage(page, 'find');
  const x = () => page.getByLabel('X', { exact: true }).inputValue();
  check(await touching(page) === guide && await x() === '1.01', 'a look elsewhere lost what was half typed');
  await page.reload();
  await page.locator('[data-touching]').waitFor();
  check(await touching(page) === guide && await x() === '1.01', 'a reload lost what was half typed');
  await page.getByLabel('Head', { exact: true }).selectOption('6');
  await page.waitForTimeout(500);
  check(await x() === '', 'what was half typed moved to another head');
  await newHead(page);
  await until('it is still there at its own head', async () => await x() === '1.01');
  await page.getByLabel('X', { exact: true }).fill('');
  await otherFields(page);
}

// So does what is half typed in any other entry, a note's words too.
async function otherFields(page) {
  const fields = [
    { stage: 'hold', under: 'Enter a level reading', entry: 'Level reading', field: 'Reading', typed: '0.1' },
    { stage: 'find', under: 'Enter guide bores', entry: 'Guide bore', field: 'Bore, middle', typed: '0.31' },
    { stage: 'shape', under: 'Enter a seat before cutting', entry: 'Seat before cutting', field: 'Stem height', typed: '1.5' },
    { stage: 'prove', entry: 'Proof', field: 'Seat width', typed: '0.06' },
    { stage: 'prove', under: /^Notes and photographs: head/, entry: /^Notes on head/, field: /^A note on head/, typed: 'A nick besi' },
  ];
  const shownField = async ({ under, entry, field }) => {
    const box = page.getByLabel(entry, { exact: true }).getByLabel(field, { exact: true });
    if (under) {
      const line = page.locator('.room summary', { hasText: under }).first();
      await line.waitFor({ state: 'attached' });
      await line.evaluate((s) => { for (let d = s.closest('details'); d; d = d.parentElement.closest('details')) d.open = true; });
    }
    await box.waitFor();
    return box;
  };
  for (const one of fields) {
    await openStage(page, one.stage);
    await (await shownField(one)).fill(one.typed);
    await openStage(page, one.stage === 'hold' ? 'find' : 'hold');
    await page.reload();
    await openStage(page, one.stage);
    const kept = await (await shownField(one)).inputValue();
    check(kept === one.typed, `${one.stage}, ${one.field}: half typed "${one.typed}", after a look elsewhere and a reload "${kept}"`);
    await (await shownField(one)).fill('');
  }
  await openStage(page, 'find');
}

// What the server refuses stands in its fields again, with the server's sentence.
async function refused(page, job) {
  page.expectsNetworkErrors = true;
  await page.route('**/entries*', (route) => (route.request().method() === 'POST' ? route.fulfill({ status: 400, contentType: 'application/json', body: '{"error":"The readout cannot stand there."}' }) : route.continue()));
  const guide = await touching(page);
  await page.getByLabel('X', { exact: true }).fill('0.777');
  await page.keyboard.press('Enter');
  await page.getByLabel('Y', { exact: true }).fill('0.333');
  await page.keyboard.press('Enter');
  await page.getByLabel('Touch', { exact: true }).getByText('The readout cannot stand there.').waitFor();
  check(await page.locator('[data-touching]').innerText() === guide, 'the refused touch stands at another guide');
  check(/0\.777/.test(await page.getByLabel('X', { exact: true }).inputValue()) && /0\.333/.test(await page.getByLabel('Y', { exact: true }).inputValue()), 'the refused figures are not in their fields');
  await until('the refused entry stands in one place', async () => await page.getByText('Not stored yet: please decide').count() === 0);
  await page.unroute('**/entries*');
  page.expectsNetworkErrors = false;
  for (const axis of ['X', 'Y']) await page.getByLabel(axis, { exact: true }).fill('');
  check(!(await entriesOf(page, job)).some((e) => JSON.stringify(e.values).includes('0.777')), 'a refused entry was stored');
}

// Enter and then leaving the field is one version, offline too; nobody is asked about a difference to their own value.
async function oneVersion(page, job) {
  await openStage(page, 'shape');
  const width = page.getByLabel('seat face, width');
  await width.waitFor();
  const before = await versionOf(page, job);
  await width.fill('0.0610 in');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Tab');
  await until('the width is stored', async () => await versionOf(page, job) > before);
  await page.waitForTimeout(600);
  check(await versionOf(page, job) === before + 1, `one change made ${await versionOf(page, job) - before} versions`);
  page.expectsNetworkErrors = true;
  await page.context().setOffline(true);
  for (const typed of ['0.0620 in', '0.0630 in']) {
    await width.fill(typed);
    await page.keyboard.press('Enter');
    await page.keyboard.press('Tab');
    await page.locator('[data-away]').waitFor();
    await page.waitForTimeout(300);
  }
  await page.context().setOffline(false);
  await until('nothing waits', async () => await page.locator('[data-away]').count() === 0);
  page.expectsNetworkErrors = false;
  await until('the last width stands', async () => (await ask(page, `/jobs/${job}`)).tables.seat.intake.width === '0.063 in');
  await page.waitForTimeout(400);
  check(await page.getByText('Not stored yet: please decide').count() === 0, 'a person is asked about a difference to their own value');
  check(await versionOf(page, job) === before + 2, `two values typed offline made ${await versionOf(page, job) - before - 1} versions`);
}

// What somebody else changed since is not this screen's to undo; what undo takes back is said.
async function ownUndo(page, job) {
  await page.getByRole('button', { name: /^Undo: intake seat face: width 0\.063 in/ }).waitFor();
  await page.evaluate(async (id) => {
    const { csrf } = await fetch('/api/session').then((r) => r.json());
    const { version } = await fetch(`/api/jobs/${id}`).then((r) => r.json());
    await fetch(`/api/jobs/${id}/edits`, { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf }, body: JSON.stringify({ version, edits: [{ key: 'seat.exhaust.width', value: '0.076 in' }], what: 'at another screen' }) });
  }, job);
  await until('the other screen’s change has come', async () => await page.getByRole('button', { name: /^Undo: intake seat face/ }).count() === 0);
  check(await page.getByRole('button', { name: /^Undo/ }).count() === 0 || !/exhaust|another/.test(await page.getByRole('button', { name: /^Undo/ }).innerText()), 'undo takes back what another screen did');
}

// An entry made without a network waits for who made it: shown to the next person as a number and a name, sent when its
// maker signs in again.
async function byPerson(page, server, job) {
  await addPerson(page, miller);
  await openStage(page, 'find');
  const guide = await touching(page);
  page.expectsNetworkErrors = true;
  await page.route('**/entries*', (route) => (route.request().method() === 'POST' ? route.abort() : route.continue()));
  await page.getByLabel('X', { exact: true }).fill('0.0021');
  await page.keyboard.press('Enter');
  await page.getByLabel('Y', { exact: true }).fill('0.0002');
  await page.keyboard.press('Enter');
  await page.getByText(/1 entry waits on this screen/).waitFor();
  await signOut(page);
  await page.getByText('1 entry of A. Turner waits on this screen').waitFor();
  const kept = await page.evaluate(() => new Promise((resolve) => {
    const open = indexedDB.open('seatwright');
    open.onsuccess = () => { const all = open.result.transaction('pages').objectStore('pages').getAllKeys(); all.onsuccess = () => resolve(all.result.length); };
  }));
  check(kept === 0, `${kept} answers stay on the device after signing out`);
  await page.unroute('**/entries*');
  await signIn(page, miller);
  await page.getByText('1 entry of A. Turner waits on this screen').waitFor();
  await page.waitForTimeout(4_000); // longer than the screen takes to try again
  const sent = async () => (await entriesOf(page, job)).find((e) => e.valve === guide && JSON.stringify(e.values).includes('0.0021'));
  check(await sent() === undefined, 'an entry was sent under another name');
  check(!/0\.0021/.test(await page.locator('body').innerText()), 'an unsent entry is shown to somebody else');
  await picture(page, 'entries-of-another');
  await signOut(page);
  await signIn(page, owner);
  const stored = await until('it is sent under its own name', sent);
  check(stored.by === owner.name, `stored by ${stored.by}`);
  page.expectsNetworkErrors = false;
}

// What waits for somebody else a lead lets go, asked twice; it is never sent.
async function letGo(page, job) {
  await openStage(page, 'find');
  await touching(page);
  page.expectsNetworkErrors = true;
  await page.route('**/entries*', (route) => (route.request().method() === 'POST' ? route.abort() : route.continue()));
  await page.getByLabel('X', { exact: true }).fill('0.0037');
  await page.keyboard.press('Enter');
  await page.getByLabel('Y', { exact: true }).fill('0.0003');
  await page.keyboard.press('Enter');
  await page.getByText(/1 entry waits on this screen/).waitFor();
  await signOut(page);
  await page.unroute('**/entries*');
  await signIn(page, miller);
  await page.getByRole('button', { name: 'Let them go' }).click();
  await page.getByRole('button', { name: 'Yes, let it go for good' }).click();
  await until('nothing waits any more', async () => await page.getByText(/of A\. Turner waits on this screen/).count() === 0);
  await signOut(page);
  await signIn(page, owner);
  await page.waitForTimeout(1_500);
  page.expectsNetworkErrors = false;
  check(!(await entriesOf(page, job)).some((e) => JSON.stringify(e.values).includes('0.0037')), 'what a lead let go was sent');
}

// A head held in several setups: what stands on top and what the fields ask for are one, and follow the setup.
async function setups(page) {
  await page.click('nav >> text=Bench');
  await page.click('text=New job');
  await page.click('label:has-text("an example")');
  await page.locator('li', { hasText: /canted|lean two ways/i }).first().locator('button').click();
  await page.locator('.stages').waitFor();
  await openStage(page, 'find');
  await newHead(page);
  const seen = new Set();
  for (let i = 0; i < 4; ++i) {
    const guide = await touching(page);
    const words = await page.locator('[data-next]').innerText();
    check(words.startsWith(`Touch ${guide} of setup `), `on top stands "${words}", the fields ask for ${guide}`);
    seen.add(/setup (\w+)/.exec(words)[1]);
    await touch(page, guide);
    await until('the entry moves on', async () => await touching(page) !== guide);
  }
  check(seen.size > 1, `four touches never left setup ${[...seen].join()}`);
}

// Where the table has the guide; the one the map counts from is zeroed at.
async function touch(page, guide) {
  const entry = page.getByLabel('Touch', { exact: true });
  if (await entry.getByText(/^The map counts from/).count() > 0) return entry.getByRole('button', { name: 'Zeroed here' }).click();
  const cells = page.locator('tbody tr', { has: page.locator(`button[aria-label="Touch ${guide}"]`) }).locator('td');
  const [x, y] = await Promise.all([0, 1].map((i) => cells.nth(i).textContent()));
  await page.getByLabel('X', { exact: true }).fill(x.replace('−', '-'));
  await page.keyboard.press('Enter');
  await page.getByLabel('Y', { exact: true }).fill(y.replace('−', '-'));
  await page.keyboard.press('Enter');
}

// Six questions make up what was not asked: hold needs somebody, the figures stand dashed, and are typed or said right.
async function notFromYou(page) {
  await page.click('nav >> text=Bench');
  await page.click('text=New job');
  await page.click('label:has-text("six questions")');
  await page.getByLabel('Cylinders', { exact: true }).fill('2');
  await page.getByLabel('From one cylinder to the next').fill('4.1');
  await page.getByLabel('intake valve head diameter').fill('1.75');
  await page.getByLabel('exhaust valve head diameter').fill('1.5');
  await page.getByText('Put it on the bench').click();
  await page.locator('.stages').waitFor();
  const mark = async () => (await page.locator('a[data-stage=hold] .mark').innerText()).trim();
  await until('hold needs somebody', async () => await mark() === 'needs you');
  const panel = page.getByLabel('Not from you', { exact: true });
  await panel.waitFor();
  await panel.locator('summary').click();
  check(/not from you/.test(await page.locator('.row', { hasText: 'Set them apart' }).innerText()), 'a post distance made up is shown like a measured one');
  await picture(page, 'entries-made-up');
  await page.getByRole('link', { name: 'At the machine' }).click();
  const load = page.getByLabel('The step', { exact: true });
  await load.waitFor();
  check(/apart, not from you/.test(await load.innerText()), `the load step says of posts made up: ${await load.innerText()}`);
  await page.goBack();
  await panel.waitFor();
  await panel.locator('summary').click();
  const diameter = panel.locator('[data-made-up="head.bolt_hole_diameter"]');
  await diameter.locator('input').fill('17/32');
  await diameter.locator('input').press('Enter');
  await until('the typed figure is made up no more', async () => await diameter.count() === 0);
  for (const thing of ['Guides', 'Valves', 'Seats']) {
    await panel.getByRole('button', { name: new RegExp(`^${thing}: all \\d+ are right$`) }).click();
    await until(`${thing} are said to be right`, async () => await panel.getByLabel(thing, { exact: true }).count() === 0);
  }
  for (let left = await panel.locator('[data-made-up]').count(); left > 0; --left) {
    await panel.getByRole('button', { name: 'It is right' }).first().click();
    await until('one less', async () => await panel.locator('[data-made-up]').count() < left || await panel.count() === 0);
  }
  await until('hold is ready', async () => await mark() === 'ready');
  check(!/not from you/i.test(await page.locator('.room').innerText()), 'a figure said to be right is still marked');
}

// A device whose clock is far off is told so; the times shown are the server's.
async function farClock(browser, server, job) {
  const page = await browser.page({ width: 800, height: 1280 }, { fresh: true });
  await page.addInitScript(() => {
    const own = Date.now;
    Date.now = () => own() + 11 * 60_000;
  });
  await comeIn(page, server.base);
  await page.goto(`${server.base}/#/job/${job}/find`);
  await page.getByText(/This device’s clock is 11 minutes ahead of the server’s/).waitFor();
}
