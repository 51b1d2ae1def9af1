// Every state that is no room at rest: the first start, the Bench and its tools, each way to a new job, a survey, the Shelf with
// castings, places and feeds, ledger, people, data, help, tour, menu and link; a job with the network away, with two values for one
// place, with a refused entry, with what others did; each step at the machine and what is one tap away from it; signed out.
// On a desk, a tablet and a phone, looked at as looked.mjs says.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { contents, Looker, wanted } from './looked.mjs';
import { beginWedge, check, comeIn, made, signOut, until } from './steps.mjs';
import { Shop } from './survey_shop.mjs';

export const patience = 1_800_000; // ms: every state at every size

export default async function pages({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock has few pages';
  const page = await browser.page();
  const looker = new Looker(page);
  await page.emulateMedia({ reducedMotion: 'reduce' });
  const stick = mkdtempSync(join(tmpdir(), 'seatwright-stick-'));
  const see = async (state, address, act = async () => undefined, options = {}) => {
    for (const size of wanted) {
      await page.setViewportSize(size);
      if (address !== null) await open(page, server.base, address);
      await act();
      await looker.at(size, state, options);
      await options.after?.();
    }
  };
  try {
    await see('first start', '', () => page.locator('#again').waitFor());
    await comeIn(page, server.base);
    await see('bench, empty', '#/bench');
    const job = await beginWedge(page);
    await furnish(page, job, stick);
    await places(page, see, job);
    await survey(page, see);
    await atTheMachine(page, see, job);
    await between(page, see, job);
    await signOut(page);
    await see('signed out', null);
  } finally {
    rmSync(stick, { recursive: true, force: true });
  }
  contents();
  check(looker.faults.length === 0, `${looker.faults.length}:\n    ${looker.faults.slice(0, 40).join('\n    ')}`);
  return looker.said();
}

// Anew, so that nothing of the state before is left open.
async function open(page, base, address) {
  await page.goto('about:blank');
  await page.goto(`${base}/${address}`);
  await page.locator('main').first().waitFor();
}

const post = (page, path, body) => page.evaluate(async ([p, b]) => {
  const { csrf } = await fetch('/api/session').then((r) => r.json());
  const answer = await fetch(`/api${p}`, { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf }, body: JSON.stringify(b) });
  if (!answer.ok) throw new Error(`${p}: ${await answer.text()}`);
  return answer.status === 204 ? undefined : answer.json();
}, [path, body]);
let keys = 0;
const enter = (page, job, body) => post(page, `/jobs/${job}/entries`, { units: 'in', ...body, client_key: `pages-test-${String(++keys).padStart(4, '0')}` });

// Something stands on every page.
async function furnish(page, job, stick) {
  await post(page, '/people', { name: 'B. Miller', password: 'seats before lunch', role: 'machinist' });
  await post(page, '/castings', { job });
  await post(page, '/places', { machine: 'long table', name: 'stick', kind: 'folder', path: stick });
  await post(page, '/feeds', { kind: 'adapter', host: '127.0.0.1', port: 1, name: 'mill readout', decides: 'stillness', channels: ['x', 'y'].map((what) => ({ what, key: `${what}pos`, part: 0, unit: 'mm', sign: 1, low: null, high: null })) });
  await enter(page, job, { kind: 'note', head: '1', valve: '', values: { promised: '2026-12-24' } });
  await enter(page, job, { kind: 'note', head: '1', valve: '', values: { template: 'wedge heads, two cutters', version: 1 } });
  await enter(page, job, { kind: 'note', head: '6', valve: '', values: { words: 'A nick in the deck beside cylinder 2.' } });
}

async function places(page, see, job) {
  await page.evaluate(() => localStorage.removeItem('seatwright.tour'));
  await see('bench', '#/bench', () => page.locator('.card').first().waitFor());
  await see('bench, a template is named', '#/bench', async () => {
    await page.locator('.card').first().getByRole('button', { name: 'Keep it no more' }).waitFor();
    await page.getByLabel('Show', { exact: true }).selectOption('templates');
  });
  await see('bench, nothing found', '#/bench', () => page.getByLabel('Search').fill('nobody'));
  for (const way of ['readings at the machine', 'an example', 'a head the shop has had', 'a job file', 'six questions']) {
    await see(`new job, ${way}`, '#/new', () => page.locator('label', { hasText: way }).first().click());
  }
  const shelfHere = () => page.locator('[data-casting]').first().waitFor();
  await see('shelf', '#/shelf', shelfHere);
  await see('shelf, what fits', '#/shelf', async () => {
    await shelfHere();
    await page.locator('#fits-job').selectOption(String(job));
    await page.locator('#fits-kind').selectOption('intake');
    await page.locator('article[data-fits=true]').first().waitFor({ state: 'attached' });
  }, { unfold: true });
  for (const [name, address] of [['ledger', '#/ledger'], ['people', '#/people'], ['data and backups', '#/administration'], ['help', '#/help']]) {
    await see(name, address, () => page.locator('main.page h1').waitFor(), { unfold: name === 'people' });
  }
  await see('menu', `#/job/${job}/find`, async () => { await page.locator('.bar-more > summary').click(); }, { whole: false });
  await see('link', `#/job/${job}/find`, async () => {
    await page.locator('.bar-more > summary').click();
    await page.locator('.bar-more summary', { hasText: 'Link to this head and stage' }).click();
    await page.locator('.link-here svg').waitFor();
  }, { whole: false });
  await see('notes', `#/job/${job}/prove`, async () => {
    await page.locator('#head-choice').selectOption('6');
    await page.locator('.room summary', { hasText: 'Notes and photographs: head' }).click();
    await page.getByText('A nick in the deck').waitFor();
  });
  await see('why', `#/job/${job}/hold`, async () => {
    await page.getByRole('button', { name: 'Why Worst plumb error' }).click();
    await page.locator('.because .formula').first().waitFor();
  });
  for (const [n, name] of ['tour, the Bench', 'tour, a new job', 'tour, hold', 'tour, find', 'tour, help'].entries()) {
    await see(name, '#/help', async () => {
      await page.getByRole('button', { name: 'Show me round' }).click();
      for (let i = 0; i < n; ++i) await page.getByLabel('Tour').getByRole('button', { name: 'Next' }).click();
      await page.getByLabel('Tour').getByText(`${n + 1} of 5`).waitFor();
      await page.waitForTimeout(300);
    }, { whole: false });
  }
  await page.getByLabel('Tour').getByRole('button', { name: 'Done' }).click();
}

// Begun, half way and with a reading set aside.
async function survey(page, see) {
  const shop = new Shop();
  const made = await post(page, '/surveys', { client_key: 'pages-test-survey', title: 'Invented head', units: 'mm', values: { cylinders: 4, intake: 1, exhaust: 1 } });
  const address = `#/survey/${made.id}`;
  const here = () => page.locator('[data-step]').waitFor();
  await see('survey, begun', address, here);
  const labels = { x: 'X', y: 'Y', z: 'Z', ball: 'Ball, radius', diameter: 'Hole, diameter', head_height: 'Head over its gauge plane', first: 'Sensor', second: 'Turned half a turn', tilt: 'Tilt', swing: 'Swing', value: 'Size' };
  const stepNow = () => page.locator('[data-step]').getAttribute('data-step');
  const to = async (wantedStep) => {
    for (let i = 0; i < 60; ++i) {
      const step = await stepNow();
      if (step === 'job' || wantedStep(step)) return;
      if (step === 'lean') await page.locator('.lean-choice').first().click();
      else {
        const answers = shop.answer(step, await page.locator('[data-step]').innerText());
        for (const [key, value] of Object.entries(answers)) await page.getByLabel(labels[key], { exact: true }).fill(String(Number(value.toFixed(4))));
        await page.keyboard.press('Enter');
      }
      await until(`on from ${step}`, async () => await page.locator('[data-step]').count() > 0 && await stepNow() !== step);
    }
    throw new Error('the survey never comes so far');
  };
  await to((step) => step === 'lean');
  await see('survey, which way it leans', address, here);
  await to((step) => step.startsWith('hole/'));
  await see('survey, a hole', address, here);
  await to((step) => /^guide\/[A-Z]\/2/.test(step));
  await see('survey, a guide', address, here);
  await to(() => false);
  await see('survey, known', address, here, { unfold: true });
}

// Each step of the walk, and what is one tap away.
async function atTheMachine(page, see, job) {
  const address = `#/job/${job}/machine`;
  const choose = (head) => async () => {
    await page.locator('.walk').waitFor();
    await page.locator('#head-choice').selectOption(head);
    await page.locator(`[aria-label="The walk of head ${head}"]`).waitFor();
    await page.waitForTimeout(300);
  };
  const still = { whole: false };
  await see('machine, load', address, choose('7'), still);
  await enter(page, job, { kind: 'done', head: '7', valve: '', values: { step: 'load A', done: true } });
  await see('machine, touch', address, choose('7'), still);
  for (const [name, words] of [['broken', 'A blade broke'], ['wrong', 'Not as it should be'], ['aside', 'Put this head aside']]) {
    await see(`machine, ${name}`, address, async () => {
      await choose('6')();
      await page.getByRole('button', { name: words }).click();
      if (name === 'broken') {
        await page.locator('.seat-picks button').nth(2).click();
        await page.locator('.machine-card a[download*=from], .machine-card .mark-attention').first().waitFor();
      }
    }, still);
  }
  await enter(page, job, { kind: 'done', head: '4', valve: '', values: { step: 'aside', done: true } });
  await see('machine, put aside', address, choose('4'), still);
  const seen = new Set();
  for (let i = 0; i < 30 && seen.size < 5; ++i) {
    const now = await stateOf(page, job);
    const at = now.walk.find((s) => !now.said.has(s.id) && !(s.kind === 'first' && now.firsts.has(s.valves[0])) && s.kind !== 'load' && s.kind !== 'touch');
    if (!at) break;
    if (!seen.has(at.kind)) {
      seen.add(at.kind);
      await see(`machine, ${at.kind}`, address, choose('6'), still);
    }
    if (at.kind === 'measure' || at.kind === 'finished') break;
    if (at.kind === 'first') await enter(page, job, { kind: 'first', head: '6', valve: at.valves[0], values: { depth: '0.05 mm' }, units: 'mm' });
    else await enter(page, job, { kind: 'done', head: '6', valve: '', values: { step: at.id, done: true } });
  }
  check(['take', 'zero', 'first', 'cut', 'measure'].every((k) => seen.has(k)), `at the machine were seen ${[...seen].join(', ')}`);
  await see('machine, finished', address, choose('3'), still);
}

const stateOf = async (page, job) => {
  const now = await page.evaluate(async (id) => ({ state: await fetch(`/api/jobs/${id}/state?head=6`).then((r) => r.json()), list: await fetch(`/api/jobs/${id}/entries`).then((r) => r.json()) }), job);
  const own = now.list.entries.filter((e) => e.live && e.head === '6');
  return { walk: now.state.walk, said: new Set(own.filter((e) => e.kind === 'done').map((e) => e.values.step)), firsts: new Set(own.filter((e) => e.kind === 'first').map((e) => e.valve)) };
};

// The network away with entries that wait, two values for one place, an entry refused, and what others did meanwhile.
async function between(page, see, job) {
  const address = `#/job/${job}/find`;
  const at = async (head) => {
    await page.locator('.room[aria-label=find]').waitFor();
    await page.locator('#head-choice').selectOption(head);
    await page.locator('[aria-label=Touch][aria-busy=false]').waitFor();
  };
  for (const x of ['0.5', '0.6']) await enter(page, job, { kind: 'touch', head: '8', valve: '1E', values: { x: `${x} in`, y: '0' } });
  await see('two values', address, async () => { await at('8'); await page.locator('.differ').first().waitFor(); });
  page.expectsNetworkErrors = true;
  await see('network away', address, async () => {
    await at('7');
    await page.context().setOffline(true);
    await page.getByLabel('X', { exact: true }).fill('1.01');
    await page.keyboard.press('Enter');
    await page.getByLabel('Y', { exact: true }).fill('0.02');
    await page.keyboard.press('Enter');
    await page.locator('[data-away]').waitFor();
    await page.waitForTimeout(300);
  }, { after: () => page.context().setOffline(false) });
  await until('nothing waits any more', async () => await page.locator('[data-away]').count() === 0);
  page.expectsNetworkErrors = false;
}
