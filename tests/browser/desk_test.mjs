// At the desk: trends over heads as plot, table and CSV; what others changed while one was away; a link and its square code;
// the tour; jobs by promise, and a new job from a head the shop has had.
import { accessFaults, addPerson, beginWedge, check, comeIn, docsPicture, openStage, picture, signIn, until } from './steps.mjs';

export default async function desk({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock has no batch';
  const page = await browser.page();
  await comeIn(page, server.base);
  await toured(page);
  const job = await beginWedge(page);
  await trends(page, server, job);
  await meanwhile(page, server, job, browser);
  await linked(page, server, job);
  await whence(page, job, server);
  await touched(page, server, job);
  await board(page);
  await template(page, job);
  return undefined;
}

// Offered once, taken step by step, left at any of them, and not offered again.
async function toured(page) {
  await page.getByRole('button', { name: 'Show me round' }).click();
  const tour = page.getByLabel('Tour');
  await tour.getByText('1 of 5').waitFor();
  await tour.getByRole('button', { name: 'Next' }).click();
  await until('the second step is the new job', async () => /#\/new$/.test(page.url()) && await tour.getByText('2 of 5').count() === 1);
  await picture(page, 'tour');
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n    '));
  await tour.getByRole('button', { name: 'Leave the tour' }).click();
  check(await tour.count() === 0, 'the tour is still there');
  await page.goto(page.url().replace(/#.*/, '#/bench'));
  await page.reload();
  await page.locator('.bar').waitFor();
  await page.waitForTimeout(300);
  check(await page.getByRole('button', { name: 'Show me round' }).count() === 0, 'the tour is offered again');
}

async function trends(page, server, job) {
  await page.goto(`${server.base}/#/job/${job}/prove/batch`);
  const plots = page.getByLabel('Trends', { exact: true });
  await plots.waitFor();
  await until('every trend is offered', async () => await plots.locator('.choice label').count() === 4);
  const names = await plots.locator('.choice label').allInnerTexts();
  for (const wanted of ['touches a head took', 'runout over heads', 'seats that pass', 'depth left on head']) check(names.some((n) => n.startsWith(wanted)), `no trend of ${wanted}: ${names.join(', ')}`);
  for (const name of names) {
    await plots.getByRole('radio', { name, exact: true }).check();
    const plot = plots.locator('.plot');
    await plot.locator('svg[data-figure]').waitFor();
    const said = await plot.evaluate((p) => ({ marks: p.querySelectorAll('.plot-mark, .plot-beyond').length, limits: p.querySelectorAll('.plot-limit').length, name: p.querySelector('svg').getAttribute('aria-label') }));
    check(said.marks > 0 && said.limits > 0 && said.name.length > 20, `${name}: ${JSON.stringify(said)}`);
    await picture(page, `plot-${name.split(' ')[0]}`);
  }
  await plots.getByRole('radio', { name: 'runout over heads' }).check();
  const shown = () => plots.locator('.plot-line-0 path').count();
  await until('the plot is drawn', async () => await shown() > 0);
  const all = await shown();
  if (all > 4) {
    await plots.getByRole('button', { name: 'Closer' }).click();
    await until('fewer heads are shown', async () => await shown() < all);
    await plots.getByRole('button', { name: 'Wider' }).click();
    await until('all heads are shown again', async () => await shown() === all);
  }
  const link = plots.getByRole('link', { name: 'Take as CSV' });
  const [taken] = await Promise.all([page.waitForEvent('download'), link.click()]);
  check(taken.suggestedFilename() === 'runout.csv', taken.suggestedFilename());
  const csv = decodeURIComponent((await link.getAttribute('href')).split(',').slice(1).join(','));
  const rows = csv.trim().split('\r\n');
  await plots.locator('summary', { hasText: 'The same as a table' }).click();
  check(rows.length - 1 === all, `${rows.length - 1} lines of CSV, ${all} marks`);
  // The table is drawn when its fold opens, which the browser says a moment after the tap.
  await until('the table has a row for every line of the CSV', async () => await plots.locator('tbody tr').count() === rows.length - 1);
  // Against the verdicts themselves: the worst seat of the last head.
  const worst = await page.evaluate(async ([id, head]) => {
    const state = await fetch(`/api/jobs/${id}/state`).then((r) => r.json());
    return Math.max(...state.results.prove.seats.filter((s) => s.head === head && s.tir_mm !== null).map((s) => s.tir_mm));
  }, [job, rows.at(-1).split(',')[0]]);
  check(Math.abs(Number(rows.at(-1).split(',')[1]) * 25.4 - worst) < 0.001, `${rows.at(-1)} where the worst is ${worst} mm`);
  // Every seat of the example passes, as the sentence over the batch says.
  check(/40 of 40 seats read pass/.test(await page.getByLabel('The batch', { exact: true }).first().innerText()), 'the example is another one by now');
  await plots.getByRole('radio', { name: 'seats that pass' }).check();
  const lines = async () => decodeURIComponent(await link.getAttribute('href')).trim().split('\r\n').slice(1);
  await until('the file is of the seats that pass', async () => (await lines()).every((row) => row.includes(',100')));
  const passing = await lines();
  check(passing.length === 5 && passing.every((row) => row.endsWith(',100,100,100')), `of seats that pass the plot says ${passing.join(' | ')}`);
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n    '));
  await docsPicture(page, 'trends');
}

// Another person's readings, made while this page was elsewhere, stand in one line; one's own do not.
async function meanwhile(page, server, job, browser) {
  await page.goto(`${server.base}/#/job/${job}/find`);
  await page.locator('.room[aria-label=find]').waitFor();
  await page.waitForTimeout(300);
  await page.goto(`${server.base}/#/shelf`);
  const miller = { name: 'B. Miller', password: 'seats before lunch', role: 'machinist' };
  await addPerson(page, miller);
  const other = await browser.page({ width: 800, height: 1280 }, { fresh: true });
  await other.goto(`${server.base}/`);
  await signIn(other, miller);
  await other.evaluate(async (id) => {
    const { csrf } = await fetch('/api/session').then((r) => r.json());
    for (const [i, valve] of ['1E', '2I'].entries()) {
      await fetch(`/api/jobs/${id}/entries`, { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf },
        body: JSON.stringify({ kind: 'touch', head: '31', valve, values: { x: i === 0 ? '0' : '6.28', y: '0' }, units: 'in', client_key: `desk-test-meanwhile-${i}` }) });
    }
  }, job);
  await other.close();
  await page.goto(`${server.base}/#/job/${job}/find`);
  const line = page.locator('.meanwhile');
  await line.waitFor();
  check(/B\. Miller: 2 touches on head 31\./.test(await line.innerText()), await line.innerText());
  await picture(page, 'meanwhile');
  await line.getByRole('button', { name: 'Seen' }).click();
  check(await line.count() === 0, 'the line stays after it was seen');
  await page.reload();
  await page.locator('.room[aria-label=find]').waitFor();
  await page.waitForTimeout(300);
  check(await line.count() === 0, 'the line comes back after it was seen');
}

async function linked(page, server, job) {
  await page.locator('.bar-more > summary').click();
  await page.locator('.bar-more summary', { hasText: 'Link to this head and stage' }).click();
  const address = await page.locator('#link-address').inputValue();
  check(address === `${server.base}/#/job/${job}/find?head=6`, address);
  const code = page.locator('.link-here svg');
  check(await code.locator('path').getAttribute('d').then((d) => d.length > 500), 'the square code is empty');
  await picture(page, 'link');
  await page.keyboard.press('Escape');
  await page.locator('.bar-more > summary').click();
}

// Beside an input of a number stands where it comes from.
async function whence(page, job, server) {
  await page.goto(`${server.base}/#/job/${job}/hold`);
  await page.locator('.room[aria-label=hold]').waitFor();
  await page.getByRole('button', { name: 'Why Worst plumb error' }).click();
  await until('the inputs say where they come from', async () => /\((typed in this job|from the shelf|nobody gave one)\)/.test(await page.locator('.because').first().innerText()));
}

async function board(page) {
  await page.click('nav >> text=Bench');
  await page.getByLabel('Promised for').first().fill('2026-12-24');
  await until('the promise is kept', async () => await page.evaluate(() => fetch('/api/jobs').then((r) => r.json()).then((a) => a.jobs.some((j) => j.promised === '2026-12-24'))));
  await page.getByLabel('Order').selectOption('promised');
  await picture(page, 'bench');
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n    '));
  // How many heads are through, what is searched for, a copy without its readings, put away and found again.
  check(/^5 of \d heads measured through$/.test(await page.locator('.card-heads').first().innerText()), await page.locator('.card-heads').first().innerText());
  await page.locator('.card').first().getByRole('button', { name: 'Copy' }).click();
  await page.locator('.stages').waitFor();
  const copy = /job\/(\d+)/.exec(page.url())[1];
  check((await page.evaluate((id) => fetch(`/api/jobs/${id}/entries`).then((r) => r.json()), copy)).entries.length === 0, 'a copy took readings along');
  await page.click('nav >> text=Bench');
  await until('both are on the bench', async () => await page.locator('.card').count() === 2);
  await page.getByLabel('Search').fill('copy');
  await until('the copy alone is found', async () => await page.locator('.card').count() === 1 && /copy/.test(await page.locator('.card h2').innerText()));
  await page.locator('.card').getByRole('button', { name: 'Put away' }).click();
  await until('it is off the bench', async () => await page.locator('.card').count() === 0);
  await page.getByLabel('Show', { exact: true }).selectOption({ label: 'put away' });
  await until('it is among what was put away', async () => await page.locator('.card').count() === 1);
  await page.getByLabel('Search').fill('');
  await page.click('text=New job');
  await page.click('label:has-text("a head the shop has had")');
  await page.getByLabel('Earlier jobs', { exact: true }).locator('.entries li').first().getByRole('button', { name: 'Begin with it' }).click();
  await page.locator('.stages').waitFor();
  const entries = await page.evaluate(() => fetch(`/api/jobs/${/job\/(\d+)/.exec(location.hash)[1]}/entries`).then((r) => r.json()));
  check(entries.entries.length === 0, 'readings came along');
  await openStage(page, 'find');
}

// A job kept as a template, under a name: what is changed in the job later, or that it is put away, leaves it as it was; a job
// begun from it has its description and no reading; kept no more, it is offered no more.
async function template(page, job) {
  await page.goto(`${new URL(page.url()).origin}/#/bench`);
  await page.getByLabel('Show', { exact: true }).selectOption({ label: 'on the bench' });
  const card = page.locator('.card', { has: page.locator(`a[href="#/job/${job}/machine"]`) });
  await card.waitFor();
  // A finger on what stands in the card reaches it, not the link over the whole card.
  for (const what of ['input[type=date]', '.card-foot button']) {
    const reached = await card.locator(what).first().evaluate((e) => { e.scrollIntoView({ block: 'center' }); const b = e.getBoundingClientRect(); return document.elementFromPoint(b.x + b.width / 2, b.y + b.height / 2) === e; });
    check(reached, `a finger on ${what} of a card opens the job`);
  }
  await card.getByRole('button', { name: 'Keep as template' }).click();
  await card.getByLabel('Call the template').fill('row heads, two cutters');
  await card.getByRole('button', { name: 'Keep it', exact: true }).click();
  await card.getByText('Template “row heads, two cutters”').waitFor();
  const widthOf = (id) => page.evaluate((n) => fetch(`/api/jobs/${n}`).then((r) => r.json()).then((j) => j.tables.seat.intake.width), id);
  const before = await widthOf(job);
  await page.evaluate(async (id) => {
    const [{ csrf }, { version }] = await Promise.all(['/api/session', `/api/jobs/${id}`].map((p) => fetch(p).then((r) => r.json())));
    await fetch(`/api/jobs/${id}/edits`, { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf }, body: JSON.stringify({ version, edits: [{ key: 'seat.intake.width', value: '0.071 in' }] }) });
  }, job);
  await card.getByRole('button', { name: 'Put away' }).click();
  await page.getByLabel('Show', { exact: true }).selectOption({ label: 'templates' });
  await until('the Bench shows templates alone', async () => await page.locator('.card').count() === 1 && await card.count() === 1);
  await picture(page, 'template');
  await page.click('text=New job');
  await page.click('label:has-text("a head the shop has had")');
  await page.locator('[data-template="row heads, two cutters"]').getByRole('button', { name: 'Begin with it' }).click();
  await page.locator('.stages').waitFor();
  const begun = /job\/(\d+)/.exec(page.url())[1];
  const got = await page.evaluate(async (id) => ({ job: await fetch(`/api/jobs/${id}`).then((r) => r.json()), entries: (await fetch(`/api/jobs/${id}/entries`).then((r) => r.json())).entries.length }), begun);
  check(got.job.title === 'row heads, two cutters' && got.entries === 0, `begun is “${got.job.title}” with ${got.entries} entries`);
  check(JSON.stringify(await widthOf(begun)) === JSON.stringify(before), `the template went along with its job: ${await widthOf(begun)}, it was ${before}`);
  await page.click('nav >> text=Bench');
  await page.getByLabel('Show', { exact: true }).selectOption({ label: 'put away' });
  await card.getByRole('button', { name: 'Keep it no more' }).click();
  await card.getByRole('button', { name: 'Keep as template' }).waitFor();
  await card.getByRole('button', { name: 'Take out' }).click();
  await page.click('text=New job');
  await page.click('label:has-text("a head the shop has had")');
  await page.getByLabel('Templates', { exact: true }).getByText('None yet.').waitFor();
}

// Things in the drawings can be touched: a guide leads to its reading, a facet to its figures, a bar says its limits.
async function touched(page, server, job) {
  await page.goto(`${server.base}/#/job/${job}/find?head=6`);
  await page.locator('[data-drawing=map] [data-guide="2E"]').click();
  await until('the guide tapped is the one to touch', async () => await page.locator('[data-touching]').innerText() === '2E');
  await openStage(page, 'shape');
  await page.locator('[data-drawing=section] [data-name=face]').first().waitFor();
  const face = await page.locator('[data-drawing=section] [data-name=face] .grip').first().boundingBox();
  await page.mouse.click(face.x + face.width / 2, face.y + face.height / 2);
  await until('the facet tapped has its figure in hand', async () => await page.evaluate(() => document.activeElement?.labels?.[0]?.textContent) === 'seat face, width');
  await page.locator('[data-drawing=depths] [data-name="1E"] polygon.bar-plan').click();
  await until('the bar says its limits', async () => /^1E: .* planned; at least .* to clean it up; at most /.test(await page.locator('[data-drawing=depths] [role=status]').innerText()));
}
