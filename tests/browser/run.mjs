// The browser tests: node tests/browser/run.mjs [name…] [--mock] [--draw=N]. Each file *_test.mjs has a server and a browser of its
// own; a console error, a request to elsewhere or a failed step fails it. Those of entry, waiting and signing out run
// three times: as localhost, over https and over http under a name that is not localhost (one way alone: offline-https).
// Two run beside each other; those that measure (export const measures = true) run by themselves. --draw=4, as ./check
// asks for: those that are always to be run (export const always = true) and one in four of the others, drawn by the
// commit, so that the same are drawn again and all in the long run; ./check --all runs all.
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readdirSync } from 'node:fs';
import { setTimeout as pause } from 'node:timers/promises';
import { Browser } from './browser.mjs';
import { Server } from './server.mjs';
import { owner, picture } from './steps.mjs';

const here = new URL('./', import.meta.url);
const wanted = process.argv.slice(2).filter((a) => !a.startsWith('--'));
const threeWays = process.argv.includes('--mock') ? [] : ['entries', 'offline'];
const names = readdirSync(here).filter((f) => f.endsWith('_test.mjs')).map((f) => f.replace('_test.mjs', ''))
  .flatMap((n) => [n, ...(threeWays.includes(n) ? [`${n}-https`, `${n}-http`] : [])])
  .filter((n) => wanted.length === 0 || wanted.includes(n) || wanted.includes(n.split('-')[0]));

// A test that waits for what never comes fails like any other: nothing here waits without end.
const patience = { test: 600_000, picture: 30_000 };
const within = (words, milliseconds, done) => {
  const stopped = new AbortController();
  const late = pause(milliseconds, undefined, { signal: stopped.signal }).then(() => { throw new Error(`not within ${milliseconds / 1000} s: ${words}`); });
  return Promise.race([done, late]).finally(() => stopped.abort());
};

const test = (name) => import(new URL(`${name.split('-')[0]}_test.mjs`, here).href);

// One test with a server and a browser of its own; what it found wrong, or nothing.
async function run(name) {
  const began = Date.now();
  const [, way = 'localhost'] = name.split('-');
  const server = await Server.start(way, owner);
  const house = { server, browser: await Browser.start(undefined, server), way };
  try {
    const { default: whole, patience: own = patience.test } = await test(name);
    const figures = await within(`the whole of ${name}`, own, whole(house));
    if (house.browser.troubles.length > 0) throw new Error(house.browser.troubles.slice(0, 5).join('\n    '));
    console.log(`  pass  ${name}  ${((Date.now() - began) / 1000).toFixed(1)} s${figures ? `  ${figures}` : ''}`);
    return undefined;
  } catch (fault) {
    console.log(`  FAIL  ${name}: ${fault.stack ?? fault}`);
    if (house.browser.troubles.length > 0) console.log(`    the page said: ${house.browser.troubles.slice(0, 5).join('\n    ')}`);
    await within('a picture of what failed', patience.picture, failurePicture(house, name)).catch((late) => console.log(`    ${late.message}`));
    return fault;
  } finally {
    await house.browser.stop();
    await house.server.stop();
  }
}

// On a machine that others use a wait may end too early: what failed by waiting alone has one more try, which is
// said; what was found wrong has none.
const onlyLate = (fault) => /Timeout \d+ms exceeded|^not within /.test(fault.message ?? '');

let failed = 0;
async function tried(name) {
  const fault = await run(name).catch((why) => why);
  if (!fault) return;
  if (onlyLate(fault)) console.log(`  once more, since it only waited too long: ${name}`);
  if (!onlyLate(fault) || await run(name).catch((why) => why)) failed += 1;
}
async function lane(rest) {
  while (rest.length > 0) await tried(rest.shift());
}

// Whether the commit draws a test: a figure of the commit and the name, even over both.
const one = Number(process.argv.find((a) => a.startsWith('--draw='))?.slice(7) ?? 1);
const commit = one > 1 ? execFileSync('git', ['rev-parse', 'HEAD'], { cwd: here, encoding: 'utf8' }).trim() : '';
const drawn = (name) => parseInt(createHash('sha256').update(commit + name).digest('hex').slice(0, 8), 16) % one === 0;

const measuring = new Set();
const left = [];
for (const name of [...names]) {
  const { measures, always } = await test(name);
  if (!(always && !name.includes('-')) && !drawn(name)) left.push(...names.splice(names.indexOf(name), 1));
  else if (measures) measuring.add(name);
}
if (left.length > 0) console.log(`  not drawn by this commit: ${left.join(', ')}`);
const long = (name) => name === 'words';
// The longest begin first, so that none is left to run alone at the end.
const beside = names.filter((n) => !measuring.has(n)).sort((one, two) => Number(long(two)) - Number(long(one)));
await Promise.all([lane(beside), lane(beside)]);
await lane([...measuring]);
console.log(`${names.length - failed} of ${names.length} browser tests pass`);
process.exit(failed === 0 && names.length > 0 ? 0 : 1);

async function failurePicture(house, name) {
  const pages = house.browser.connection.contexts().flatMap((c) => c.pages());
  for (const [i, page] of pages.entries()) await picture(page, `failed-${name}-${i}`).catch(() => undefined);
}
