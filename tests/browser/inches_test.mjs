// Shown in inches, no page speaks of mm: neither in what stands there nor in what is read aloud of it, drawings included.
import { beginWedge, check, comeIn, showUnits, until } from './steps.mjs';

export default async function inches({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock computes nothing';
  const page = await browser.page();
  await comeIn(page, server.base);
  const job = await beginWedge(page);
  await showUnits(page, 'in');
  const found = [];
  let shape = '';
  const look = async (where) => {
    await page.evaluate(() => { for (const fold of document.querySelectorAll('main details')) fold.open = true; });
    await page.waitForTimeout(400); // what a fold shows is drawn when it opens
    await until(`the drawings of ${where} have come`, async () => await page.locator('[data-drawing] .ink-none:empty, [data-later]').count() === 0);
    for (const words of await page.evaluate(strays, asWritten)) found.push(`${where}: ${words}`);
  };
  for (const stage of ['hold', 'find', 'shape', 'cut', 'prove']) {
    await page.goto(`${server.base}/#/job/${job}/${stage}`);
    await page.locator(`.room[aria-label=${stage}]`).waitFor();
    await look(stage);
    if (stage === 'shape') shape = await page.locator('main').textContent();
  }
  check(shape.includes('metal off, in³') && shape.includes('area, in²'), 'areas and volumes of the shape room are not there to be looked at');
  await dragged(page, server, job);
  await page.goto(`${server.base}/#/job/${job}/data`);
  await page.getByLabel('Job file').waitFor({ state: 'attached' });
  await look('drawing data');

  await page.goto(`${server.base}/#/shelf`);
  const said = (figure) => page.locator(`svg[data-figure=${figure}]`).first();
  await said('machine').waitFor({ state: 'attached' });
  await page.getByText('Set up a feed').first().click();
  await page.getByLabel('Still is within').first().waitFor();
  check(await page.getByLabel('Still is within').first().inputValue() === '0.0002', 'the feed stands still within mm');
  await look('shelf');
  const pictures = {};
  for (const figure of ['machine', 'fixture', 'pilot', 'cutter']) {
    if (await said(figure).count() > 0) pictures[figure] = await said(figure).getAttribute('aria-label');
    check(pictures[figure] === undefined || / in\b/.test(pictures[figure]), `said of a ${figure}: ${pictures[figure]}`);
  }
  check(Object.keys(pictures).length >= 3, `drawn are only ${Object.keys(pictures).join()}`);
  check(found.length === 0, `beside inches stands mm:\n    ${[...new Set(found)].join('\n    ')}`);
}

// What a hand draws wider on the section is stored in the unit it is shown in.
async function dragged(page, server, job) {
  await page.goto(`${server.base}/#/job/${job}/shape`);
  const version = () => page.evaluate((id) => fetch(`/api/jobs/${id}`).then((r) => r.json()), job);
  const before = (await version()).version;
  const face = page.locator('[data-drawing] [data-name=face]').first();
  await face.scrollIntoViewIfNeeded();
  const box = await face.evaluate((g) => { const b = g.getBoundingClientRect(); return { x: b.x + b.width / 2, y: b.y + b.height / 2, w: b.width, h: b.height }; });
  await page.mouse.move(box.x, box.y);
  await page.mouse.down();
  await page.mouse.move(box.x + box.w / 2, box.y - box.h / 2, { steps: 5 });
  await page.mouse.up();
  const now = await until('the width drawn is stored', async () => { const stored = await version(); return stored.version > before && stored; });
  check(/^[\d.]+ in$/.test(now.tables.seat.intake.width), `stored as ${JSON.stringify(now.tables.seat.intake.width)}`);
}

// The shop's file, word for word: its unit, figures as somebody wrote them, names of its keys.
const asWritten = 'main > header > p, .shelf-item > p.quiet, .shelf-item .pair label, .branch label';

// Every text and every name that has mm in it; what a person chooses from, typed, or may type aside.
function strays(asWritten) {
  const mm = /(^|[^\p{L}])mm[²³]?($|[^\p{L}])/u;
  const out = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT);
  for (let at = walker.nextNode(); at; at = walker.nextNode()) {
    const holder = at.nodeType === Node.TEXT_NODE ? at.parentElement : at;
    if (holder.closest('option, textarea, script, style, .keypad') || holder.matches(asWritten)) continue;
    if (at.nodeType === Node.TEXT_NODE) {
      if (mm.test(at.data)) out.push(`“${(holder.textContent ?? '').trim().slice(0, 160)}”`);
    } else {
      for (const name of ['aria-label', 'title', 'alt', 'placeholder']) {
        const words = at.getAttribute(name);
        if (words && mm.test(words)) out.push(`${name} “${words.slice(0, 160)}”`);
      }
    }
  }
  return out;
}
