// What every test does: come in, begin the wedge example, look at a picture, ask for access faults.
import { mkdirSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { axeSource } from './browser.mjs';

export const owner = { name: 'A. Turner', password: 'plumb guides first' };
export const pictures = fileURLToPath(new URL('../../build/screenshots/', import.meta.url));
const docsFolder = fileURLToPath(new URL('../../docs/pictures/', import.meta.url));
mkdirSync(pictures, { recursive: true });

const sizes = [{ name: 'desk', width: 1440, height: 900 }, { name: 'tablet', width: 800, height: 1280 }, { name: 'phone', width: 390, height: 844 }];

// What `work` tells of each size, of a page of its own that has come in. `some`: the names of those wanted.
export async function atEachSize({ server, browser }, work, some = sizes.map((s) => s.name)) {
  const told = [];
  for (const size of sizes.filter((s) => some.includes(s.name))) {
    const page = await browser.page({ width: size.width, height: size.height }, { fresh: true });
    await comeIn(page, server.base);
    told.push(await work(page, size));
    await page.close();
  }
  return told;
}

export async function comeIn(page, base) {
  await page.goto(`${base}/`);
  await page.locator('#password, .bar').first().waitFor();
  if (await page.locator('.bar').count() > 0) return;
  const first = await page.locator('#again').count() > 0;
  await page.fill('#name', owner.name);
  await page.fill('#password', owner.password);
  if (first) await page.fill('#again', owner.password);
  await page.click('button[type=submit]');
  await page.locator('.bar').waitFor();
}

export async function beginWedge(page) {
  await page.click('nav >> text=Bench');
  await page.click('text=New job');
  await page.click('label:has-text("an example")');
  await page.locator('li', { hasText: /wedge/i }).locator('button').click();
  await page.locator('.stages').waitFor();
  return Number(/job\/(\d+)/.exec(page.url())?.[1]);
}

// A job read from a file.
export async function fromFile(page, name, text) {
  await page.click('nav >> text=Bench');
  await page.click('text=New job');
  await page.click('label:has-text("a job file")');
  await page.setInputFiles('#job-file', { name, mimeType: 'text/plain', buffer: Buffer.from(text) });
  await page.click('text=Read it');
  await page.locator('.stages').waitFor();
}

// A head of the batch nothing is recorded of: its whole work lies ahead.
export async function newHead(page) {
  await page.getByLabel('Head', { exact: true }).selectOption({ label: (await page.locator('#head-choice option').last().innerText()).trim() });
}

export async function openStage(page, stage) {
  await page.click(`a[data-stage=${stage}]`);
  await page.locator(`.room[aria-label=${stage}]`).waitFor();
}

// With `fullPage` the screen is made as high as the page: a picture of more than the screen makes it narrow for a
// moment, and the page then builds its room anew.
export async function picture(page, name, options = {}) {
  const size = page.viewportSize();
  if (options.fullPage && size) {
    await page.setViewportSize({ width: size.width, height: await page.evaluate(() => document.documentElement.scrollHeight) });
  }
  await drawn(page);
  await page.screenshot({ path: join(pictures, `${name}.png`) });
  if (options.fullPage && size) await page.setViewportSize(size);
}

// Drawings that were still on their way have come, as far as there are any.
async function drawn(page) {
  const waiting = () => page.locator('[data-drawing] .ink-none:empty').count();
  for (let i = 0; i < 40 && await waiting() > 0; ++i) await page.waitForTimeout(100);
  await page.waitForTimeout(250);
}

// A picture of docs/workbench*.md, written anew only when asked for, so that a test run leaves no changed file.
export async function docsPicture(page, name) {
  if (!process.argv.includes('--pictures')) return;
  mkdirSync(docsFolder, { recursive: true });
  await page.evaluate(() => scrollTo(0, 0));
  await page.waitForTimeout(400);
  await page.screenshot({ path: join(docsFolder, `${name}.png`) });
}

export function check(condition, words) {
  if (!condition) throw new Error(words);
}

// Behind the person's name stand units, sheet, help and the way out.
export async function signIn(page, { name, password }) {
  await page.locator('#password').waitFor();
  await page.fill('#name', name);
  await page.fill('#password', password);
  await page.click('button[type=submit]');
  await page.locator('.bar').waitFor();
}

// Somebody more, past the page.
export async function addPerson(page, person) {
  const refused = await page.evaluate(async (body) => {
    const { csrf } = await fetch('/api/session').then((r) => r.json());
    const made = await fetch('/api/people', { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf }, body });
    return made.status === 201 ? '' : made.text();
  }, JSON.stringify(person));
  check(refused === '', refused);
}

// A machinist, added on the page People, comes in at a screen of their own.
export async function machinistComesIn(page, { server, browser }) {
  const machinist = { name: 'M. Borer', password: 'seats before lunch' };
  await page.goto(`${server.base}/#/people`);
  await page.getByLabel('Name', { exact: true }).fill(machinist.name);
  await page.getByLabel('Role', { exact: true }).selectOption('machinist');
  await page.getByLabel('First password').fill(machinist.password);
  await page.getByRole('button', { name: 'Add', exact: true }).click();
  await page.getByLabel(`Role of ${machinist.name}`).waitFor();
  const other = await browser.page(undefined, { fresh: true });
  await other.goto(`${server.base}/`);
  await signIn(other, machinist);
  return other;
}

export async function signOut(page) {
  await page.locator('.bar-more > summary').click();
  await page.getByRole('button', { name: 'Sign out' }).click();
  await page.locator('#password').waitFor();
}

export async function showUnits(page, units) {
  await page.locator('.bar-more > summary').click();
  await page.getByLabel('Units shown').selectOption(units);
  await page.locator('.bar-more > summary').click();
}

// What a fold of the room holds is opened.
export async function unfold(page, title) {
  const fold = page.locator('.room details', { has: page.locator('summary', { hasText: title }) }).first();
  if (!(await fold.evaluate((d) => d.open))) await fold.locator('summary').first().click();
}

// The guide the entry of touches stands at, once what was stored last is worked out and it moves no more.
export async function touching(page) {
  await until('the entry of touches has settled', async () => await page.locator('[aria-label=Touch][aria-busy=false] [data-touching]').count() === 1);
  return page.locator('[data-touching]').innerText();
}

// Waits until the page says so; the words name what was waited for.
export async function until(words, ask, patience = Number(process.env.PATIENCE ?? 40_000)) {
  const end = Date.now() + patience;
  for (;;) {
    const got = await ask();
    if (got) return got;
    if (Date.now() > end) throw new Error(`not within ${patience} ms: ${words}`);
    await new Promise((resolve) => setTimeout(resolve, 40));
  }
}

// WCAG 2.2 A and AA rules of axe-core; serious and critical faults count.
export async function accessFaults(page) {
  await page.evaluate(axeSource);
  const found = await page.evaluate(() => globalThis.axe.run(document, {
    runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] },
  }));
  check(found.passes.length > 0, 'axe-core ran no rule');
  return found.violations
    .filter((v) => v.impact === 'serious' || v.impact === 'critical')
    .map((v) => `${v.id}: ${v.nodes.slice(0, 3).map((n) => n.html.slice(0, 140)).join(' | ')}`);
}

// Changes the job's document as whoever is logged in there.
export function change(page, job, edits) {
  return page.evaluate(async ([id, e]) => {
    const { csrf } = await fetch('/api/session').then((r) => r.json());
    const { version } = await fetch(`/api/jobs/${id}`).then((r) => r.json());
    const answer = await fetch(`/api/jobs/${id}/edits`, { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf }, body: JSON.stringify({ version, edits: e, what: 'changed by a test' }) });
    if (!answer.ok) throw new Error(await answer.text());
  }, [job, edits]);
}

// A job made through the interface; its number.
export function made(page, body) {
  return page.evaluate(async (b) => {
    const { csrf } = await fetch('/api/session').then((r) => r.json());
    const answer = await fetch('/api/jobs', { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf }, body: JSON.stringify(b) }).then((r) => r.json());
    if (!answer.id) throw new Error(JSON.stringify(answer));
    // A large file is read as a task; the job it makes is named when it has finished.
    if (typeof answer.id === 'number') return answer.id;
    for (;;) {
      const task = await fetch(`/api/tasks/${answer.id}`).then((r) => r.json());
      if (task.state === 'finished') return task.job;
      if (task.state !== 'running') throw new Error(task.sentence);
      await new Promise((resolve) => setTimeout(resolve, 200));
    }
  }, body);
}

const ofBoth = (of) => ({ intake: of, exhaust: of });
export const thirtyTwo = {
  title: 'Eight cylinders, thirty-two valves, invented', units: 'in', cylinders: 8, bore_spacing: 4.1, valves: ofBoth(2),
  order: { layout: 'two rows', first: 'intake', alternate: 'same' }, angles: { intake: { incline: 14, cant: 0 }, exhaust: { incline: -14, cant: 0 } },
  sizes: { intake: { head_diameter: 1.3 }, exhaust: { head_diameter: 1.1 } },
};

// Times are held to the figures themselves on a machine that has nothing else to do, to three times as much on a busy one.
export class Busy {
  constructor() { this.most = loadavg()[0]; }
  get factor() {
    this.most = Math.max(this.most, loadavg()[0]);
    return this.most > cpus().length ? 3 : 1;
  }
  get words() { return `load ${this.most.toFixed(1)} on ${cpus().length} cores${this.factor > 1 ? `, so ${this.factor} times the figure is allowed` : ''}`; }
}
