// The questions of a survey that are asked with a picture, at the sizes they are looked at: whose lean was typed, which way
// a row leans whose sign was missed, at which end the first cylinder lies. Whatever is said, the signs come out right. And
// what repeats is offered with the chance that it is chance.
import { accessFaults, check, comeIn, picture, until } from './steps.mjs';
import { Shop } from './survey_shop.mjs';

const sizes = [{ name: 'tablet', width: 800, height: 1280 }, { name: 'phone', width: 390, height: 844 }];

export default async function surveyPictures({ server, browser }) {
  const told = [];
  for (const size of sizes) {
    const page = await browser.page({ width: size.width, height: size.height }, { fresh: true });
    await comeIn(page, server.base);
    await leans(page, server, size);
    told.push(await ends(page, server, size));
    await page.close();
  }
  return told.join('; ');
}

// The stem's lean is typed, and of one row with a missed sign.
async function leans(page, server, size) {
  const shop = new Shop();
  const id = await begun(page, `Stems, ${size.name}`);
  await page.goto(`${server.base}/#/survey/${id}`);
  await answered(page, id, shop, (step) => step.of === 'guide level');
  await page.locator('[data-step=lean]').waitFor();
  await picture(page, `survey-lean-${size.name}`);
  await page.getByRole('button', { name: 'the stem, on the other side' }).click();
  const turned = (step, values) => {
    if (step.of !== 'guide level') return values;
    const missed = step.id.endsWith('E') && step.across === 'incline';
    return missed ? values : { first: values.second, second: values.first };
  };
  await until('the answer is stored', async () => (await state(page, id)).head.lean_of === 'stem');
  const at = await answered(page, id, shop, (step) => step.of === 'way', turned);
  const over = at.entries.filter((e) => e.values.what === 'guide' && e.kind === 'point' && e.values.id.endsWith('E'));
  check(over.length === 1, `${over.length} guides of the row were read before it was asked`);
  await page.locator('[data-step="way/E"]').waitFor();
  check(await page.getByLabel('Set aside', { exact: true }).count() === 0, 'each reading of the row asks by itself');
  await picture(page, `survey-way-${size.name}`);
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n    '));
  await page.getByRole('button', { name: 'out of the deck to the back' }).click();
  await until('the answer is stored', async () => (await state(page, id)).entries.some((e) => e.kind === 'way'));
  const end = await answered(page, id, shop, () => false, turned);
  right(end, shop);
  await page.getByText('What it comes to', { exact: true }).click();
  const repeats = page.locator('li', { hasText: 'by chance as well' });
  await repeats.first().waitFor();
  const words = await repeats.allInnerTexts();
  check(words.some((w) => /cylinders repeat every 10[34]\.\d+ mm/.test(w) && /less than once in a thousand/.test(w)), `what repeats: ${words.join(' | ')}`);
  await repeats.first().scrollIntoViewIfNeeded();
  // One tap takes it over, another leaves it as read; the job has what was taken over.
  await page.getByRole('button', { name: 'Take over: like valves I' }).click();
  await page.getByRole('button', { name: 'Take over: bore spacing' }).click();
  await page.getByRole('button', { name: 'Leave as read: bore spacing' }).click();
  await page.getByRole('button', { name: 'Take over: bore spacing' }).waitFor();
  await until('what was taken over is stored', async () => JSON.stringify((await state(page, id)).head.accepted) === '["like valves I"]');
  await picture(page, `survey-repeats-${size.name}`);
  const job = (await post(page, '/api/jobs', { from: 'survey', survey: id, sizes: {} })).id;
  const valves = await page.evaluate((n) => fetch(`/api/jobs/${n}/state`).then((r) => r.json()).then((s) => s.valves), job);
  const heights = (kind) => new Set(valves.filter((v) => v.id.endsWith(kind)).map((v) => v.z_mm));
  check(heights('I').size === 1 && heights('E').size > 1, `heights in the job: ${[...heights('I')]} and ${[...heights('E')]}`);
}

// The head lies turned end for end on the table.
async function ends(page, server, size) {
  const shop = new Shop();
  const id = await begun(page, `Turned, ${size.name}`);
  await page.goto(`${server.base}/#/survey/${id}`);
  await answered(page, id, shop, (step) => step.of === 'guide level', turnedRound);
  await page.locator('[data-step=lean]').waitFor();
  await page.getByRole('button', { name: 'the pilot, on the chamber side' }).click();
  await until('the answer is stored', async () => (await state(page, id)).head.lean_of === 'chamber');
  await answered(page, id, shop, (step) => step.of === 'end', turnedRound);
  await page.locator('[data-step=end]').waitFor();
  await picture(page, `survey-end-${size.name}`);
  await page.getByRole('button', { name: /the head lies turned end for end/ }).click();
  await until('the answer is stored', async () => (await state(page, id)).head.end === 'turned');
  const end = await answered(page, id, shop, () => false, turnedRound);
  right(end, shop);
  return `${size.name}: ${end.entries.length} entries`;
}

const turnedRound = (_, values) => Object.fromEntries(Object.entries(values).map(([k, v]) => [k, ['x', 'y', 'first', 'second', 'tilt', 'swing'].includes(k) ? -v : v]));

function right(state, shop) {
  for (const g of shop.guides) {
    const v = state.found.valves.find((x) => x.id === g.id);
    for (const [what, got, is, most] of [['x', v.x_mm, g.at[0] - shop.origin, 0.1], ['y', v.y_mm, g.at[1], 0.15], ['incline', v.incline_deg, g.incline, 0.1]])
      check(got !== null && Math.abs(got - is) < most, `${g.id}: ${what} is ${got}, the head has ${is}`);
  }
}

const state = (page, id) => page.evaluate((n) => fetch(`/api/surveys/${n}`).then((r) => r.json()), id);

const post = (page, path, body) => page.evaluate(async ([to, what]) => {
  const session = await fetch('/api/session').then((r) => r.json());
  const answer = await fetch(to, { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': session.csrf }, body: JSON.stringify(what) });
  if (!answer.ok) throw new Error(await answer.text());
  return answer.json();
}, [path, body]);

const begun = async (page, title) => (await post(page, '/api/surveys', { client_key: title, title, units: 'mm', values: { cylinders: 4 } })).id;

// What is asked first is answered, over the interface, until it is what `stop` waits for or nothing is asked any more.
async function answered(page, id, shop, stop, spoil = (_, values) => values) {
  for (let n = 0; n < 200; ++n) {
    const now = await state(page, id);
    const step = now.steps[0];
    if (!step || stop(step)) return now;
    check(!['way', 'end'].includes(step.of), `${step.key} is asked`);
    const values = spoil(step, shop.answer(step.key, step.sentence));
    const what = step.of === 'deck level' ? 'deck' : step.of === 'guide level' ? 'guide' : step.of;
    const about = step.of === 'setup' ? { setup: step.setup, id: step.id } : step.of === 'size' ? { what: step.size, id: step.id }
      : { setup: step.setup, what, ...(step.id !== null && what !== 'deck' ? { id: step.id } : {}), ...(step.across ? { across: step.across } : {}) };
    const kind = ['setup', 'size'].includes(step.of) ? step.of : /level/.test(step.of) ? 'level' : 'point';
    await post(page, `/api/surveys/${id}/entries`, { client_key: `${id}-${n}-${step.key}-${Math.random()}`, kind, values: { ...about, ...values } });
  }
  throw new Error('the survey never ends');
}
