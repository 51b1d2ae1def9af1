// The Forecast room: the pass rate follows the hand (measured), a new reading changes it, it says so when the server is away;
// sizes and rules of every room, access.
import { loadavg } from 'node:os';
import { deskRules, measure } from './sizes_test.mjs';
import { accessFaults, beginWedge, check, comeIn, docsPicture, picture, unfold, until } from './steps.mjs';

const most = 100; // ms at the median (workbench.md: everything downstream within 100 ms); what was measured is reported
const moves = 60, rounds = 4; // the quietest round counts: another process on the machine is not the page's doing
const sizes = [{ name: 'desktop', width: 1440, height: 900 }, { name: 'tablet', width: 800, height: 1280 }, { name: 'phone', width: 390, height: 844 }];

export const measures = true;

export default async function forecast({ server, browser }) {
  const page = await browser.page({ width: 1440, height: 900 });
  await comeIn(page, server.base);
  const job = await beginWedge(page);
  await page.locator('.strip-stages a', { hasText: 'Forecast' }).click();
  await page.locator('.room[aria-label=forecast]').waitFor();
  await until('the whole forecast', async () => /What helps most|Nothing the shop/.test(await page.locator('[data-next]').innerText()));
  check(/Forecast/.test(await page.title()), await page.title());
  await dragged(page);
  await chosen(page);
  const drag = await quietest(page, 'Post clearance', 0.01);
  check(drag.median <= most, `post clearance: ${drag.median.toFixed(0)} ms`);
  const touched = await quietest(page, 'Guides touched a setup', 1);
  check(touched.median <= most, `touches: ${touched.median.toFixed(0)} ms`);
  const follows = await followed(page, 'Post clearance', 0.005);
  check(follows.frame <= 50, `while a hand drags a frame takes ${follows.frame.toFixed(0)} ms`);
  check(follows.shown >= 5, `while a hand drags only ${follows.shown.toFixed(0)} answers a second are shown`);
  await page.getByRole('button', { name: 'Back to what is' }).click();
  await figures(page);
  await reading(page, job);
  const faults = await everySize(page);
  check(faults.length === 0, faults.join('\n    '));
  await beyond(page, job);
  await away(page);
  const say = (r) => `median ${r.median.toFixed(0)} ms, 99th percentile ${r.worst.toFixed(0)} ms`;
  return `post clearance ${say(drag)}; touches ${say(touched)}; a hand that drags: a frame in ${follows.frame.toFixed(1)} ms at the median (99th percentile ${follows.slow.toFixed(0)}), ${follows.shown.toFixed(0)} answers shown a second (load ${loadavg()[0].toFixed(1)})`;
}

const allTold = (page) => until('all of it is told', async () => !/of the figures before/.test(await page.locator('[data-drawing=changes]').innerText()));
const rate = (page) => page.locator('[data-pass-rate]').first().getAttribute('data-pass-rate').then(Number);

async function quietest(page, label, step) {
  let best = await moved(page, label, step);
  for (let i = 1; i < rounds && best.median > most; ++i) {
    const again = await moved(page, label, step);
    if (again.median < best.median) best = again;
  }
  return best;
}

// From the input to the frame after the next answer is drawn.
function moved(page, label, step) {
  return page.evaluate(async ([name, by, count]) => {
    const slider = document.getElementById([...document.querySelectorAll('label')].find((l) => l.textContent === name).htmlFor);
    const box = document.querySelector('[data-answers]');
    const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
    const times = [];
    for (let i = 0; i < count; ++i) {
      const before = box.dataset.answers;
      const began = performance.now();
      const to = Number(slider.value) + by > Number(slider.max) ? Number(slider.min) : Number(slider.value) + by;
      slider.value = String(to);
      slider.dispatchEvent(new Event('input', { bubbles: true }));
      while (box.dataset.answers === before && performance.now() - began < 3_000) await frame();
      await frame();
      times.push(performance.now() - began);
    }
    times.sort((a, b) => a - b);
    return { median: times[Math.floor(times.length / 2)], worst: times[Math.floor(0.99 * (times.length - 1))] };
  }, [label, step, moves]);
}

// A hand that moves at every frame for two seconds, answers or none: what frames take, and how many answers a second are drawn.
// 60 frames a second are 16.7 ms. The limits leave room for a machine at work; what was measured is reported.
function followed(page, label, step) {
  return page.evaluate(async ([name, by, length]) => {
    const slider = document.getElementById([...document.querySelectorAll('label')].find((l) => l.textContent === name).htmlFor);
    const box = document.querySelector('[data-answers]');
    const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
    const frames = [];
    let way = by, last = await frame(), seen = box.dataset.answers, shown = 0;
    const began = last;
    while (last - began < length) {
      if (Number(slider.value) + way > Number(slider.max) || Number(slider.value) + way < Number(slider.min)) way = -way;
      slider.value = String(Number(slider.value) + way);
      slider.dispatchEvent(new Event('input', { bubbles: true }));
      const now = await frame();
      frames.push(now - last);
      last = now;
      if (box.dataset.answers !== seen) shown += 1;
      seen = box.dataset.answers;
    }
    frames.sort((a, b) => a - b);
    return { frame: frames[Math.floor(frames.length / 2)], slow: frames[Math.floor(0.99 * (frames.length - 1))], shown: (1000 * shown) / (last - began) };
  }, [label, step, 2_000]);
}

// Wider posts make fewer good heads, more touches more of them; nothing is stored, and "back" is back.
async function dragged(page) {
  const before = await rate(page);
  const put = (label, value) => page.getByLabel(label, { exact: true }).fill(String(value));
  await put('Guides touched a setup', 0);
  await until('no touches are tried', async () => /as tried/.test(await page.locator('.pass-rate').innerText()));
  await put('Post clearance', 0.9);
  await page.waitForTimeout(600);
  const wide = await rate(page);
  await put('Post clearance', 0.02);
  await until('tight posts help', async () => await rate(page) > wide);
  await unfold(page, 'What it stands on');
  check(/tried here/.test(await page.locator('table', { hasText: 'What it stands on' }).innerText()), 'the table does not say what is tried');
  await unfold(page, 'What it stands on');
  await page.getByRole('button', { name: 'Back to what is' }).click();
  await until('back is back', async () => Math.abs(await rate(page) - before) < 5e-4 && !/as tried/.test(await page.locator('.pass-rate').innerText()));
}

// Another gauge changes what is told of the heads and none of them; another cutter changes the heads.
async function chosen(page) {
  const told = () => page.locator('.stage-line').innerText();
  const other = async (label) => {
    const list = page.getByLabel(label, { exact: true });
    const now = await list.inputValue();
    const names = await list.locator('option:not([disabled])').evaluateAll((all) => all.map((o) => o.value));
    await list.selectOption(names.find((n) => n !== now));
  };
  // What was dragged before is told anew once the hand rests; until then the line is of the figures before.
  await allTold(page);
  await unfold(page, 'Another pilot');
  const before = await told();
  const good = await rate(page);
  await other('runout gauge'); // widths lie so far inside their limits here that their gauge changes nothing
  await until('verdicts follow the gauge', async () => await told() !== before);
  check(Math.abs(await rate(page) - good) < 5e-4, 'a gauge makes heads better or worse');
  await page.getByRole('button', { name: 'Back to what is' }).click();
  await until('the gauge is back', async () => await told() === before);
  check(await page.getByLabel('intake cutter', { exact: true }).count() <= 1, 'two lists of intake cutters');
  await page.locator('.forecast-hands summary').click();
}

// What the drawings show stands behind them as tables, with where each figure came from and what a change costs.
async function figures(page) {
  const drawings = await page.locator('[data-drawing]').evaluateAll((all) => all.map((d) => d.dataset.drawing));
  for (const wanted of ['runout intake', 'runout exhaust', 'causes', 'changes', 'width intake', 'stem height exhaust']) {
    check(drawings.includes(wanted), `${wanted} is not among ${drawings.join(', ')}`);
  }
  const order = await page.evaluate(() => {
    const places = (which) => [...document.querySelectorAll(which)].map((e) => e.getBoundingClientRect().top);
    return [Math.min(...places('.room [data-drawing]')), Math.min(...places('.room table'), Infinity)];
  });
  check(order[0] < order[1], 'a table stands before the first drawing');
  for (const title of ['What it stands on', 'What helps most, in numbers', 'Distributions in numbers', 'Causes in numbers']) await unfold(page, title);
  const stands = await page.locator('table', { hasText: 'What it stands on' }).innerText();
  check(/common practice/.test(stands) && /job/.test(stands), 'the inputs do not say where they come from');
  await until('a change says what it costs', async () => /s a head|of the shelf/.test(await page.locator('table', { hasText: 'good then' }).innerText()));
  for (const title of ['What it stands on', 'What helps most, in numbers', 'Distributions in numbers', 'Causes in numbers']) {
    await page.locator('.room details', { has: page.locator('summary', { hasText: title }) }).first().locator('summary').first().click();
  }
}

// Widths read on three heads by another screen: the rate here changes by itself.
async function reading(page, job) {
  const before = await rate(page);
  await page.evaluate(async (id) => {
    const { csrf } = await fetch('/api/session').then((r) => r.json());
    let n = 0;
    for (const head of ['91', '92', '93']) {
      for (const valve of ['1I', '2I', '1E', '2E']) {
        const body = { client_key: `forecast-test-${n}`, kind: 'proof', head, valve, units: 'mm', values: { runout: 0.01, width: n % 2 === 0 ? 1.2 : 1.8 } };
        const answer = await fetch(`/api/jobs/${id}/entries`, { method: 'POST', body: JSON.stringify(body), headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf } });
        if (!answer.ok) throw new Error(await answer.text());
        n += 1;
      }
    }
  }, job);
  await until('the pass rate follows the readings', async () => await rate(page) < before - 0.01);
}

// More touches than a setup has guides: it is said, not taken without a word.
async function beyond(page, job) {
  await page.evaluate(async (id) => {
    const { csrf } = await fetch('/api/session').then((r) => r.json());
    const { version } = await fetch(`/api/jobs/${id}`).then((r) => r.json());
    const answer = await fetch(`/api/jobs/${id}/edits`, { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf },
      body: JSON.stringify({ version, what: 'touches', base: {}, edits: [{ key: 'forecast.touches', value: '99' }] }) });
    if (!answer.ok) throw new Error(await answer.text());
  }, job);
  await page.getByText('No setup has as many guides as are to be touched').waitFor();
}

async function everySize(page) {
  const faults = [];
  for (const size of sizes) {
    await page.setViewportSize(size);
    await page.waitForTimeout(3_000); // what helps most is drawn anew for the room there is
    await page.evaluate(() => scrollTo(0, 0));
    faults.push(...(await measure(page)).map((f) => `${size.name}: ${f}`));
    if (size.name === 'desktop') {
      faults.push(...(await deskRules(page)).map((f) => `desktop: ${f}`));
      await docsPicture(page, 'forecast');
    }
    await picture(page, `${size.name}-forecast`, { fullPage: true });
    const small = await page.evaluate(() => [...document.querySelectorAll('.forecast svg.drawing text')]
      .map((t) => Number(t.getAttribute('font-size')) * (t.ownerSVGElement.clientWidth / t.ownerSVGElement.viewBox.baseVal.width)).filter((s) => s < 11.5).length);
    if (small > 0) faults.push(`${size.name}: ${small} words of drawings are smaller than 11.5 px`);
    // Letters are never enlarged to make room, and no figure is cut off.
    const words = await page.locator('.forecast svg.drawing text').evaluateAll((all) => all.map((t) => [t.textContent, t.getBoundingClientRect().height]));
    faults.push(...words.filter(([, high]) => high > 24).map(([said, high]) => `${size.name}: "${said}" is ${high.toFixed(0)} px high`));
    faults.push(...words.filter(([said]) => said.includes('…')).map(([said]) => `${size.name}: "${said}" is cut off`));
    faults.push(...(await accessFaults(page)).map((f) => `${size.name}: ${f}`));
  }
  return faults;
}

async function away(page) {
  page.expectsNetworkErrors = true;
  await page.context().setOffline(true);
  await page.getByLabel('Post clearance', { exact: true }).fill('0.5');
  await page.getByText('The server does not answer. These figures are of its last answer').waitFor();
  check(await page.getByLabel('Post clearance', { exact: true }).isDisabled(), 'something can be dragged while nobody answers');
  check(Number.isFinite(await rate(page)), 'the last figures are gone');
  await picture(page, 'desktop-forecast-away');
  await page.context().setOffline(false);
  await until('it can be dragged again', async () => await page.getByLabel('Post clearance', { exact: true }).isEnabled());
  page.expectsNetworkErrors = false;
}
