// A scanned surface to a job: sent with progress and stopped once, a photograph refused in a sentence, the example's points
// looked at as a drawing and in the view to turn, one feature confirmed, one renamed, one dropped. At the desk, on a tablet and
// on a phone.
import { readFileSync } from 'node:fs';
import { accessFaults, atEachSize, check, docsPicture, picture, until } from './steps.mjs';

const example = readFileSync(new URL('../../examples/scan/head.ply', import.meta.url));

export default async function scan(where) {
  if (process.argv.includes('--mock')) return 'left out: the mock reads no scans';
  return (await atEachSize(where, async (page, size) => `${size.name}: ${await scanned(page, size)}`)).join(', ');
}

async function choose(page, name, buffer) {
  await page.goto(`${new URL(page.url()).origin}/#/new`);
  await page.click('label:has-text("a scanned surface")');
  await page.setInputFiles('#scan-file', { name, mimeType: 'application/octet-stream', buffer });
  await page.getByRole('button', { name: 'Send and read it' }).click();
}

async function scanned(page, size) {
  if (size.name === 'desk') {
    await stopped(page);
    await choose(page, 'photo.stl', Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), Buffer.alloc(5000, 120)]));
    await page.getByText('photo.stl is a photograph').waitFor();
    check(await page.locator('progress').count() === 0, 'an empty bar is left of what failed');
  }
  await choose(page, 'head.ply', example);
  await page.locator('.scan').waitFor();
  await page.locator('.scan .drawing').first().waitFor();
  const words = await page.locator('main').innerText();
  check(/which end is which/i.test(words) && !/--[a-z]/.test(words), `what is asked names an option of the command line: ${/.{0,60}--[a-z].{0,30}/.exec(words)?.[0] ?? words.slice(0, 300)}`);
  check(await page.locator('.sheet-frame[data-drawing=scan] svg').count() === 1, 'the drawing stands in no frame');
  const rows = page.locator('.scan-features [data-feature]');
  const names = await page.locator('[aria-label=Valves] [data-feature]').evaluateAll((all) => all.map((one) => one.getAttribute('data-feature')));
  check(names.length >= 2, `${names.length} valves are shown`);
  const row = (id) => page.locator(`[data-feature="${id}"]`);
  const [first, second] = names;
  const last = names.at(-1);
  await row(first).locator('.valve-name').click();
  await page.locator('.scan-section .drawing').waitFor();
  await picture(page, `scan-${size.name}`, { fullPage: true });
  if (size.name === 'desk') await docsPicture(page, 'scan');
  await row(first).getByRole('button', { name: 'It is right' }).click();
  await row(first).getByText('✓ right').waitFor();
  await row(last).locator('.valve-name').click();
  await row(last).getByRole('button', { name: 'Drop it' }).click();
  await row(second).locator('.valve-name').click();
  await row(second).getByLabel('It is').fill('intake');
  await row(second).getByRole('button', { name: 'Rename' }).click();
  await row(second).getByText('A cylinder, I or E').waitFor();
  await row(second).getByLabel('It is').fill('9Ia');
  await row(second).getByRole('button', { name: 'Rename' }).click();
  await until('the new name is shown', async () => (await row(second).locator('.valve-name').innerText()) === '9Ia');
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n'));

  await page.getByLabel('view to turn').check();
  const drawn = await turnedAbout(page, size);
  check(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), 'the page is wider than the screen');

  // What is in doubt is settled before the job is made.
  for (let i = 0; i < await rows.count() && await page.getByText(/^Look at .* first/).count() > 0; ++i) {
    const here = rows.nth(i);
    if (await here.locator('.sentence').count() === 0 || !(await here.isVisible())) continue;
    await here.locator('.valve-name').click();
    await here.getByRole('button', { name: 'It is right' }).click();
  }
  await page.getByRole('button', { name: 'Make the job' }).click();
  await page.locator('.stages').waitFor();
  const job = Number(/job\/(\d+)/.exec(page.url())?.[1]);
  const { text } = await page.evaluate(async (id) => (await fetch(`/api/jobs/${id}`)).json(), job);
  check(text.includes('id = "9Ia"') && !text.includes(`id = "${last}"`), 'what the person said is not in the job');
  check(text.includes('confirmed by A. Turner'), 'who confirmed is not in the job');
  return drawn;
}

// A network so slow that the first piece never comes.
async function stopped(page) {
  let held;
  await page.route('**/pieces?*', (route) => { held = route; });
  await choose(page, 'head.ply', example);
  await page.getByText('Sending head.ply').waitFor();
  await until('a piece is on its way', () => held);
  await page.getByRole('button', { name: 'Stop it' }).click();
  const gone = page.waitForRequest((r) => r.method() === 'DELETE' && r.url().includes('/api/scans/'));
  await held.continue();
  await gone;
  await page.unroute('**/pieces?*');
  check(await page.getByText('Sending head.ply').count() === 0, 'it goes on although it was stopped');
}

async function turnedAbout(page, size) {
  const canvas = page.locator('.scan-view canvas');
  await until('the view is drawn or says why not', async () => (await canvas.getAttribute('data-ready')) === 'true' || await page.getByText('does not draw such views').count() > 0);
  if ((await canvas.getAttribute('data-ready')) !== 'true') return 'no view to turn in this browser';
  const looks = [];
  const look = async () => {
    await page.waitForTimeout(300);
    looks.push((await canvas.screenshot()).toString('base64'));
  };
  await page.getByRole('button', { name: 'From above' }).click();
  await look();
  await picture(page, `scan-view-${size.name}`);
  await page.getByRole('button', { name: 'From the front' }).click();
  await look();
  await canvas.focus();
  for (let i = 0; i < 4; ++i) await page.keyboard.press('ArrowUp');
  await look();
  const box = await canvas.boundingBox();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width / 2 + 60, box.y + box.height / 2 - 20, { steps: 3 });
  await page.mouse.up();
  await look();
  await picture(page, `scan-view-turned-${size.name}`);
  check(new Set(looks).size === looks.length, 'the view did not turn');
  return 'turned';
}
