// Files that leave for a machine: the job's number in front of the name, or, where names are short, a folder of that number
// round it; the mark that stands on the page stands in the file's first line and on the sheet too. And two people who change
// one figure: each is asked once which holds.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beginWedge, change, check, comeIn, openStage, picture, until } from './steps.mjs';

export default async function files({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock writes no programs';
  const page = await browser.page();
  await comeIn(page, server.base);
  const job = await beginWedge(page);
  await longNames(page, job);
  await shortNames(page, job);
  await keepMine(page, server, job);
  return undefined;
}

const text = (page, path) => page.evaluate((p) => fetch(`/api${p}`).then((r) => r.text()), path);

async function longNames(page, job) {
  await openStage(page, 'cut');
  const link = page.locator('a[download*="program-6"]').first();
  await link.waitFor();
  const [taken] = await Promise.all([page.waitForEvent('download'), link.click()]);
  check(new RegExp(`^${job}-program-6-A-\\d(-first)?\\.ngc$`).test(taken.suggestedFilename()), `taken as ${taken.suggestedFilename()}`);
  const mark = (await page.locator('.files .digest').first().innerText()).trim();
  check(/^[0-9a-f]{8}$/.test(mark), `the mark is "${mark}"`);
  const body = readFileSync(await taken.path(), 'utf8');
  check(body.split('\n').slice(0, 3).join('\n').includes(mark), `the file begins ${body.slice(0, 200)}, the page says ${mark}`);
  const sheet = await text(page, `/jobs/${job}/papers/sheet-1.svg?head=6&units=in`);
  check(sheet.includes(mark), `the sheet does not have ${mark}`);
  // The card has the head step by step in the words the screen has.
  const walk = await page.evaluate((id) => fetch(`/api/jobs/${id}/state?head=6&units=in`).then((r) => r.json()).then((s) => s.walk.map((w) => w.words)), job);
  const papers = JSON.parse(await text(page, `/jobs/${job}/papers?head=6&units=in`)).papers;
  let pages = '';
  for (const name of papers.find((p) => p.name === 'sheet.pdf').pages) pages += await text(page, `/jobs/${job}/papers/${name}?head=6&units=in`);
  check(walk.length > 8, `only ${walk.length} steps`);
  // A page has a sign for degrees.
  for (const words of walk) check(pages.includes(words.replaceAll('°', ' deg')), `the card does not say "${words}"`);
}

// A dialect of short names: both at the desk and at the machine the file comes in the job's folder.
async function shortNames(page, job) {
  await change(page, job, [{ key: 'dialect.names', value: '8.3' }]);
  await until('the short names are there', async () => await page.locator('.files button', { hasText: `${job}/` }).count() > 0);
  const name = (await page.locator('.files h4').first().innerText()).split(' ')[0];
  check(/^[A-Z0-9-]{1,8}\.[A-Z]{1,3}$/i.test(name), `"${name}" is not eight and three`);
  const [taken] = await Promise.all([page.waitForEvent('download'), page.locator('.files button', { hasText: `${job}/` }).first().click()]);
  check(taken.suggestedFilename() === `${job}.zip`, taken.suggestedFilename());
  const folder = mkdtempSync(join(tmpdir(), 'seatwright-files-'));
  try {
    await taken.saveAs(join(folder, 'a.zip'));
    execFileSync('python3', ['-c', 'import sys, zipfile; z = zipfile.ZipFile(sys.argv[1]); assert z.testzip() is None; z.extractall(sys.argv[2])', join(folder, 'a.zip'), folder]);
    const body = readFileSync(join(folder, String(job), name), 'utf8');
    check(body === await text(page, `/jobs/${job}/papers/${name}?head=6`), 'the file in the folder is another one');
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  await picture(page, 'files-short-names');
}

// Offline a width is changed here while somebody else changes it there: asked once, "keep mine" holds, and nothing is
// asked again when the same person changes it further.
async function keepMine(page, server, job) {
  await openStage(page, 'shape');
  const field = page.getByLabel('seat face, width');
  await field.waitFor();
  const old = await widthOf(page, job);
  page.expectsNetworkErrors = true;
  await page.context().setOffline(true);
  await field.fill('0.0710 in');
  await field.press('Enter');
  await until('it waits', async () => /waits/.test(await page.locator('[data-away]').innerText().catch(() => '')));
  await fetchOutside(server, page, job, [{ key: 'seat.intake.width', value: '0.066 in' }]);
  await page.context().setOffline(false);
  const asked = page.locator('.strip', { hasText: 'please decide' });
  await asked.waitFor();
  check(await asked.locator('li').count() === 1, `asked ${await asked.locator('li').count()} times`);
  const words = await asked.innerText();
  check(/theirs is 0\.066 in, yours is 0\.0710? in/.test(words) && !/seat\.intake|"/.test(words), `asked is: ${words}`);
  await picture(page, 'files-keep-mine');
  await asked.getByRole('button', { name: 'Keep mine' }).click();
  await until('mine is stored', async () => /0\.071/.test(String(await widthOf(page, job))));
  await until('nothing is asked any more', async () => await asked.count() === 0);
  page.expectsNetworkErrors = false; // a change made on an older version is answered 409 and made again
  await field.fill('0.0720 in');
  await field.press('Enter');
  await until('the next change is stored', async () => /0\.072/.test(String(await widthOf(page, job))));
  check(await asked.count() === 0, 'asked again about one’s own figure');
  check(String(old) !== String(await widthOf(page, job)), 'nothing was changed');
}

const widthOf = async (page, job) => (await page.evaluate((id) => fetch(`/api/jobs/${id}`).then((r) => r.json()), job)).tables.seat.intake.width;

// By this test itself, under the cookie of the page, whose network is away.
async function fetchOutside(server, page, job, edits) {
  const cookie = (await page.context().cookies(server.base)).map((c) => `${c.name}=${c.value}`).join('; ');
  const ask = (path, init = {}) => fetch(`${server.base}/api${path}`, { ...init, headers: { ...init.headers, Cookie: cookie } });
  const { csrf } = await ask('/session').then((r) => r.json());
  const { version } = await ask(`/jobs/${job}`).then((r) => r.json());
  const answer = await ask(`/jobs/${job}/edits`, { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf }, body: JSON.stringify({ version, edits, what: 'changed elsewhere' }) });
  check(answer.ok, await answer.text());
}
