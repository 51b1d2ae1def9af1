// The way of the tool at the desk: the head in its outline, its seats numbered as they are machined, gone through seat by seat
// by hand, by a tap and by itself; each seat says how far it is, and what no file has stands as held back.
import { accessFaults, beginWedge, check, comeIn, newHead, openStage, picture, until } from './steps.mjs';

export default async function played({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock computes nothing';
  const page = await browser.page();
  await comeIn(page, server.base);
  const job = await beginWedge(page);
  await openStage(page, 'cut');
  const order = await page.evaluate((id) => fetch(`/api/jobs/${id}/state?head=6`).then((r) => r.json()).then((s) => s.results.cut.order), job);
  check(order.length === 8, `the order of work is ${order.join()}`);
  const figure = page.locator('[data-drawing=played]');
  await until('every seat has its number', async () => (await figure.locator('.map-words').allTextContents()).filter((t) => /^\d+\.$/.test(t)).length === 8);
  const numbers = await figure.locator('[data-guide]').evaluateAll((all) => Object.fromEntries(all.map((g) => [g.dataset.guide, g.querySelector('.map-words')?.textContent])));
  order.forEach((valve, i) => check(numbers[valve] === `${i + 1}.`, `${valve} is numbered ${numbers[valve]}, and is cut as number ${i + 1}`));
  check(await figure.locator('.map-way').count() === 7 && await figure.locator('.map-gone').count() === 0, 'the way is not seven legs, none of them gone');
  const shown = () => figure.locator('[data-played]').getAttribute('data-played');
  await figure.getByRole('button', { name: 'Next seat' }).click();
  await until('the first seat is shown', async () => await shown() === order[0]);
  await figure.getByRole('button', { name: 'Next seat' }).click();
  await until('the second seat is shown, one leg gone', async () => await shown() === order[1] && await figure.locator('.map-gone').count() === 1);
  check(/^Seat 2 of 8: .*deep, not cut yet\.$/.test(await figure.locator('[data-played]').innerText()), await figure.locator('[data-played]').innerText());
  await figure.locator(`[data-guide="${order[5]}"]`).click();
  await until('a tap goes to the sixth', async () => await shown() === order[5] && await figure.locator('.map-gone').count() === 5);
  await picture(page, 'played');
  await figure.getByRole('button', { name: 'Play the path' }).click();
  await until('it plays to the last and stops', async () => await shown() === order[7] && await figure.getByRole('button', { name: 'Play the path' }).count() === 1);
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n    '));
  // A first seat read is cut; another head has nothing that could be cut yet.
  await page.evaluate(async ([id, valve]) => {
    const { csrf } = await fetch('/api/session').then((r) => r.json());
    await fetch(`/api/jobs/${id}/entries`, { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf },
      body: JSON.stringify({ kind: 'first', head: '6', valve, values: { depth: '0.05 mm' }, units: 'mm', client_key: 'played-test-first-seat' }) });
  }, [job, order.find((v) => v.endsWith('I'))]);
  await until('the seat read is drawn as cut', async () => await figure.locator('.map-cut, .map-next').count() >= 1 && await figure.locator('.map-cut').count() === 1);
  await newHead(page);
  await until('nothing of head 7 is in a file', async () => /No seat of this setup is in a file yet/.test(await figure.innerText()) && await figure.locator('.map-way').count() === 0);
  return `${order.join(', ')}`;
}
