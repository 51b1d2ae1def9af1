// node tests/browser/webkit_walk.mjs: one walk on an upright tablet in WebKit, which tablets in shops have too: log in, touch,
// the server goes, touch, load the page again without it, it comes back, take a file. As localhost and over https under a
// name, whose root the tablet trusts. ./check --all runs it.
import { readdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { Server } from './server.mjs';
import { check, owner, pictures, until } from './steps.mjs';
import { WebKit } from './webkit.mjs';

const tablet = { width: 800, height: 1280 };
let server, page;
for (const way of ['localhost', 'https']) await whole(way);

async function whole(way) {
  const began = Date.now();
  try {
    server = await Server.start(way, owner);
    page = await WebKit.start(tablet, server);
    const words = await walk();
    const faults = await page.hear();
    check(faults.length === 0, faults.join('\n    '));
    console.log(`  pass  webkit-${way}  ${((Date.now() - began) / 1000).toFixed(1)} s  WebKit ${page.version}: ${words}`);
  } catch (fault) {
    console.log(`  FAIL  webkit-${way}: ${fault.stack ?? fault}`);
    await page?.picture(join(pictures, `failed-webkit-${way}.png`)).catch(() => undefined);
    process.exitCode = 1;
  } finally {
    await page?.stop();
    await server?.stop();
  }
}

async function walk() {
  await page.goto(`${server.base}/`);
  await comeIn();
  await page.click('.bar-more > summary');
  await page.click('button', 'Sign out');
  await comeIn();
  const job = await beginWedge();
  await page.click('a[data-stage=find]');
  await page.seen('.room[aria-label=find]');
  await newHead();
  const before = (await stored(job)).length;

  const made = [];
  await touch(made, '0.1004', '0.2004');
  await until('the touch is stored', async () => (await stored(job)).length === before + 1);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => true));

  await server.down();
  for (let i = 1; i < 4; ++i) await touch(made, `0.100${i}`, `0.200${i}`);
  check(new Set(made.map((m) => m.split(' ')[0])).size === 4, `the field stood at ${made.join(', ')}`);
  await waiting(3);
  await page.picture(join(pictures, 'webkit-offline.png'));

  await page.reload();
  await page.seen('.room[aria-label=find]');
  await waiting(3);

  await server.up();
  await until('nothing waits any more', () => page.evaluate(() => document.querySelectorAll('[data-away], .is-waiting').length === 0));
  await until('all of them are stored', async () => (await stored(job)).length >= before + 4);
  const after = (await stored(job)).slice(before);
  check(after.map((e) => `${e.valve} ${e.values.x} ${e.values.y}`).join() === made.join(), `stored ${JSON.stringify(after)}, made ${made.join()}`);
  check(new Set(after.map((e) => e.client_key)).size === 4, 'an entry was sent twice');
  const file = await takeFile(job);
  return `4 touches stored, 3 of them made without a server and kept over a reload; ${file} taken at the desk and at the machine`;
}

// The line on top says so, and the list shows each.
async function waiting(count) {
  await page.seen('[data-away]', `${count} entries wait on this screen`);
  await until('each is shown as waiting', () => page.evaluate((n) => document.querySelectorAll('.is-waiting').length === n, count));
}

// The first time the owner's account is made.
async function comeIn() {
  await page.type('#name', owner.name);
  await page.type('#password', owner.password);
  if (await page.evaluate(() => document.querySelector('#again') !== null)) await page.type('#again', owner.password);
  await page.click('button[type=submit]');
  await page.seen('.bar');
}

async function beginWedge() {
  await page.click('a, button', 'New job');
  await page.click('label', 'an example');
  await page.click('//li[contains(., "edge")]//button');
  await page.seen('.stages');
  return page.evaluate(() => Number(/job\/(\d+)/.exec(location.hash)[1]));
}

// A head of the batch nothing is recorded of.
async function newHead() {
  await page.click('#head-choice option:last-of-type');
  await page.seen('[data-touching]');
}

function field(name) {
  return `//section[@aria-label="Touch"]//div[label="${name}"]//input`;
}

// Once what was stored last is worked out the field stands at the next guide.
async function touch(made, x, y) {
  await page.seen('[aria-label=Touch][aria-busy=false] [data-touching]');
  const guide = await page.text('[data-touching]');
  await page.type(field('X'), x, 'Enter');
  await page.type(field('Y'), y, 'Enter');
  await until('the field moves on', async () => await page.text('[data-touching]') !== guide);
  made.push(`${guide} ${x} in ${y} in`);
}

function stored(job) {
  return page.evaluate((id) => fetch(`/api/jobs/${id}/entries`).then((r) => r.json()).then((a) => a.entries), job);
}

// The program of a head that is ready to be cut, from the link at the desk and from the button at the machine: the file that
// arrives is the server's.
async function takeFile(job) {
  await page.click('#head-choice option[value="6"]');
  await page.click('a[data-stage=cut]');
  const link = 'a[download*="program-6"]';
  await page.seen(link);
  const path = await page.evaluate((l) => document.querySelector(l).getAttribute('href'), link);
  const text = await page.evaluate((p) => fetch(p).then((r) => r.text()), path);
  check(text.split('\n').length > 20, `the program is ${text}`);
  await page.click(link);
  const name = await arrived(job, text);
  await page.goto(`${server.base}/#/job/${job}/machine`);
  await page.seen('.machine-sentence', 'Take the first file of cutter 1, head 6');
  await page.picture(join(pictures, 'webkit-machine.png'));
  await pause(800); // a person reads first; what comes sooner is a finger that bounced
  await page.click('.machine-card button', 'Take the file');
  await page.seen('.machine-sentence', 'Z0');
  check(await arrived(job, text) === name, 'the file at the machine has another name');
  return name;
}

async function arrived(job, text) {
  const name = await until('the file is there', () => readdirSync(page.downloads).find((f) => f.endsWith('.ngc')));
  check(name.startsWith(`${job}-program-6-`), `taken as ${name}`);
  const file = join(page.downloads, name);
  await until('the whole file is the server\'s', () => readFileSync(file, 'utf8') === text);
  rmSync(file);
  return name;
}
