// Two screens on one job see each other's entries at once.
import { beginWedge, check, comeIn, newHead, openStage, touching, until } from './steps.mjs';

export default async function live({ server, browser }) {
  const one = await browser.page();
  await comeIn(one, server.base);
  const job = await beginWedge(one);
  await openStage(one, 'find');
  await newHead(one);
  const two = await browser.page({ width: 800, height: 1280 });
  await two.goto(`${server.base}/#/job/${job}/find`);
  await two.locator('[data-touching]').waitFor();
  check(await two.locator('#head-choice').inputValue() === await one.locator('#head-choice').inputValue(), 'the second screen stands at another head');

  const guide = await touching(one);
  await one.getByLabel('X', { exact: true }).fill('0.0011');
  await one.keyboard.press('Enter');
  const typed = Date.now();
  await one.getByLabel('Y', { exact: true }).fill('0.0002');
  await one.keyboard.press('Enter');
  const words = new RegExp(`0.0011 in`);
  await until('the other screen shows the entry', async () => words.test(await two.locator('.entries').allTextContents().then((t) => t.join(' '))));
  const took = Date.now() - typed;
  check(took < 2_000, `the other screen took ${took} ms`);
  await until('the other screen moves on too', async () => await two.locator('[data-touching]').innerText() !== guide);

  // A change of the drawing data on the second screen is seen on the first.
  await openStage(two, 'shape');
  await openStage(one, 'shape');
  const there = two.getByLabel('seat face, width');
  const before = await there.inputValue();
  await there.fill('0.0700 in');
  await there.press('Enter');
  const here = one.getByLabel('seat face, width');
  await until('the first screen shows the new width', async () => await here.inputValue() === await there.inputValue() && await here.inputValue() !== before);
  return `seen on the other screen within ${took} ms`;
}
