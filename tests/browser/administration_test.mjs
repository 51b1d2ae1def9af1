// Data and backups: reached from the person's menu by a lead alone, says what is to be done next; and the screen stays awake
// at the machine, is let go elsewhere and asked for again when the page comes back.
import { accessFaults, beginWedge, check, comeIn, openStage, picture, until } from './steps.mjs';

export default async function administration({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock has no backups';
  const page = await browser.page();
  // Chromium without a screen refuses the lock: its calls are counted by a stand-in.
  await page.addInitScript(() => {
    globalThis.locks = { asked: 0, released: 0 };
    Object.defineProperty(navigator, 'wakeLock', { value: { request: async (kind) => {
      if (kind !== 'screen') throw new Error(kind);
      globalThis.locks.asked += 1;
      return { release: async () => { globalThis.locks.released += 1; } };
    } } });
  });
  await comeIn(page, server.base);
  await page.locator('.bar-more summary').first().click();
  await page.getByRole('link', { name: 'Data and backups' }).click();
  await until('the page says what to do', async () => /No backups are made\. Start the workbench with --backups/.test(await page.locator('main').innerText()));
  await until('who is on is shown', async () => /one screen/.test(await page.locator('main').innerText()));
  check(/on one disk/.test(await page.locator('main').innerText()), 'where entries are acknowledged is not said');
  await picture(page, 'administration');
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n    '));
  await beginWedge(page);
  await openStage(page, 'hold');
  const locks = () => page.evaluate(() => globalThis.locks);
  check((await locks()).asked === 0, 'the screen is kept awake at the desk');
  await page.evaluate(() => { location.hash = location.hash.replace(/hold.*/, 'machine'); });
  await until('the screen is kept awake', async () => (await locks()).asked === 1);
  await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
  await until('it is asked for again', async () => (await locks()).asked === 2);
  await page.evaluate(() => { location.hash = location.hash.replace(/machine.*/, 'hold'); });
  await until('it is let go', async () => (await locks()).released >= 1);
  return 'no backups said, screen kept awake';
}
