// Programs sent to a machine: a place set up on the Shelf, a file sent at its step of the walk; when the plan changes
// meanwhile every page of that head says so with word and shape, until somebody says what became of it.
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { accessFaults, beginWedge, check, comeIn, picture, until } from './steps.mjs';

export default async function places({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock has no folders';
  const stick = mkdtempSync(join(tmpdir(), 'seatwright-stick-')), elsewhere = mkdtempSync(join(tmpdir(), 'seatwright-other-'));
  try {
    return await walked(server, browser, stick, elsewhere);
  } finally {
    for (const folder of [stick, elsewhere]) rmSync(folder, { recursive: true, force: true });
  }
}

async function walked(server, browser, stick, elsewhere) {
  const page = await browser.page({ width: 800, height: 1280 });
  await comeIn(page, server.base);
  const job = await beginWedge(page);
  await page.goto(`${server.base}/#/shelf`);
  // The job's machine has the card; another machine's places are not offered to its programs.
  const other = page.getByLabel('Programs of short table go to', { exact: true });
  await other.getByText('Set up a place').click();
  await other.getByLabel('What you call it').fill('other machine');
  await other.getByLabel('Folder on the server').fill(elsewhere);
  await other.getByRole('button', { name: 'Set it up' }).click();
  await other.locator('[data-place="other machine"]').waitFor();
  const section = page.getByLabel('Programs of long table go to', { exact: true });
  await section.getByText('Set up a place').click();
  await section.getByLabel('What you call it').fill('stick');
  await section.getByLabel('Folder on the server').fill('/nowhere at all');
  page.expectsNetworkErrors = true; // a refusal is an answer
  await section.getByRole('button', { name: 'Set it up' }).click();
  await section.getByText(/no folder on the server/).waitFor();
  page.expectsNetworkErrors = false;
  await section.getByLabel('Folder on the server').fill(stick);
  await section.getByRole('button', { name: 'Set it up' }).click();
  await section.locator('[data-place=stick]').waitFor();
  // It is changed where it stands.
  await section.getByText('Change it').click();
  check(await section.getByLabel('Folder on the server').inputValue() === stick, 'the form does not show what is set up');
  await section.getByLabel('What you call it').fill('blue stick');
  await picture(page, 'shelf-places');
  await section.getByRole('button', { name: 'Store it' }).click();
  await section.locator('[data-place="blue stick"]').waitFor();
  check(await section.getByRole('button', { name: 'Store it' }).count() === 0, 'the form stays open when it is done');

  await page.goto(`${server.base}/#/job/${job}/machine`);
  await page.locator('.walk').waitFor();
  // To the step that takes a file: what comes before is said to be done.
  await until('a file to take', async () => {
    const send = page.getByRole('button', { name: 'Send it to blue stick', exact: true });
    if (await send.count() > 0) return true;
    if (await page.getByRole('button', { name: 'Take the file' }).count() > 0) return false;
    const big = page.locator('.machine-card .big').first();
    if (await big.count() > 0) await big.click().catch(() => undefined);
    return false;
  });
  check(await page.getByRole('button', { name: /Send it to other machine/ }).count() === 0, 'another machine is offered its program');
  await page.getByRole('button', { name: 'Send it to blue stick', exact: true }).click();
  const file = await until('the file arrives', async () => readdirSync(stick).find((f) => f.endsWith('.ngc')));
  check(readdirSync(stick).length === 1, `the folder holds ${readdirSync(stick)}`);

  // The plan changes: another margin in the job's text, as somebody at a desk does it.
  await page.evaluate(async (id) => {
    const [session, now] = await Promise.all(['/api/session', `/api/jobs/${id}`].map((p) => fetch(p).then((r) => r.json())));
    await fetch(`/api/jobs/${id}/edits`, { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': session.csrf }, body: JSON.stringify({ version: now.version, edits: [{ key: 'depth.cleanup_margin', value: '0.03 mm' }] }) });
  }, job);
  for (const room of ['machine', 'hold', 'find', 'shape', 'cut', 'prove', 'forecast', 'data']) {
    await page.goto(`${server.base}/#/job/${job}/${room}`);
    const said = page.locator('[data-old-program]');
    await said.waitFor();
    check(/Stop/.test(await said.innerText()) && /holds an old program/.test(await said.innerText()), `${room} says ${await said.innerText()}`);
    check(await said.locator('svg[role=img]').count() === 1, `${room} has no shape beside the words`);
  }
  await page.goto(`${server.base}/#/job/${job}/cut`);
  await page.locator('[data-old-program]').waitFor();
  await picture(page, 'old-program');
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n    '));
  check(readdirSync(stick).includes(file), 'the old file was taken away without a word');
  await page.locator('[data-old-program]').getByRole('button', { name: 'stopped' }).click();
  await until('the word is taken', async () => await page.locator('[data-old-program]').count() === 0);
  // Now it may be taken away.
  await page.goto(`${server.base}/#/shelf`);
  await page.locator('[data-place="blue stick"]').getByRole('button', { name: 'Take away what is old' }).click();
  await until('the old file is gone', async () => readdirSync(stick).length === 0);
  await inTheCutRoom(page, server, job, stick);
  return file;
}

// Ahead, and to be run; after a broken blade the files of what is left.
async function inTheCutRoom(page, server, job, stick) {
  await page.goto(`${server.base}/#/job/${job}/cut`);
  await page.locator('.room[aria-label=cut]').waitFor();
  const first = page.locator('.files li').first();
  await first.getByRole('button', { name: /Send it ahead/ }).click();
  const ahead = await until('it arrives ahead', async () => readdirSync(stick).find((f) => f.endsWith('.ngc')));
  await first.locator('[data-sent]').getByText('It was sent ahead: send it when it is to be run.').waitFor();
  check(await first.getByRole('button', { name: 'cut', exact: true }).count() === 0, 'asked what became of a file that is not to be run');
  await picture(page, 'sent-ahead');
  await first.getByRole('button', { name: 'Send it to blue stick', exact: true }).click();
  await first.locator('[data-sent]').getByText(/It may be running/).waitFor();
  check(readdirSync(stick).length === 1, `sent to be run it stands there twice: ${readdirSync(stick)}`);
  await first.getByRole('button', { name: 'stopped', exact: true }).first().click();
  await until('the word is taken', async () => await first.getByText(/It may be running/).count() === 0);
  await page.getByText('A blade broke', { exact: true }).click();
  const broken = page.getByLabel('A blade broke', { exact: true });
  const seats = await broken.getByLabel('A blade broke at').locator('option').allInnerTexts();
  await broken.getByLabel('A blade broke at').selectOption(seats.at(-2)); // of the last nothing would be left: the seat it broke in is never begun by itself
  const send = broken.getByRole('button', { name: 'Send it to blue stick', exact: true }).first();
  await send.waitFor();
  await send.click();
  const from = await until('the file of the rest arrives', async () => readdirSync(stick).find((f) => f.includes('-from')));
  await broken.locator('[data-sent]').getByText(/It may be running/).waitFor();
  await broken.scrollIntoViewIfNeeded();
  await picture(page, 'sent-after-a-broken-blade');
  check(from !== ahead, `${from} is no file of its own`);
  await broken.getByRole('button', { name: 'not started', exact: true }).first().click();
  await until('the word is taken', async () => await broken.getByText(/It may be running/).count() === 0);
}
