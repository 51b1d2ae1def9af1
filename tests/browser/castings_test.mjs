// Castings on the Shelf: a job's head is kept, found again by what one knows of it, and begins a new job in two clicks; a
// file comes in, one of a newer program is a sentence.
import { accessFaults, beginWedge, check, comeIn, picture, until } from './steps.mjs';

export default async function castings({ server, browser }) {
  const page = await browser.page();
  await comeIn(page, server.base);
  await beginWedge(page);
  await page.goto(`${server.base}/#/shelf`);
  const section = page.getByLabel('Castings', { exact: true });
  await section.getByLabel('A head of the shop').selectOption({ index: 1 });
  await section.getByRole('button', { name: 'Keep it as a casting' }).click();
  const card = section.locator('[data-casting]');
  await card.first().waitFor();
  const name = await card.getAttribute('data-casting');
  check(/8 valves/.test(await card.innerText()), `the card says ${await card.innerText()}`);
  for (const [typed, found] of [['8 valves', 1], ['16 valves', 0], [name.slice(0, 5), 1], ['nobody', 0]]) {
    await page.getByLabel(/^Search by name/).fill(typed);
    await until(`${typed} finds ${found}`, async () => await card.count() === found);
  }
  await page.getByLabel(/^Search by name/).fill('');
  await picture(page, 'shelf-castings');
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n    '));

  const text = await page.evaluate((href) => fetch(href).then((r) => r.text()), await card.getByText('Take its file').getAttribute('href'));
  const bring = (content) => section.locator('input[type=file]').setInputFiles({ name: 'casting.toml', mimeType: 'text/plain', buffer: Buffer.from(content) });
  page.expectsNetworkErrors = true; // a refusal is an answer
  await bring(text.replace('form = 1', 'form = 7'));
  await section.getByText(/newer program/).waitFor();
  page.expectsNetworkErrors = false;
  await bring(text.replace(/^name = .*$/m, 'name = "from the shop next door"'));
  await section.locator('[data-casting="from the shop next door"]').waitFor();

  // From the bench: Shelf, New job.
  await page.click('nav >> text=Bench');
  await page.click('nav >> text=Shelf');
  await page.locator(`[data-casting="${name}"]`).getByRole('button', { name: 'New job' }).click();
  await page.locator('.stages').waitFor();
  const id = Number(/job\/(\d+)/.exec(page.url())?.[1]);
  const state = await page.evaluate((job) => fetch(`/api/jobs/${job}/state`).then((r) => r.json()), id);
  check(state.results.hold?.inputs.some((i) => i.from === 'casting'), 'the new job does not stand on its casting');
}
