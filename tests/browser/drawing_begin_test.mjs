// A new job from a drawing of the deck: a file that is none is a sentence, the example's places come in, and what a view of the
// deck does not show is asked for in words that name no option of the command line. At the desk, on a tablet and on a phone.
import { readFileSync } from 'node:fs';
import { accessFaults, atEachSize, check, picture } from './steps.mjs';

const deck = readFileSync(new URL('../../examples/drawing/deck.dxf', import.meta.url));

export default async function drawingBegin(where) {
  if (process.argv.includes('--mock')) return 'left out: the mock reads no drawings';
  return (await atEachSize(where, async (page, size) => `${size.name}: ${await begun(page, where.server, size)} valves`)).join(', ');
}

async function begun(page, server, size) {
  await page.goto(`${server.base}/#/new`);
  await page.getByLabel('a drawing', { exact: true }).check();
  const section = page.getByLabel('A drawing', { exact: true });
  const read = async (name, buffer) => {
    await section.getByLabel('Drawing of the deck (.dxf)').setInputFiles({ name, mimeType: 'application/octet-stream', buffer });
    await section.getByRole('button', { name: 'Read it' }).click();
  };
  await section.getByRole('button', { name: 'Read it' }).click();
  await page.getByText('Choose a drawing first').waitFor();
  page.expectsNetworkErrors = true; // a refusal is an answer
  await read('letter.dxf', Buffer.from('To whom it may concern'));
  await page.getByText('letter.dxf').and(page.getByRole('alert')).waitFor();
  // No unit of its own: the sentence asks for what the page has a choice of.
  await read('deck.dxf', Buffer.from(deck.toString('latin1').replace('$INSUNITS', '$INSUNITZ'), 'latin1'));
  await page.getByText('say whether it is mm or inches').waitFor();
  page.expectsNetworkErrors = false;
  await picture(page, `drawing-begin-${size.name}`);
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n    '));
  await read('deck.dxf', deck);
  await page.locator('.stages').waitFor();
  await page.locator('.room[aria-label=hold]').waitFor();
  const id = Number(/job\/(\d+)/.exec(page.url())?.[1]);
  const state = await page.evaluate((job) => fetch(`/api/jobs/${job}/state`).then((r) => r.json()), id);
  check(state.valves.length === 12 && state.results.hold?.setups.length >= 1, `${state.valves.length} valves, ${JSON.stringify(state.stages)}`);
  check(state.results.hold.warnings.some((w) => w.code === 'not-from-you'), 'what the drawing leaves open is not asked for');
  await picture(page, `drawing-begin-hold-${size.name}`, { fullPage: true });
  for (const room of ['hold', 'data']) {
    await page.evaluate((r) => { location.hash = location.hash.replace(/\/[a-z]+$/, `/${r}`); }, room);
    await page.locator(`.room[aria-label=${room}]`).waitFor();
    const words = await page.locator('main').innerText();
    check(!/--[a-z]/.test(words), `${room} names an option: ${/.{0,60}--[a-z].{0,40}/.exec(words)?.[0]}`);
  }
  return state.valves.length;
}
