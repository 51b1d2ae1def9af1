// On a phone the Shelf's parts are folded and a long list begins with its first few; all of it is a key away.
import { readFileSync } from 'node:fs';
import { accessFaults, atEachSize, check, picture, until } from './steps.mjs';

const most = { shelf: 2500, scan: 3000 }; // px high

export default async function longLists(where) {
  if (process.argv.includes('--mock')) return 'left out: the mock has a short Shelf';
  return (await atEachSize(where, async (page) => `the Shelf is ${await shelf(page)} px high, a scan ${await scan(page)}`, ['phone'])).join();
}

const high = (page) => page.evaluate(() => document.documentElement.scrollHeight);
const within = async (page, name) => {
  const now = await high(page);
  check(now < most[name], `${name} is ${now} px high on a phone`);
  return now;
};

async function shelf(page) {
  await page.goto(`${new URL(page.url()).origin}/#/shelf`);
  const pilots = page.getByLabel('Pilots', { exact: true });
  await pilots.locator('summary').first().waitFor();
  const now = await within(page, 'shelf');
  check(await pilots.locator('article').first().isHidden(), 'the pilots stand open');
  await pilots.locator('summary').first().focus();
  await page.keyboard.press('Enter');
  await pilots.locator('article').first().waitFor();
  check(await pilots.locator('article').count() === 4, `${await pilots.locator('article').count()} pilots stand there at once`);
  const all = pilots.getByRole('button', { name: /^All \d+ pilots$/ });
  const count = Number(/\d+/.exec(await all.innerText())[0]);
  await all.focus();
  await page.keyboard.press('Enter');
  await until('all pilots stand there', async () => await pilots.locator('article').count() === count);
  await pilots.getByRole('button', { name: 'Only the first' }).press('Enter');
  await until('the first few stand there', async () => await pilots.locator('article').count() === 4);
  // What one looks for is open, and so is the part a tap on top goes to.
  await page.getByLabel('On the Shelf').getByRole('button', { name: 'Cutters' }).click();
  await page.getByLabel('Cutters', { exact: true }).locator('article').first().waitFor();
  await page.locator('#shelf-search').fill('iron');
  await page.getByLabel('Materials', { exact: true }).locator('article').first().waitFor();
  await picture(page, 'phone-shelf');
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n'));
  return now;
}

async function scan(page) {
  await page.goto(`${new URL(page.url()).origin}/#/new`);
  await page.getByLabel('a scanned surface', { exact: true }).check();
  await page.setInputFiles('#scan-file', { name: 'head.ply', mimeType: 'application/octet-stream', buffer: readFileSync(new URL('../../examples/scan/head.ply', import.meta.url)) });
  await page.getByRole('button', { name: 'Send and read it' }).click();
  await page.locator('.scan .drawing').first().waitFor();
  const now = await within(page, 'scan');
  await picture(page, 'phone-scan', { fullPage: true });
  return now;
}
