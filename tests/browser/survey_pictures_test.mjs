// The questions of a survey that are asked with a picture, at the sizes they are looked at: whose lean was typed, which way
// a row leans whose sign was missed, at which end the first cylinder lies, and what a pilot asks that does not stand plumb
// where it should. Whatever is said, the signs come out right. And what repeats is offered with the chance that it is chance.
import { accessFaults, atEachSize, check, picture, until } from './steps.mjs';
import { answered, begun, post, Shop, state } from './survey_shop.mjs';

export default async function surveyPictures(where) {
  const told = await atEachSize(where, async (page, size) => {
    await leans(page, where.server, size);
    const end = await ends(page, where.server, size);
    await crooked(page, where.server, size);
    return end;
  }, ['tablet', 'phone']);
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
  const repeats = page.locator('li', { hasText: 'That it is chance' });
  await repeats.first().waitFor();
  const words = await repeats.allInnerTexts();
  check(words.some((w) => /Cylinders repeat every 10[34]\.\d+ mm/.test(w) && /less than once in a thousand/.test(w)), `what repeats: ${words.join(' | ')}`);
  check(words.every((w) => !/[−-]0\.00 deg/.test(w)), `a minus before a nought: ${words.join(' | ')}`);
  await page.getByText('puts the common figure into the job').waitFor();
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

// Every incline of the exhaust guides was typed with the wrong sign. Either they seem to lean as the intakes do, whose setup
// they are then asked in (the tablet), or the head is tilted by the figure and not by the pilot (the phone): nothing but
// eyes sees that the pilot stands far off the spindle.
async function crooked(page, server, size) {
  const shop = new Shop();
  if (size.name === 'tablet') shop.guides.filter((g) => g.id.endsWith('E')).forEach((g) => { g.incline -= 2; });
  const lean = size.name === 'tablet' ? 31 : 33;
  const id = await begun(page, `Crooked, ${size.name}`);
  await page.goto(`${server.base}/#/survey/${id}`);
  await answered(page, id, shop, (step) => step.of === 'guide level');
  await page.getByRole('button', { name: 'the pilot, on the chamber side' }).click();
  await until('the answer is stored', async () => (await state(page, id)).head.lean_of === 'chamber');
  const wrong = (step, values) => {
    if (step.of === 'guide level' && step.id.endsWith('E') && step.across === 'incline') return { first: values.second, second: values.first };
    if (step.of !== 'setup' || !step.id.endsWith('E')) return values;
    shop.setups[step.setup] = shop.placed(-lean, 0);
    return { tilt: -lean + shop.zero, swing: shop.zero };
  };
  const at = (await answered(page, id, shop, (step) => step.of === 'guide' && step.id.endsWith('E'), wrong)).steps[0];
  await page.locator(`[data-step="${at.key}"]`).waitFor();
  const asks = (words) => until(words.source, async () => words.test(await page.locator('[data-next]').innerText()));
  const press = (name) => page.getByRole('button', { name, exact: true }).click();
  // Asked first is which way it stands off; who looks again and sees it plumb is back at the reading.
  await press('The pilot does not stand plumb');
  await asks(/^How does the pilot in \dE stand off the spindle\?$/);
  await picture(page, `survey-crooked-${size.name}`);
  await press('It stands plumb');
  await asks(/pilot over \dE/);
  await press('The pilot does not stand plumb');
  await press('to the left or the right');
  await asks(/^Which way does the guide \dE lean\? Look at the head from the front/);
  await press('Not now');
  await asks(/pilot over \dE/);
  await press('The pilot does not stand plumb');
  await press('to the front or the back');
  await asks(/^Which way do the guides E lean\? Look along the head/);
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n    '));
  await press('out of the deck to the back');
  await until('the answer is stored', async () => (await state(page, id)).entries.some((e) => e.kind === 'way'));
  // The signs of the whole row are turned, and the head is to be tilted the other way.
  const after = await state(page, id);
  check(after.entries.filter((e) => e.kind === 'way').every((e) => e.values.letters === 'E' && e.values.way === 'back'), 'the answer is of another row');
  const leans = after.found.valves.filter((v) => v.id.endsWith('E')).map((v) => v.incline_deg);
  check(leans.length === 4 && leans.every((l) => Math.abs(l - lean) < 0.5), `the exhausts lean by ${leans}`);
  await until('the head is to be tilted the other way', async () => {
    const next = (await state(page, id)).steps.find((s) => s.of === 'setup');
    return next && new RegExp(`in \\dE stands plumb, near ${lean}|in \\dE stands plumb, near ${lean - 1}\\.[5-9]`).test(next.sentence);
  });
  right(await answered(page, id, shop, () => false, (step, values) => (step.of === 'setup' ? values : wrong(step, values))), shop);
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
