// Everything on a page belongs to the head chosen, and a stop in find is a stop in cut.
import { beginWedge, check, comeIn, newHead, openStage, picture, until } from './steps.mjs';

const rooms = ['hold', 'find', 'shape', 'cut', 'prove', 'data'];

export default async function heads({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock computes nothing';
  const page = await browser.page();
  await comeIn(page, server.base);
  const job = await beginWedge(page);
  await openStage(page, 'shape');
  await page.getByRole('button', { name: 'Mark shape as done' }).click();
  await until('shape of head 6 is done', async () => await markOf(page, 'shape') === 'done');
  await nothingOfAnother(page);
  await ownWord(page);
  await otherHeadsStop(page, job);
  await linked(page, server, job);
  return undefined;
}

const markOf = async (page, stage) => (await page.locator(`a[data-stage=${stage}] .mark`).innerText()).trim();
const choose = (page, head) => page.getByLabel('Head', { exact: true }).selectOption(head);
const lines = async (page) => `${await page.locator('.stages').innerText()} ${await page.locator('.room-said').innerText()}`;

// A new head: its rooms say that nothing is read, and hold no figure, program, verdict or mark of head 6.
async function nothingOfAnother(page) {
  await openStage(page, 'cut');
  await page.locator('a[download*="program-6"]').first().waitFor();
  await newHead(page);
  for (const room of rooms) {
    await page.evaluate((r) => { location.hash = location.hash.replace(/[^/]*$/, r); }, room);
    await page.locator(`.room[aria-label=${room}]`).waitFor();
    await until(`${room} says that nothing is read`, async () => await page.getByText('Nothing is read of head 7 yet.').count() > 0);
    await page.waitForTimeout(300);
    await page.evaluate(() => document.querySelectorAll('.room details').forEach((d) => { d.open = true; }));
    // What undo would take back says its head; the list of all heads' serial numbers names each of them.
    const words = (await page.locator('.room').innerText()).replaceAll(/Serial number of head \w+|Undo: head 6, .*/g, '');
    check(!/head 6\b|program-6|head-6/i.test(words), `${room} of head 7 speaks of head 6: ${/.{0,60}(head.?6|program-6).{0,60}/i.exec(words)?.[0]}`);
    check(await page.locator('.room a[download*=program]').count() === 0, `${room} of head 7 hands out a program`);
    check(await page.locator('.room .paper').count() === 0, `${room} of head 7 shows a paper of another head`);
  }
  check(!/checked|verdict|chance|depth \d/.test(await lines(page)), `beside head 7 stands: ${await lines(page)}`);
  for (const stage of ['find', 'shape', 'cut', 'prove']) check(!['ready', 'done'].includes(await markOf(page, stage)), `${stage} of head 7 is marked ${await markOf(page, stage)}`);
  await picture(page, 'heads-new');
}

// "Done" was said of head 6: it stands there, and not at another head.
async function ownWord(page) {
  await choose(page, '3');
  await openStage(page, 'find');
  await until('head 3 is there', async () => /Head 3/.test(await lines(page)));
  check(await markOf(page, 'shape') !== 'done', 'shape of head 3 is marked done, which was said of head 6');
  await choose(page, '6');
  await until('head 6 is done as said', async () => await markOf(page, 'shape') === 'done');
}

// A link names job, stage and head.
async function linked(page, server, job) {
  await page.goto(`${server.base}/#/job/${job}/find?head=3`);
  await until('the head of the link is chosen', async () => await page.locator('#head-choice').inputValue() === '3');
  await page.locator('.room[aria-label=find]').waitFor();
  await choose(page, '6');
  await page.reload();
  await page.locator('.room[aria-label=find]').waitFor();
  check(await page.locator('#head-choice').inputValue() === '6', 'a reload goes back to the head of the link');
}

// 1.508 typed for 15.08 at head 22: find and cut of head 22 need somebody, no chance of entering stands beside the
// touches that do not agree, and head 6 stays as it was.
async function otherHeadsStop(page, job) {
  await page.evaluate(async (id) => {
    const { csrf } = await fetch('/api/session').then((r) => r.json());
    for (const [i, [valve, x]] of [['1E', 0], ['2I', 6.28], ['3E', 8.8], ['4I', 1.508]].entries()) {
      await fetch(`/api/jobs/${id}/entries`, {
        method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf },
        body: JSON.stringify({ kind: 'touch', head: '22', valve, values: { x: String(x), y: '0' }, units: 'in', client_key: `heads-test-of-twenty-two-${i}` }),
      });
    }
  }, job);
  await openStage(page, 'find');
  await until('head 22 is on record', async () => await page.locator('#head-choice option[value="22"]').count() === 1);
  check(await markOf(page, 'find') === 'done', `a touch of head 22 marks find of head 6: ${await markOf(page, 'find')}`);
  check(!/head 22/i.test(await page.locator('.room .warnings').allInnerTexts().then((t) => t.filter((w) => !/does not agree in setup|Not learned/.test(w)).join())), 'a warning of head 22 stands at head 6');
  await choose(page, '22');
  await page.getByLabel('Set aside', { exact: true }).waitFor();
  for (const stage of ['find', 'cut']) await until(`${stage} of head 22 needs somebody`, async () => await markOf(page, stage) === 'needs you');
  await until('its map is drawn', async () => await page.locator('[data-drawing] svg').count() > 0);
  await page.waitForTimeout(500);
  const words = `${await lines(page)} ${await page.locator('.room').innerText()} ${(await page.locator('.room [data-drawing] svg').allTextContents()).join(' ')}`;
  check(!/\d %/.test(words.replace(/95 %|99.9 %/g, '').replace(/The next head without any touch[\s\S]*?mouths of/, '')), `beside touches that do not agree stands a chance: ${/.{80}\d %/.exec(words.replace(/95 %/g, ''))?.[0]}`);
  await openStage(page, 'cut');
  await page.getByLabel('Held back', { exact: true }).waitFor();
  check(await page.locator('a[download*=program]').count() === 0, 'head 22 gets a program although a touch does not agree');
  await picture(page, 'heads-stopped');
}
