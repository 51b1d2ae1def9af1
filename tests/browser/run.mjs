// The browser tests: node tests/browser/run.mjs [name…] [--mock]. Those of entry, waiting and signing out run three times: as
// localhost, over https and over http under a name that is not localhost (one way alone: offline-https). Each file *_test.mjs has a server and a
// browser of its own; a console error, a request to elsewhere or a failed step fails it.
import { readdirSync } from 'node:fs';
import { setTimeout as pause } from 'node:timers/promises';
import { Browser } from './browser.mjs';
import { Server } from './server.mjs';
import { owner, picture } from './steps.mjs';

const here = new URL('./', import.meta.url);
const wanted = process.argv.slice(2).filter((a) => !a.startsWith('--'));
const threeWays = process.argv.includes('--mock') ? [] : ['change', 'entries', 'offline'];
const names = readdirSync(here).filter((f) => f.endsWith('_test.mjs')).map((f) => f.replace('_test.mjs', ''))
  .flatMap((n) => [n, ...(threeWays.includes(n) ? [`${n}-https`, `${n}-http`] : [])])
  .filter((n) => wanted.length === 0 || wanted.includes(n) || wanted.includes(n.split('-')[0]));

// A test that waits for what never comes fails like any other: nothing here waits without end.
const patience = { test: 300_000, picture: 30_000 };
const within = (words, milliseconds, done) => {
  const stopped = new AbortController();
  const late = pause(milliseconds, undefined, { signal: stopped.signal }).then(() => { throw new Error(`not within ${milliseconds / 1000} s: ${words}`); });
  return Promise.race([done, late]).finally(() => stopped.abort());
};

let failed = 0;
for (const name of names) {
  const began = Date.now();
  const [file, way = 'localhost'] = name.split('-');
  const server = await Server.start(way, owner);
  const house = { server, browser: await Browser.start(undefined, server), way };
  try {
    const { default: test } = await import(new URL(`${file}_test.mjs`, here).href);
    const figures = await within(`the whole of ${name}`, patience.test, test(house));
    if (house.browser.troubles.length > 0) throw new Error(house.browser.troubles.slice(0, 5).join('\n    '));
    console.log(`  pass  ${name}  ${((Date.now() - began) / 1000).toFixed(1)} s${figures ? `  ${figures}` : ''}`);
  } catch (fault) {
    failed += 1;
    console.log(`  FAIL  ${name}: ${fault.stack ?? fault}`);
    if (house.browser.troubles.length > 0) console.log(`    the page said: ${house.browser.troubles.slice(0, 5).join('\n    ')}`);
    await within('a picture of what failed', patience.picture, failurePicture(house, name)).catch((late) => console.log(`    ${late.message}`));
  } finally {
    await house.browser.stop();
    await house.server.stop();
  }
}
console.log(`${names.length - failed} of ${names.length} browser tests pass`);
process.exit(failed === 0 && names.length > 0 ? 0 : 1);

async function failurePicture(house, name) {
  const pages = house.browser.connection.contexts().flatMap((c) => c.pages());
  for (const [i, page] of pages.entries()) await picture(page, `failed-${name}-${i}`).catch(() => undefined);
}
