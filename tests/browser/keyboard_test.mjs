// Without a mouse: every step by Tab, arrows, Enter and typing, with the focus always to be seen.
import { check, comeIn, touching, until } from './steps.mjs';

export default async function keyboardOnly({ server, browser }) {
  const page = await browser.page();
  await comeIn(page, server.base);
  await tabTo(page, 'New job');
  await page.keyboard.press('Enter');
  await page.locator('h1', { hasText: 'New job' }).waitFor();
  await tabTo(page, 'readings at the machine');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowDown'); // past a scanned surface and a drawing to the next way: an example
  await page.keyboard.press('ArrowDown');
  await until('the examples', async () => await page.getByText('Begin with it').count() > 0);
  await tabTo(page, 'Begin with it');
  await page.keyboard.press('Enter');
  await page.locator('.stages').waitFor();

  await tabTo(page, 'find');
  await page.keyboard.press('Enter');
  await page.locator('[data-touching]').waitFor();
  await page.getByLabel('Head', { exact: true }).focus();
  await page.keyboard.press('End'); // the last choice: a new head
  await page.locator('body').press('Escape');
  await page.evaluate(() => document.activeElement.blur());
  const guide = await touching(page);
  await page.keyboard.type('0.0003\n-0.0002\n');
  await until('the touch is stored and the field moves on', async () => await page.locator('[data-touching]').innerText() !== guide);
  await until('undo is offered', async () => await page.getByRole('button', { name: `Undo: touch ${guide}` }).count() === 1);
  await page.locator('body').press('Escape');
  await tabTo(page, `Undo: touch ${guide}`);
  await page.keyboard.press('Enter');
  await until('the touch is taken back', async () => await page.locator('[data-touching]').innerText() === guide);

  await tabTo(page, 'shape');
  await page.keyboard.press('Enter');
  await page.getByLabel('Drag the width').first().waitFor();
  await until('the section is drawn', async () => await page.locator('[data-drawing] svg').count() > 0);
  await tabTo(page, 'Drag the width');
  const field = page.getByLabel(/facet, width/).first();
  const before = await field.inputValue();
  await page.keyboard.press('ArrowRight');
  await until('the width follows the arrow key', async () => await field.inputValue() !== before);
  await shortcuts(page);
}

// One key opens a room, as long as no field is in use; figures and what a gauge types are no shortcuts.
async function shortcuts(page) {
  const rooms = { h: 'hold', f: 'find', s: 'shape', c: 'cut', p: 'prove', m: 'machine', d: 'data' };
  for (const [key, room] of Object.entries(rooms)) {
    await page.evaluate(() => document.activeElement?.blur());
    await page.keyboard.press(key);
    await page.locator(`.room[aria-label=${room}]`).waitFor();
  }
  await page.keyboard.press('f');
  await page.locator('.room[aria-label=find]').waitFor();
  await page.getByLabel('X', { exact: true }).fill('0.1');
  await page.keyboard.press('s');
  await page.waitForTimeout(200);
  check(await page.locator('.room[aria-label=find]').count() === 1, 'a letter typed into a field opened another room');
  await page.getByLabel('X', { exact: true }).fill('');
  await page.evaluate(() => document.activeElement?.blur());
  await page.keyboard.press('?');
  await page.locator('h1', { hasText: 'Help' }).waitFor();
}

// Tabs on until what has the focus is called so; the focus must be visible all the way.
async function tabTo(page, name) {
  const most = 150;
  for (let i = 0; i < most; ++i) {
    await page.keyboard.press('Tab');
    const now = await page.evaluate(() => {
      const e = document.activeElement;
      const style = getComputedStyle(e);
      return { tag: e.tagName, seen: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2,
        name: `${e.getAttribute('aria-label') ?? ''} ${e.labels?.[0]?.textContent ?? ''} ${e.dataset.stage ?? ''} ${e.textContent ?? ''}` };
    });
    check(now.tag === 'BODY' || now.seen, `the focus cannot be seen on ${now.tag} ${now.name.slice(0, 60)}`);
    if (now.tag !== 'BODY' && now.name.includes(name)) return;
  }
  throw new Error(`no way to “${name}” by Tab`);
}
