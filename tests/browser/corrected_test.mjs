// An old head is corrected while a later one is on the screen: all heads since then are worked out again, the page says so
// meanwhile with the figures it had, and takes the new ones by itself when they are there.
import { readFileSync } from 'node:fs';
import { check, comeIn, made, until } from './steps.mjs';

const heads = 120; // of a batch whose later heads learn from the first
const atOnce = 15; // corrections one behind the other

export default async function corrected({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock computes nothing';
  const page = await browser.page();
  await comeIn(page, server.base);
  const bare = readFileSync(new URL('../../bench/thirty_two_valves.toml', import.meta.url), 'utf8');
  const one = await made(page, { from: 'text', text: bare });
  const { results } = await page.evaluate(async (id) => (await fetch(`/api/jobs/${id}/state`)).json(), one);
  const job = await made(page, { from: 'text', text: `${bare}\n${[...Array(heads - 1).keys()].map((h) => touchesOf(h + 2, results.hold.setups[0])).join('\n')}` });
  await page.evaluate(([id, head]) => {
    localStorage.setItem(`seatwright.head.${id}`, head);
    location.hash = `#/job/${id}/find`;
  }, [job, String(heads)]);
  await page.locator('.room[aria-label=find]').waitFor();
  await until('the newest head is on the screen', async () => await page.locator('#head-choice').inputValue() === String(heads) && await page.locator('[data-lacking]').count() === 0);
  // What the page says and what it shows at that moment.
  await page.evaluate(() => {
    globalThis.said = [];
    new MutationObserver(() => {
      const words = [...document.querySelectorAll('p.sentence')].map((p) => p.textContent).find((t) => /being worked out again/.test(t));
      if (words) globalThis.said.push({ words, shows: document.querySelector('.room[aria-label=find]')?.textContent ?? '' });
    }).observe(document.body, { childList: true, subtree: true, characterData: true });
  });
  const figures = () => page.locator('.room[aria-label=find]').innerText();
  const before = await figures();

  // A quick machine may be done each time before the page asks: then once more.
  let tries = 0;
  for (; tries < 5 && await page.evaluate(() => globalThis.said.length) === 0; ++tries) {
    await correct(page, job);
    await page.waitForTimeout(400);
  }
  const said = await page.evaluate(() => globalThis.said);
  check(said.length > 0, `${tries * atOnce} corrections of an old head and the page said nothing`);
  check(said[0].shows.length > 100, `meanwhile the room shows “${said[0].shows}”`);
  await until('the words go when all is worked out', async () => await page.getByText('being worked out again').count() === 0);
  await until('the new figures have come by themselves', async () => await figures() !== before);
  return `said at ${tries === 1 ? 'once' : `time ${tries}`}: ${said[0].words}`;
}

// A touch of an early head is corrected again and again, far enough that every later head learns otherwise.
async function correct(page, job) {
  await page.evaluate(async ([id, times]) => {
    const { csrf } = await fetch('/api/session').then((r) => r.json());
    const { entries } = await fetch(`/api/jobs/${id}/entries`).then((r) => r.json());
    let of = entries.find((e) => e.live && e.kind === 'touch' && e.head === '2');
    for (let n = 1; n <= times; ++n) {
      const x = `${(parseFloat(of.values.x) + (n % 2 === 1 ? 0.02 : -0.015)).toFixed(4)} mm`;
      const body = { client_key: `corrected-${Date.now()}-${n}`, kind: 'touch', head: of.head, valve: of.valve, units: 'mm', corrects: of.id, values: { ...of.values, x } };
      const answer = await fetch(`/api/jobs/${id}/entries`, { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf }, body: JSON.stringify(body) });
      if (!answer.ok) throw new Error(await answer.text());
      of = await answer.json();
    }
  }, [job, atOnce]);
}

function touchesOf(head, setup) {
  return setup.valves.map((guide, n) => {
    const off = 0.01 * Math.sin(7 * head + n); // mm
    return `[[reading.touch]]\nhead = "${head}"\nvalve = "${guide.id}"\nx = ${(guide.x_mm + 0.02 + off).toFixed(3)}\ny = ${(guide.y_mm + off).toFixed(3)}\n`;
  }).join('\n');
}
