// Drawing data whose dimensions are the fields, small pictures that set how guides lean and cylinders repeat, and the shelf in
// pictures: machine and fixture chosen by theirs, and which cutter, pilot and fixture fit a job's seats.
import { accessFaults, beginWedge, check, comeIn, made, picture, thirtyTwo, until } from './steps.mjs';

const sizes = [{ width: 1440, height: 900 }, { width: 800, height: 1280 }, { width: 390, height: 844 }];

export default async function drawingData({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock stores nothing';
  const page = await browser.page();
  await comeIn(page, server.base);
  const job = await beginWedge(page);
  await fields(page, server, job);
  await pictures(page, job);
  await notFromYou(page, server);
  await shelf(page, server, job);
  return undefined;
}

const tables = (page, job) => page.evaluate((id) => fetch(`/api/jobs/${id}`).then((r) => r.json()).then((j) => ({ version: j.version, ...j.tables })), job);
const dim = (page, key) => page.locator(`[data-dim="${key}"]`);

async function fields(page, server, job) {
  await page.goto(`${server.base}/#/job/${job}/data`);
  const first = dim(page, 'head.pattern.valve[0].x');
  await first.waitFor();
  check(await first.inputValue() === '−0.9400 in', `the first valve stands at ${await first.inputValue()}`);
  const { version } = await tables(page, job);
  await first.fill('a bit left');
  await first.press('Enter');
  await page.getByRole('alert').filter({ hasText: /X in its cylinder/ }).waitFor();
  check((await tables(page, job)).version === version, 'nonsense was stored');
  await first.fill('-0.95');
  await first.press('Enter');
  await until('the new place is stored', async () => (await tables(page, job)).head.pattern.valve[0].x === '-0.95 in');
  await until('it stands in its field', async () => await first.inputValue() === '−0.9500 in' && await page.getByRole('alert').count() === 0);
  check((await tables(page, job)).version === version + 1, 'one figure made more than one version');
  await page.locator('[data-guide="head.pattern.valve[1]"]').click();
  await until('the other valve shows its place', async () => await dim(page, 'head.pattern.valve[1].x').inputValue() === '0.9400 in');
  const spacing = dim(page, 'head.pattern.bore_spacing');
  await spacing.fill('111.76 mm');
  await spacing.press('Enter');
  await until('the spacing keeps the unit typed', async () => (await tables(page, job)).head.pattern.bore_spacing === '111.76 mm');
  const width = dim(page, 'seat.intake.width');
  await width.fill('1/16');
  await width.press('Enter');
  await until('a facet is typed on its section', async () => (await tables(page, job)).seat.intake.width === '0.0625 in');
  for (const size of sizes) {
    await page.setViewportSize(size);
    await page.evaluate(() => document.querySelectorAll('.room .two > details').forEach((d) => { d.open = true; }));
    await page.waitForTimeout(400);
    const over = await page.evaluate(() => {
      const all = [...document.querySelectorAll('.dim')].filter((e) => e.checkVisibility()).map((e) => ({ key: e.dataset.dim, box: e.getBoundingClientRect() }));
      const found = all.filter((a) => a.box.left < -1 || a.box.right > innerWidth + 1).map((a) => `${a.key} is beyond the window`);
      all.forEach((a, i) => all.slice(i + 1).forEach((b) => { if (a.box.left < b.box.right && b.box.left < a.box.right && a.box.top < b.box.bottom && b.box.top < a.box.bottom) found.push(`${a.key} over ${b.key}`); }));
      return { found, count: all.length };
    });
    check(over.count >= 20 && over.found.length === 0, `at ${size.width}: ${over.count} fields, ${over.found.join('; ')}`);
    const faults = await accessFaults(page);
    check(faults.length === 0, faults.join('\n    '));
    await picture(page, `drawing-data-${size.width}`, { fullPage: true });
  }
  await page.setViewportSize(sizes[0]);
}

async function pictures(page, job) {
  await page.getByRole('group', { name: 'Neighbouring cylinders' }).getByRole('radio', { name: 'mirrored' }).check();
  await until('neighbours are mirrored', async () => (await tables(page, job)).head.pattern.alternate === 'mirrored');
  const alike = page.getByRole('group', { name: 'Neighbouring cylinders' }).getByRole('radio', { name: 'alike' });
  // What is changed while the change before is still on its way does not count.
  await until('neighbours are alike again', async () => {
    if ((await tables(page, job)).head.pattern.alternate === 'same') return true;
    await alike.click();
    await page.waitForTimeout(500);
    return false;
  });
  await page.locator('[data-guide="head.pattern.valve[0]"]').click();
  const lean = page.locator('svg[data-figure=incline]');
  const box = await lean.boundingBox();
  const to = (deg, r) => [box.x + 86 + r * Math.sin((deg * Math.PI) / 180), box.y + 92 - r * Math.cos((deg * Math.PI) / 180)];
  await page.mouse.move(...to(19.5, 70));
  await page.mouse.down();
  await page.mouse.move(...to(30, 70), { steps: 5 });
  await page.mouse.up();
  const stored = await until('the axis turned by hand is stored', async () => { const v = String((await tables(page, job)).head.pattern.valve[0].incline); return /deg/.test(v) && v !== '19.5 deg' && v; });
  check(Math.abs(Number.parseFloat(stored) - 30) <= 1 && Number.parseFloat(stored) % 0.25 === 0, `turned to 30°, stored ${stored}`);
  await page.locator('.room details', { has: page.locator('summary', { hasText: 'Machine and fixture' }) }).locator('summary').click();
  await page.getByRole('radio', { name: /^roll and swing cradle/ }).check();
  await until('the fixture is chosen by its picture', async () => (await tables(page, job)).fixture === 'roll and swing cradle');
}

// A figure nobody gave stands dashed until it is typed.
async function notFromYou(page, server) {
  const job = await made(page, { from: 'answers', answers: thirtyTwo });
  await page.goto(`${server.base}/#/job/${job}/data`);
  const x = page.locator('.dim-made[data-dim="head.pattern.valve[0].x"]');
  await x.waitFor();
  const before = (await tables(page, job)).head.assumed;
  check(before.some((k) => 'head.pattern.valve[0].x'.startsWith(k)), `made up are ${before.join()}`);
  await x.fill('-0.8');
  await x.press('Enter');
  await until('typed, it is no longer made up', async () => !(await tables(page, job)).head.assumed.includes('head.pattern.valve[0].x'));
  await until('and no longer dashed', async () => await x.count() === 0);
}

async function shelf(page, server, job) {
  await page.goto(`${server.base}/#/shelf`);
  const cutters = page.getByLabel('Cutters', { exact: true });
  await cutters.locator('.shelf-picture').first().waitFor();
  const all = await cutters.locator('article').count();
  check(all === 6 && await cutters.locator('.shelf-picture').count() === all, 'not every cutter has its picture');
  await page.getByLabel('Search').fill('small');
  await until('two small cutters are found', async () => await cutters.locator('article').count() === 2);
  await page.getByLabel('Search').fill('');
  await page.locator('#fits-job').selectOption(String(job));
  for (const kind of ['intake', 'exhaust']) {
    await page.locator('#fits-kind').selectOption(kind);
    const state = await page.evaluate((id) => fetch(`/api/jobs/${id}/state`).then((r) => r.json()), job);
    const wanted = [...new Set(state.results.shape.seats.filter((s) => state.valves.find((v) => v.id === s.id).kind === kind).map((s) => s.cutter))];
    await until(`the cutter of the ${kind} seats comes first`, async () => await cutters.locator('article').first().getAttribute('data-fits') === 'true' && (await cutters.innerText()).includes(`Makes the ${kind} form`));
    check(await cutters.locator('article[data-fits=true] > h3').allInnerTexts().then((t) => t.sort().join()) === wanted.sort().join(), `fitting are marked ${await cutters.locator('article[data-fits=true] > h3').allInnerTexts()}, planned ${wanted.join()}`);
    check(await cutters.locator('.seat-under').count() === all, 'a cutter is not drawn over the seat');
  }
  const fixtures = page.getByLabel('Fixtures', { exact: true });
  check(await fixtures.locator('article[data-fits=true]').count() > 0 && await fixtures.locator('article[data-fits=false]').count() > 0, 'fixtures are not told apart');
  check(await page.getByLabel('Pilots', { exact: true }).locator('article[data-fits=true]').count() > 0, 'no pilot fits');
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n    '));
  await picture(page, 'shelf-fits', { fullPage: true });
}
