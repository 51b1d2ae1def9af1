// A browser killed while the server is away loses no entry made: opened again, still without a server, it shows
// what waits; when the server is back all of it is sent, once and in order.
import { Browser } from './browser.mjs';
import { beginWedge, check, comeIn, newHead, openStage, picture, touching, until } from './steps.mjs';

const phone = { width: 390, height: 844 };
const count = 4;

export const always = true;
export default async function killed(house) {
  const { server } = house;
  const page = await house.browser.page(phone);
  await comeIn(page, server.base);
  const job = await beginWedge(page);
  await openStage(page, 'find');
  await newHead(page);
  await page.locator('[data-touching]').waitFor();
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => true));

  page.expectsNetworkErrors = true;
  const away = !process.argv.includes('--mock'); // the mock forgets all when it stops
  await (away ? server.down() : page.context().setOffline(true));
  const made = [];
  for (let i = 1; i <= count; ++i) {
    const guide = await touching(page);
    await page.getByLabel('X', { exact: true }).fill(`1.01${i}`);
    await page.keyboard.press('Enter');
    await page.getByLabel('Y', { exact: true }).fill('-0.0005');
    await page.keyboard.press('Enter');
    // From the moment the screen shows it, it is made.
    await until('shown as waiting', async () => await page.locator('.is-waiting').count() === i);
    made.push(`${guide} 1.01${i} in`);
  }
  await house.browser.kill();

  house.browser = await Browser.start(house.browser.dir);
  const again = await house.browser.page(phone);
  again.expectsNetworkErrors = true;
  if (away) {
    await again.goto(`${server.base}/#/job/${job}/find`);
    await again.getByText(`${count} entries wait on this screen`).waitFor();
    await until('the job is still to be seen', async () => await again.locator('.is-waiting').count() === count);
    await picture(again, 'phone-opened-offline');
    await server.up();
  }
  await comeIn(again, server.base); // a cookie may not have reached the disk before the kill: then sign in again
  const stored = async () => (await again.evaluate((id) => fetch(`/api/jobs/${id}/entries`).then((r) => r.json()), job)).entries
    .filter((e) => e.kind === 'touch' && /^1\.01/.test(String(e.values.x))).map((e) => `${e.valve} ${e.values.x}`);
  await until('every entry has arrived', async () => (await stored()).length >= made.length);
  check((await stored()).join() === made.join(), `made ${made.join()}, stored ${(await stored()).join()}`);
  return `${made.length} of ${made.length} entries kept`;
}
