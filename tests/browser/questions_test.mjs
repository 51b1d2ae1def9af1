// A new job by six questions, the drawing growing with the answers; then its file taken along and read in again.
import { check, comeIn, openStage, picture, until } from './steps.mjs';

export default async function sixQuestions({ server, browser }) {
  const page = await browser.page();
  await comeIn(page, server.base);
  await page.click('text=New job');
  await page.getByLabel('What shall the job be called?').fill('Two-cylinder head, invented');
  await page.locator('label', { hasText: /^mm$/ }).click();
  await page.getByLabel('Cylinders').fill('2');
  await page.getByLabel('From one cylinder to the next').fill('4,1 in');
  const marks = () => page.locator('figure .ink').innerHTML();
  await until('the drawing begins', async () => await page.locator('figure svg').count() === 1);
  const two = await marks();
  await page.getByLabel('Cylinders').fill('3');
  await until('the drawing grows with the cylinders', async () => await marks() !== two);
  const three = await marks();
  await page.locator('label', { hasText: /^mirrored$/ }).click();
  await page.getByLabel('intake incline').fill("19° 30'");
  await page.getByLabel('exhaust incline').fill('19.5');
  await page.getByLabel('intake valve head diameter').fill('1-3/4 in');
  await page.getByLabel('exhaust valve head diameter').fill('38');
  await until('the drawing follows order and sizes', async () => await marks() !== three);
  await picture(page, 'desktop-new-job');
  await page.getByText('Put it on the bench').click();
  await page.locator('.stages').waitFor();
  await until('hold answers', async () => /19\.50/.test(await page.locator('a[data-stage=hold] .stage-line').innerText()));
  await openStage(page, 'find');
  await page.locator('[data-touching]').waitFor(); // a guide to touch first
  await roundTrip(page);
}

async function roundTrip(page) {
  if (process.argv.includes('--mock')) return; // the mock keeps no text
  await page.getByText('Drawing data and file').click();
  const address = await page.getByText('Take the job file').getAttribute('href');
  const text = await page.evaluate((a) => fetch(a).then((r) => r.text()), address);
  check(/Two-cylinder head, invented/.test(text), 'the file does not say its title');
  await page.click('nav >> text=Bench');
  await page.click('text=New job');
  await page.locator('label', { hasText: 'a job file' }).click();
  await page.getByLabel('Job file', { exact: true }).setInputFiles({ name: 'again.toml', mimeType: 'text/plain', buffer: Buffer.from(text) });
  await page.getByText('Read it').click();
  await page.locator('.stages').waitFor();
  await page.getByText('Drawing data and file').click();
  const again = await page.getByText('Take the job file').getAttribute('href');
  check(again !== address, 'the file made no new job');
  check(await page.evaluate((a) => fetch(a).then((r) => r.text()), again) === text, 'the file came out changed');
}
