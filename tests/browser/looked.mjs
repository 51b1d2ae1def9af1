// A look at a state of the page: no page wider than its screen, no word of a drawing over another, beyond its frame, left out
// or smaller than 16 px (14 on a phone), no word of the stage strip over its neighbour, no fault axe-core knows, no word of
// the page itself cut off or over another. A picture of every state is kept in build/screenshots/every: once, the sizes and
// the light and the dark sheet in turn; with --every-picture on each size, light and dark. axe-core
// looks as often.
import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { accessFaults, picture, pictures } from './steps.mjs';

export const sizes = [{ name: 'desktop', width: 1440, height: 900 }, { name: 'tablet', width: 800, height: 1280 }, { name: 'phone', width: 390, height: 844 }];
export const wanted = sizes.filter((s) => !process.env.SIZES || process.env.SIZES.split(',').includes(s.name)); // SIZES=phone: that one alone
const sheets = ['light', 'dark'];
const every = process.argv.includes('--every-picture');
if (every) wanted.push({ name: 'desktop at 200 percent', width: 720, height: 450 }); // half as many CSS pixels either way
const folder = join(pictures, 'every');

export class Looker {
  constructor(page) {
    this.page = page;
    this.faults = [];
    this.drawings = 0;
    this.states = new Map(); // its place in the order they were first seen
    mkdirSync(folder, { recursive: true });
  }

  // `state`: "finished, hold"; the size is the page's. `unfold`: what folds are opened too; `high`: two screens are enough at the desk.
  async at(size, state, { unfold = false, high = false, whole = true } = {}) {
    const { page } = this;
    const where = `${size.name}, ${state}`;
    if (!this.states.has(state)) this.states.set(state, this.states.size);
    const axe = every || this.turn(state).size === size.name;
    await settled(page);
    const found = await page.evaluate(look);
    this.drawings += found.drawings;
    const moving = await page.evaluate(() => (matchMedia('(prefers-reduced-motion: reduce)').matches ? document.getAnimations().length : 0));
    const over = high && size.name === 'desktop' ? await page.evaluate(() => document.documentElement.scrollHeight - 2 * innerHeight) : 0;
    const here = [...found.faults, ...(axe ? await accessFaults(page) : []), ...(moving > 0 ? [`${moving} movements where less motion is asked for`] : []), ...(over > 0 ? [`${over} px higher than two screens`] : [])];
    this.faults.push(...here.map((f) => `${where}: ${f}`));
    const name = state.replaceAll(/[^\w]+/g, '-');
    if (here.length > 0) await picture(page, `words-${size.name}-${name}`, { fullPage: true });
    await this.keep(size, state, name, whole);
    if (!unfold) return;
    await page.evaluate(() => document.querySelectorAll('.room details, main details').forEach((d) => { d.open = true; }));
    await settled(page);
    const opened = await page.evaluate(look);
    this.drawings += opened.drawings;
    if (opened.faults.length > 0) await picture(page, `words-${size.name}-${name}-unfolded`, { fullPage: true });
    this.faults.push(...opened.faults.map((f) => `${where}, unfolded: ${f}`));
  }

  // The size and the sheet a state is looked at once on.
  turn(state) {
    const n = this.states.get(state);
    const of = wanted.filter((s) => sizes.includes(s));
    return { size: of[n % of.length].name, sheet: sheets[Math.floor(n / of.length) % sheets.length] };
  }

  async keep(size, state, name, whole) {
    const own = this.turn(state);
    if (!sizes.includes(size) || (!every && own.size !== size.name)) return;
    for (const sheet of every ? sheets : [own.sheet]) {
      await this.page.emulateMedia({ colorScheme: sheet });
      await picture(this.page, `every/${name}-${size.name}-${sheet}`, { fullPage: whole });
    }
    await this.page.emulateMedia({ colorScheme: 'light' });
  }

  said() {
    return `${this.states.size} states, ${this.drawings} drawings`;
  }
}

// All pictures on one page, to be looked through.
export function contents() {
  const names = readdirSync(folder).filter((n) => n.endsWith('.png')).sort();
  writeFileSync(join(folder, 'index.html'), `<!doctype html><html lang="en"><meta charset="utf-8"><title>Every state</title>${names.map((n) => `<figure><figcaption>${n}</figcaption><img loading="lazy" width="480" src="${n}" alt=""></figure>`).join('\n')}</html>`);
  return names.length;
}

async function settled(page) {
  await page.waitForTimeout(120);
  for (let i = 0; i < 60 && await page.locator('[data-drawing] .ink-none:empty, [data-later]').count() > 0; ++i) await page.waitForTimeout(100);
  await page.waitForTimeout(200);
}

// Runs in the page.
function look() {
  const faults = [];
  const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
  if (wide > 0) {
    const over = [...document.querySelectorAll('body *')].filter((e) => e.getBoundingClientRect().right > document.documentElement.clientWidth + 1 && !e.closest('.wide, pre, .ink'));
    faults.push(`${wide} px wider than the screen: ${over.at(-1)?.outerHTML.slice(0, 120)}`);
  }
  const marks = [...document.querySelectorAll('.strip-stages .stage-name, .strip-stages .mark > *, .strip-stages > a')].filter((e) => e.checkVisibility() && e.getBoundingClientRect().width > 2).map((e) => { // narrower: for a screen reader alone
    if (e instanceof SVGElement) return { said: 'its mark', box: e.getBoundingClientRect() };
    const words = document.createRange();
    words.selectNodeContents(e);
    return { said: e.textContent, box: words.getBoundingClientRect() };
  });
  marks.forEach((a, i) => {
    for (const b of marks.slice(i + 1)) if (b.box.left < a.box.right + 1 && b.box.right + 1 > a.box.left && b.box.top + 2 < a.box.bottom && b.box.bottom - 2 > a.box.top) faults.push(`stage strip: "${a.said}" against "${b.said}"`);
  });
  const drawings = [...document.querySelectorAll('svg.drawing, svg[data-figure]')].filter((s) => s.getBoundingClientRect().width > 0);
  for (const svg of drawings) {
    const frame = svg.getBoundingClientRect();
    const name = svg.closest('[data-drawing]')?.dataset.drawing ?? svg.dataset.figure ?? '';
    const least = innerWidth < 640 ? 14 : 16, scale = svg.getScreenCTM().a;
    for (const t of svg.querySelectorAll('text')) {
      const size = parseFloat(getComputedStyle(t).fontSize) * scale;
      if (t.getAttribute('visibility') === 'hidden') faults.push(`${name}: "${t.textContent}" found no place`);
      else if (size < least - 0.05 && t.getBoundingClientRect().width > 0) faults.push(`${name}: "${t.textContent}" is ${size.toFixed(1)} px`);
    }
    const words = [...svg.querySelectorAll('text')].filter((t) => t.getAttribute('visibility') !== 'hidden' && getComputedStyle(t).display !== 'none')
      .map((t) => ({ said: t.textContent, box: t.getBoundingClientRect() })).filter((w) => w.box.width > 0);
    words.forEach((a, i) => {
      const { box } = a;
      if (box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1) faults.push(`${name}: "${a.said}" is beyond its frame`);
      for (const b of words.slice(i + 1)) {
        const give = 0.2 * Math.min(box.height, b.box.height); // a line's box is higher than its letters
        if (b.box.left + 1 < box.right && b.box.right - 1 > box.left && b.box.top + give < box.bottom - give && b.box.bottom - give > box.top + give) faults.push(`${name}: "${a.said}" over "${b.said}"`);
      }
    });
  }
  faults.push(...overlaps(), ...nameless());
  return { faults: [...new Set(faults)].slice(0, 6), drawings: drawings.length };

  // Lines of words of the page itself: none lies over another, none is cut off by the box it stands in.
  function overlaps() {
    const found = [];
    const lines = [];
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node; node = walk.nextNode()) {
      const e = node.parentElement;
      if (node.textContent.trim() === '' || !e || e.closest('svg, .unseen, option, noscript, script, style, .skip') || !e.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      const clip = clipOf(e);
      for (const box of range.getClientRects()) {
        if (box.width <= 2 || box.height <= 2) continue;
        const seen = { left: Math.max(box.left, clip.left), right: Math.min(box.right, clip.right), top: Math.max(box.top, clip.top), bottom: Math.min(box.bottom, clip.bottom) };
        if (seen.right - seen.left <= 2 || seen.bottom - seen.top <= 2) continue;
        lines.push({ said: node.textContent.trim().slice(0, 40), box: seen, e });
      }
    }
    for (const box of document.querySelectorAll('button, .button, summary, label, th, td, h1, h2, h3')) {
      if (!box.checkVisibility() || box.closest('svg, .unseen') || getComputedStyle(box).textOverflow === 'ellipsis') continue;
      if (getComputedStyle(box).overflowX !== 'visible' && box.scrollWidth > box.clientWidth + 1) found.push(`"${box.textContent.trim().slice(0, 40)}" is cut off`);
    }
    lines.sort((a, b) => a.box.top - b.box.top);
    for (let i = 0; i < lines.length; ++i) {
      const a = lines[i];
      for (let j = i + 1; j < lines.length && lines[j].box.top < a.box.bottom; ++j) {
        const b = lines[j];
        const give = 0.22 * Math.min(a.box.bottom - a.box.top, b.box.bottom - b.box.top);
        if (a.box.left + 1 < b.box.right && b.box.left + 1 < a.box.right && a.box.top + give < b.box.bottom - give && b.box.top + give < a.box.bottom - give && !above(a.e, b.e)) found.push(`"${a.said}" over "${b.said}"`);
      }
    }
    return found;
  }
  // A screen reader meets every drawing by a name, or not at all.
  function nameless() {
    return [...document.querySelectorAll('svg')].filter((s) => s.checkVisibility() && !s.closest('[aria-hidden=true]') && !s.getAttribute('aria-label') && !s.getAttribute('aria-labelledby') && !s.querySelector(':scope > title') && !s.closest('[role=img][aria-label]'))
      .map((s) => `a drawing without a name: ${s.outerHTML.slice(0, 90)}`);
  }
  // What scrolls or hides shows no more than its box.
  function clipOf(e) {
    const box = { left: -1e9, right: 1e9, top: -1e9, bottom: 1e9 };
    for (let p = e; p && p !== document.body; p = p.parentElement) {
      const style = getComputedStyle(p);
      if (style.overflowX === 'visible' && style.overflowY === 'visible' && style.clipPath === 'none') continue;
      const r = p.getBoundingClientRect();
      [box.left, box.right] = [Math.max(box.left, r.left), Math.min(box.right, r.right)];
      [box.top, box.bottom] = [Math.max(box.top, r.top), Math.min(box.bottom, r.bottom)];
    }
    return box;
  }
  // What lies over the page on a ground of its own hides what is under it: an open menu.
  function above(a, b) {
    const over = (e) => e.closest('.bar-menu, .grows > .sheet-frame, .tour');
    return over(a) !== over(b);
  }
}
