// A browser killed while the network is away loses no entry made.
import { Browser } from './browser.mjs';
import { beginWedge, check, comeIn, openStage, until } from './steps.mjs';

export default async function killed(house) {
  const { server } = house;
  const page = await house.browser.page({ width: 390, height: 844 });
  await comeIn(page, server.base);
  const job = await beginWedge(page);
  await openStage(page, 'find');
  await page.locator('[data-touching]').waitFor();
  page.expectsNetworkErrors = true;
  await page.context().setOffline(true);
  const made = [];
  for (let i = 0; i < 4; ++i) {
    const guide = await page.locator('[data-touching]').innerText();
    await page.getByLabel('X', { exact: true }).fill(`1.01${i + 1}`);
    await page.keyboard.press('Enter');
    await page.getByLabel('Y', { exact: true }).fill('-0.0005');
    await page.keyboard.press('Enter');
    // The moment the screen shows it as made.
    await until('shown as waiting', async () => await page.locator('.is-waiting').count() === i + 1);
    made.push(`${guide} 1.01${i + 1} in`);
  }
  await house.browser.kill();

  house.browser = await Browser.start(house.browser.dir);
  const again = await house.browser.page({ width: 390, height: 844 });
  await comeIn(again, server.base);
  await again.goto(`${server.base}/#/job/${job}/find`);
  const stored = async () => (await again.evaluate((id) => fetch(`/api/jobs/${id}/entries`).then((r) => r.json()), job)).entries
    .filter((e) => e.kind === 'touch' && /^1\.01/.test(String(e.values.x))).map((e) => `${e.valve} ${e.values.x}`);
  await until('every entry has arrived', async () => (await stored()).length >= made.length);
  check((await stored()).join() === made.join(), `made ${made.join()}, stored ${(await stored()).join()}`);
  return `${made.length} of ${made.length} entries kept`;
}
