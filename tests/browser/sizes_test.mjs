// Tablet, phone and desktop, light and dark: nothing runs off the side, words are large enough to read, targets
// large enough to hit, no serious access fault; the pictures are kept and looked at.
import { gzipSync } from 'node:zlib';
import { accessFaults, beginWedge, check, comeIn, docsPicture, newHead, openStage, picture, touching } from './steps.mjs';

const sizes = [
  { name: 'tablet', width: 800, height: 1280 },
  { name: 'phone', width: 390, height: 844 },
  { name: 'desktop', width: 1440, height: 900 },
];
const mostPacked = 90_000; // bytes
const stages = ['hold', 'find', 'shape', 'cut', 'prove'];

export default async function everySize({ server, browser }) {
  const page = await browser.page();
  await comeIn(page, server.base);
  await beginWedge(page);
  const faults = [];
  const packed = await packedSize(server.base);
  if (packed > mostPacked) faults.push(`script and style are ${(packed / 1000).toFixed(1)} kB packed, more than ${mostPacked / 1000}`);
  for (const size of sizes) {
    await page.setViewportSize(size);
    for (const stage of stages) {
      await openStage(page, stage);
      await page.locator('[data-drawing] svg').first().waitFor();
      await page.evaluate(() => scrollTo(0, 0));
      if (size.name !== 'desktop') await picture(page, `${size.name}-${stage}`, { fullPage: true });
      if (size.name === 'tablet' && stage === 'prove') await docsPicture(page, 'tablet-prove');
      faults.push(...(await measure(page)).map((f) => `${size.name} ${stage}: ${f}`));
      if (size.name === 'desktop') faults.push(...(await deskRules(page)).map((f) => `${stage}: ${f}`));
    }
    if (size.name === 'phone') faults.push(...(await accessFaults(page)).map((f) => `phone prove: ${f}`));
  }
  faults.push(...(await zoomed(page)));
  await page.locator('.bar-more > summary').click();
  await page.getByLabel('Sheet').selectOption('dark');
  await page.locator('.bar-more > summary').click();
  await openStage(page, 'find');
  await picture(page, 'desktop-find-dark');
  faults.push(...(await accessFaults(page)).map((f) => `dark find: ${f}`));
  await page.emulateMedia({ media: 'print' });
  await picture(page, 'print-find', { fullPage: true });
  check(!(await page.locator('.keypad').first().isVisible()) && await page.locator('[data-drawing] svg').first().isVisible(), 'the print view is not the drawings and numbers');
  await page.emulateMedia({ media: null });
  faults.push(...(await turned(browser, server)));
  check(faults.length === 0, faults.join('\n    '));
}

// A desk at 200 %: half as many CSS pixels either way. And where less motion is asked for, nothing moves.
async function zoomed(page) {
  const found = [];
  await page.setViewportSize({ width: 720, height: 450 });
  await page.emulateMedia({ reducedMotion: 'reduce' });
  for (const stage of stages) {
    await openStage(page, stage);
    await page.locator('[data-drawing] svg').first().waitFor();
    found.push(...(await measure(page)).map((f) => `at 200 % ${stage}: ${f}`));
    const moving = await page.evaluate(() => document.getAnimations().length);
    if (moving > 0) found.push(`${stage}: ${moving} movements where less motion is asked for`);
  }
  await page.emulateMedia({ reducedMotion: null });
  await page.setViewportSize({ width: 1440, height: 900 });
  return found;
}

// What a first visit fetches before anything is drawn, gzip at its default level.
async function packedSize(base) {
  const names = [...(await fetch(base).then((r) => r.text())).matchAll(/(?:src|href)="(\/assets\/[^"]+)"/g)].map((m) => m[1]);
  check(names.length >= 2, `the page names ${names.length} files`);
  const files = await Promise.all(names.map((n) => fetch(base + n).then((r) => r.arrayBuffer())));
  return files.reduce((sum, f) => sum + gzipSync(Buffer.from(f)).length, 0);
}

// At the desk no page is higher than two screens until something is unfolded, one drawing stands over about two thirds of
// the width, and no sentence is larger than the one that says what is next.
export function deskRules(page) {
  return page.evaluate(() => {
    const found = [];
    const high = document.documentElement.scrollHeight;
    if (high > 2 * innerHeight) found.push(`${high} px high, two screens are ${2 * innerHeight}`);
    const hero = document.querySelector('.hero')?.getBoundingClientRect().width ?? 0;
    if (hero < 0.6 * innerWidth) found.push(`its drawing is ${hero.toFixed(0)} of ${innerWidth} px wide`);
    const next = document.querySelector('[data-next]');
    const size = (e) => parseFloat(getComputedStyle(e).fontSize);
    const larger = next ? [...document.querySelectorAll('.room p, .room h2, .room h3, .room li, .room span')].filter((e) => e.checkVisibility() && !e.closest('svg') && size(e) > size(next)) : [];
    if (larger.length > 0) found.push(`larger than the next step: ${larger[0].textContent.slice(0, 60)}`);
    return found;
  });
}

// A phone turned on its side keeps its layout, and with it the number just typed and not yet stored.
async function turned(browser, server) {
  const upright = { width: 390, height: 844 }, typed = '1.0123';
  const page = await browser.page(upright, { fresh: true, context: { hasTouch: true, isMobile: true } });
  await comeIn(page, server.base);
  await beginWedge(page);
  await openStage(page, 'find');
  await newHead(page);
  await touching(page);
  await page.getByLabel('X', { exact: true }).fill(typed);
  await page.setViewportSize({ width: upright.height, height: upright.width });
  const faults = await measure(page);
  await picture(page, 'phone-turned');
  const left = await page.getByLabel('X', { exact: true }).inputValue();
  if (left !== typed) faults.push(`${typed} was typed before the phone was turned; now there is "${left}"`);
  return faults.map((f) => `phone turned: ${f}`);
}

export function measure(page) {
  return page.evaluate(() => {
    const found = [];
    const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
    if (wide > 0) {
      const over = [...document.querySelectorAll('main *, aside *')].filter((e) => e.getBoundingClientRect().right > document.documentElement.clientWidth + 1 && !e.closest('.wide, pre'));
      found.push(`the page is ${wide} px wider than the screen: ${over.at(-1)?.outerHTML.slice(0, 160)}`);
    }
    const shown = (e) => e.checkVisibility() && !e.closest('.unseen');
    for (const e of document.querySelectorAll('body *')) {
      const own = [...e.childNodes].some((n) => n.nodeType === Node.TEXT_NODE && n.textContent.trim() !== '');
      if (!own || !shown(e) || e.closest('svg')) continue;
      const size = parseFloat(getComputedStyle(e).fontSize);
      if (size < 16) found.push(`${size} px: ${e.outerHTML.slice(0, 80)}`);
    }
    for (const e of document.querySelectorAll('a, button, input, select, textarea, summary')) {
      if (!shown(e)) continue;
      // A box to tick is as large as the label it stands in; a link inside a sentence is exempt (WCAG 2.5.8).
      const box = (e.matches('[type=radio], [type=checkbox]') ? e.closest('label') ?? e : e).getBoundingClientRect();
      if (box.width < 44 || box.height < 43.5) found.push(`${box.width.toFixed(0)} × ${box.height.toFixed(0)}: ${e.outerHTML.slice(0, 80)}`);
    }
    return [...new Set(found)].slice(0, 8);
  });
}
