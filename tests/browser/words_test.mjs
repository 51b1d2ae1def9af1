// No page wider than its screen, no word of a drawing over another, beyond its frame, left out, larger than 48 px or smaller than 16 (14 on a
// phone), no word of the stage strip over its neighbour, no fault axe-core knows: in every room (at the desk none higher than two screens), for heads that are finished, half read, stopped, unread, and of thirty-two valves, in the forecast, in a survey under way and a scan looked at, and on every other page, on a
// desk, a tablet and a phone. Each is kept once, at a desk, in build/screenshots/once; with --every-picture at all
// three, light and dark, in build/screenshots/every.
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { richJob } from './rich_job.mjs';
import { accessFaults, beginWedge, check, comeIn, made, picture, pictures, thirtyTwo, until } from './steps.mjs';
import { answered, begun, post, Shop, state as surveyed } from './survey_shop.mjs';

export const always = true;
export const patience = 1_200_000; // ms: every room, state and size

const sizes = [{ name: 'desktop', width: 1440, height: 900 }, { name: 'tablet', width: 800, height: 1280 }, { name: 'phone', width: 390, height: 844 }];
const rooms = ['hold', 'find', 'shape', 'cut', 'prove/measure', 'prove/head', 'prove/batch', 'data', 'machine'];

const places = ['bench', 'new', 'shelf', 'ledger', 'people', 'administration', 'help'];
const ways = ['a scanned surface', 'a drawing', 'an example', 'a head the shop has had', 'a job file', 'six questions']; // of a new job
const wanted = sizes.filter((s) => !process.env.SIZES || process.env.SIZES.split(',').includes(s.name)); // SIZES=phone: that one alone
const every = process.argv.includes('--every-picture');

export default async function words({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock has few drawings';
  const page = await browser.page();
  await comeIn(page, server.base);
  const wedge = await beginWedge(page);
  const states = [{ name: 'finished', job: wedge, head: '3' }, { name: 'to cut', job: wedge, head: '6' }, { name: 'unread', job: wedge, head: '7' }];
  const rich = await made(page, { from: 'text', text: richJob() });
  states.push({ name: 'much wrong', job: rich, head: '9' });
  const large = await made(page, { from: 'answers', answers: thirtyTwo });
  for (const [i, valve, x] of [[0, '1I1', 0], [1, '8E2', 30], [2, '4I1', 12.9]]) await touch(page, large, '1', valve, x, i);
  states.push({ name: '32 valves', job: large, head: '1' });
  const surveys = await underWay(page, server);
  const scan = await scanned(page, server);
  await onRecord(page, wedge);
  const faults = [];
  let looked = 0;
  for (const size of wanted) {
    await page.setViewportSize(size);
    for (const state of states) {
      await page.goto(`${server.base}/#/job/${state.job}/hold`);
      await page.evaluate(([id, head]) => localStorage.setItem(`seatwright.head.${id}`, head), [state.job, state.head]);
      await page.reload();
      await page.locator('.stages').waitFor();
      for (const room of rooms) {
        await page.evaluate((r) => { location.hash = `${location.hash.split('/').slice(0, 3).join('/')}/${r}`; }, room);
        await page.locator(`.room[aria-label=${room.split('/')[0]}]`).waitFor();
        await lookAt(`${size.name}, ${state.name}, ${room}`);
      }
    }
    // The batch is one whichever head is chosen: of the example, and where much is wrong.
    for (const job of [wedge, rich]) {
      await page.goto(`${server.base}/#/job/${job}/forecast`);
      await page.locator('.room[aria-label=forecast]').waitFor();
      await until('the forecast is there', async () => await page.locator('[data-drawing=changes] svg').count() > 0 || await page.locator('.room [role=alert]').count() > 0);
      await page.waitForTimeout(600); // drawn anew for the room there is
      await lookAt(`${size.name}, ${job === wedge ? 'batch' : 'much wrong'}, forecast`);
    }
    for (const [name, id] of surveys) {
      await page.goto(`${server.base}/#/survey/${id}`);
      await page.locator('[data-next]').waitFor();
      await lookAt(`${size.name}, survey ${name}`, true);
    }
    await page.goto(`${server.base}/#/scan/${scan}`);
    await page.locator('[data-drawing=scan] svg').waitFor();
    await page.locator('[aria-label=Valves] .valve-name').first().click();
    await page.locator('[data-drawing=scan-section] svg').waitFor();
    await lookAt(`${size.name}, scan`, true);
    for (const place of places) {
      await page.goto(`${server.base}/#/${place}`);
      await page.locator('main.page h1').waitFor();
      await lookAt(`${size.name}, ${place}`);
    }
    await page.goto(`${server.base}/#/new`);
    for (const way of ways) {
      await page.getByLabel(way, { exact: true }).check();
      await lookAt(`${size.name}, new by ${way}`);
    }
  }

  async function lookAt(where, unfolds = false) {
    await settled();
    const found = await page.evaluate(look);
    looked += found.drawings;
    const high = where.startsWith('desktop') && where.split(', ').length === 3 ? await page.evaluate(() => document.documentElement.scrollHeight - 2 * innerHeight) : 0;
    const here = [...found.faults, ...(await accessFaults(page)), ...(high > 0 ? [`${high} px higher than two screens`] : [])];
    faults.push(...here.map((f) => `${where}: ${f}`));
    // What is unfolded keeps to it too.
    if (unfolds || (/much wrong|32 valves/.test(where) && !where.endsWith('machine'))) {
      await page.evaluate(() => document.querySelectorAll('.room details, main.page details').forEach((d) => { d.open = true; }));
      await settled();
      const opened = await page.evaluate(look);
      looked += opened.drawings;
      faults.push(...opened.faults.map((f) => `${where}, unfolded: ${f}`));
    }
    const name = where.replaceAll(/[ ,/]+/g, '-');
    if (here.length > 0) await picture(page, `words-${name}`, { fullPage: true });
    if (every) await bothSheets(page, name);
    else if (where.startsWith('desktop')) await picture(page, `once/${name}`, { fullPage: !name.includes('machine') });
  }

  async function settled() {
    await page.waitForTimeout(120);
    for (let i = 0; i < 60 && await page.locator('[data-drawing] .ink-none:empty, [data-later]').count() > 0; ++i) await page.waitForTimeout(100);
    await page.waitForTimeout(200);
  }

  check(faults.length === 0, `${faults.length}:\n    ${faults.slice(0, 25).join('\n    ')}`);
  check(looked >= 70 * wanted.length, `only ${looked} drawings were looked at`);
  return `${looked} drawings`;
}

// Surveys: nothing read, the deck and some leans, half way, and every valve known.
async function underWay(page) {
  const shop = new Shop();
  const id = await begun(page, 'Words, nothing read');
  const leans = await begun(page, 'Words, a few leans');
  const half = await begun(page, 'Words, half way');
  const whole = await begun(page, 'Words, every valve known');
  await answered(page, leans, shop, (step) => step.of === 'guide level' && step.id === '2E');
  for (const [survey, stop] of [[half, (step) => step.of === 'valve head' && /^3/.test(step.id)], [whole, () => false]]) {
    await answered(page, survey, shop, (step) => step.of === 'guide level');
    await post(page, `/api/surveys/${survey}/entries`, { client_key: `lean-${survey}`, kind: 'head', values: { lean_of: 'chamber' } });
    await answered(page, survey, shop, stop);
  }
  check((await surveyed(page, whole)).whole, 'not every valve is known');
  return [['nothing read', id], ['leans', leans], ['half way', half], ['known', whole]];
}

async function scanned(page, server) {
  await page.goto(`${server.base}/#/new`);
  await page.getByLabel('a scanned surface', { exact: true }).check();
  await page.setInputFiles('#scan-file', { name: 'head.ply', mimeType: 'application/octet-stream', buffer: readFileSync(new URL('../../examples/scan/head.ply', import.meta.url)) });
  await page.getByRole('button', { name: 'Send and read it' }).click();
  await page.locator('.scan').waitFor();
  return /scan\/([0-9a-f]+)/.exec(page.url())[1];
}

// A casting on the shelf, a customer, a screen that takes a PIN.
async function onRecord(page, job) {
  await page.goto(`${new URL(page.url()).origin}/#/shelf`);
  const section = page.getByLabel('Castings', { exact: true });
  await section.getByLabel('A head of the shop').selectOption({ index: 1 });
  await section.getByRole('button', { name: 'Keep it as a casting' }).click();
  await section.locator('[data-casting]').first().waitFor();
  await page.evaluate(async (id) => {
    const { csrf } = await fetch('/api/session').then((r) => r.json());
    const said = (method, to, body) => fetch(to, { method, headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf }, body: JSON.stringify(body) })
      .then(async (r) => { if (!r.ok) throw new Error(`${to}: ${await r.text()}`); });
    await said('PATCH', `/api/jobs/${id}/order`, { customer: 'Invented Engines of the Long Valley, works two' });
    await said('POST', '/api/screens', { name: 'Tablet at the long table' });
  }, job);
}

async function bothSheets(page, name) {
  mkdirSync(join(pictures, 'every'), { recursive: true });
  for (const colorScheme of ['dark', 'light']) {
    await page.emulateMedia({ colorScheme });
    await picture(page, `every/${name}-${colorScheme}`, { fullPage: !name.includes('machine') });
  }
}

function touch(page, job, head, valve, x, i) {
  return page.evaluate(async ([id, h, v, at, n]) => {
    const { csrf } = await fetch('/api/session').then((r) => r.json());
    const state = await fetch(`/api/jobs/${id}/state`).then((r) => r.json());
    const name = state.valves.some((w) => w.id === v) ? v : state.valves[n * 3].id;
    await fetch(`/api/jobs/${id}/entries`, { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf },
      body: JSON.stringify({ kind: 'touch', head: h, valve: name, values: { x: String(at), y: '0' }, units: 'in', client_key: `words-test-of-thirty-two-${n}` }) });
  }, [job, head, valve, x, i]);
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
  const drawings = [...document.querySelectorAll('svg.drawing, svg[data-figure], main svg[role=img], .lean-picture')].filter((s) => s.getBoundingClientRect().width > 0);
  for (const svg of drawings) {
    const frame = svg.getBoundingClientRect();
    const name = svg.closest('[data-drawing]')?.dataset.drawing ?? svg.dataset.figure ?? svg.getAttribute('aria-label') ?? '';
    const least = innerWidth < 640 ? 14 : 16, most = 48, scale = svg.getScreenCTM().a;
    for (const t of svg.querySelectorAll('text')) {
      const size = parseFloat(getComputedStyle(t).fontSize) * scale;
      if (t.getAttribute('visibility') === 'hidden') faults.push(`${name}: "${t.textContent}" found no place`);
      else if (size > most) faults.push(`${name}: "${t.textContent}" is ${size.toFixed(1)} px`);
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
  return { faults: [...new Set(faults)].slice(0, 6), drawings: drawings.length };
}
