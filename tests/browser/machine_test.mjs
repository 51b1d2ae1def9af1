// At the machine on an upright tablet: a head with two setups and two cutters from load to finished, on one screen without
// scrolling, with taps where a person must say so and a gauge that types everywhere else; a blade breaks at the third
// seat; a second screen and a reload stand at the same step.
import { accessFaults, change, check, comeIn, made, picture, until } from './steps.mjs';
import { readFileSync } from 'node:fs';

const tablet = { width: 800, height: 1280 };
// The example's head before anybody touched it.
const untouched = readFileSync(new URL('../../examples/pent-roof/job.toml', import.meta.url), 'utf8').replace(/\[\[reading\.touch\]\]\n(?:[a-z_]+ = .*\n)+/g, '');
// A second head, whose seats and guides were read on the bench as the first one's were.
const example = `${untouched}\n${untouched.slice(untouched.indexOf('[[reading.')).replaceAll('head = "1"', 'head = "2"')}`;

export default async function machine({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock computes nothing';
  const page = await browser.page(tablet);
  await comeIn(page, server.base);
  const job = await made(page, { from: 'text', text: example });
  await page.goto(`${server.base}/#/job/${job}/machine`);
  await page.locator('.walk').waitFor();
  await page.locator('#head-choice').selectOption('1');
  await page.locator('[aria-label="The walk of head 1"]').waitFor();
  const seen = [];
  let digits = 0;
  let tried = false;
  let aged = false;
  for (let i = 0; i < 200; ++i) {
    const { kind, words } = await step(page);
    if (kind === 'zero' && !aged) {
      aged = true;
      await anOldFile(page, job);
      continue;
    }
    if (seen.at(-1) !== kind) {
      seen.push(kind);
      await oneScreen(page, kind);
      if (seen.filter((k) => k === kind).length === 1) await picture(page, `machine-${kind}`);
    }
    if (kind === 'finished') break;
    if (kind === 'held') throw new Error(`held back: ${await page.locator('.machine-card').innerText()}`);
    if (kind === 'take' && !tried) {
      tried = true;
      await notTaken(page, words);
      await twoTaps(page, words);
      continue;
    }
    digits += await act(page, kind, words);
    await until(`the step after "${words}"`, async () => { const now = await step(page); return now.words !== words || now.kind !== kind; });
    if (kind === 'zero' && seen.filter((k) => k === 'zero').length === 1) await sameStepElsewhere(browser, page, server, job);
    if (kind === 'first' && seen.filter((k) => k === 'first').length === 1) await brokenBlade(page);
  }
  check(seen.at(-1) === 'finished', `the walk stopped at ${seen.at(-1)}`);
  for (const kind of ['load', 'touch', 'take', 'zero', 'first', 'cut', 'measure']) check(seen.includes(kind), `the walk had no ${kind}: ${seen.join(', ')}`);
  for (const kind of ['load', 'zero']) check(seen.filter((k) => k === kind).length === 2, `not two of ${kind}: ${seen.join(', ')}`);
  await nextHead(page);
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n    '));
  return `${seen.join(' → ')}; ${digits} figures typed`;
}

// The network goes while the file is taken: no file, and the step is not done.
async function notTaken(page, words) {
  page.expectsNetworkErrors = true;
  await page.route('**/papers/*.ngc*', (route) => route.abort());
  await page.waitForTimeout(700);
  await page.getByRole('button', { name: 'Take the file' }).click();
  await page.getByText(/^The file was not taken\./).waitFor();
  check((await step(page)).words === words, 'a file that never came ended its step');
  await page.unroute('**/papers/*.ngc*');
  page.expectsNetworkErrors = false;
}

// What is changed after a file was taken makes that file an old one: it is to be taken again before anything else.
async function anOldFile(page, job) {
  await change(page, job, [{ key: 'cut.enter_feed', value: '240 mm/min' }]);
  await until('the old file is noticed', async () => (await step(page)).words.startsWith('The file at the machine is an old one: '));
  await picture(page, 'machine-old-file');
}

// A finger that bounces on "Take the file": the file is taken, and nobody has said that Z0 was.
async function twoTaps(page, words) {
  await page.waitForTimeout(700);
  const button = await page.getByRole('button', { name: 'Take the file' }).boundingBox();
  const [taken] = await Promise.all([page.waitForEvent('download'), page.mouse.click(button.x + button.width / 2, button.y + button.height / 2)]);
  check(/^\d+-program-/.test(taken.suggestedFilename()), `taken as ${taken.suggestedFilename()}`);
  const next = await until('the step after it', async () => { const now = await step(page); return now.words !== words && now; });
  const big = await page.locator('.machine-card .big').boundingBox();
  await page.mouse.click(big.x + big.width / 2, big.y + big.height / 2);
  await page.waitForTimeout(900);
  check((await step(page)).words === next.words, `one tap too many ended "${next.words}" too`);
}

const kinds = { load: /^Load head|^Setup . is done/, touch: /^Touch /, take: /^Take the |^Change to cutter|^The file at the machine is an old one/, zero: /^Z0 /, first: /^First seat/, cut: /^Cut with/, measure: /^Measure /, held: /^No file/, finished: /is finished/ };

async function step(page) {
  await page.locator('.machine-sentence').waitFor();
  const words = (await page.locator('.machine-sentence').innerText()).trim();
  const kind = Object.keys(kinds).find((k) => kinds[k].test(words));
  check(kind, `a step nobody knows: ${words}`);
  return { kind, words };
}

// What a person does at it: a tap, or figures as the gauge types them.
async function act(page, kind, words) {
  if (kind !== 'touch' && kind !== 'first' && kind !== 'measure') await page.waitForTimeout(700); // a person reads first; what comes sooner is a finger that bounced
  if (kind === 'take') {
    const file = page.getByRole('button', { name: 'Take the file' });
    await file.waitFor();
    const [taken] = await Promise.all([page.waitForEvent('download'), file.click()]);
    check(/^\d+-program-/.test(taken.suggestedFilename()), `taken as ${taken.suggestedFilename()}`);
    return 0;
  }
  if (kind === 'touch') {
    // What was stored last is worked out: the guide then stays, or no further touch is wanted.
    await until('the entry has settled', async () => await page.locator('[aria-label=Touch][aria-busy=false]').count() === 1 || (await step(page)).kind !== 'touch');
    if ((await step(page)).kind !== 'touch') return 0;
    await awaiting(page);
    const guide = await page.locator('[data-touching]').innerText();
    const at = await whereOf(page, guide);
    await page.keyboard.type(`${at.x}\n${at.y}\n`);
    return 2;
  }
  if (kind === 'first') {
    await awaiting(page);
    const planned = await page.evaluate((v) => fetch(`/api/jobs/${/job\/(\d+)/.exec(location.hash)[1]}/state`).then((r) => r.json()).then((s) => s.results.shape.seats.find((w) => w.id === v).depth_mm), /First seat (\S+):/.exec(words)[1]);
    await page.keyboard.type(`${(planned - 0.1 + 0.004).toFixed(3)} mm\n`);
    return 1;
  }
  if (kind === 'measure') {
    await awaiting(page);
    await page.keyboard.type('0.012 mm\n\n\n');
    return 1;
  }
  await page.locator('.machine-card .big').click();
  return 0;
}

// The field stands empty at the next place: a person with a gauge takes longer than that.
async function awaiting(page) {
  await until('a field awaits the gauge', () => page.evaluate(() => {
    const field = document.querySelector('input[data-awaits]');
    return field !== null && field.value === '' && (document.activeElement === field || !(document.activeElement instanceof HTMLInputElement));
  }));
  await page.waitForTimeout(120);
}

// Where the map has the guide, in the unit shown.
function whereOf(page, guide) {
  return page.evaluate(async (id) => {
    const state = await fetch(`/api/jobs/${/job\/(\d+)/.exec(location.hash)[1]}/state?head=${document.getElementById('head-choice').value}`).then((r) => r.json());
    const held = state.results.hold.setups.flatMap((s) => s.valves).find((v) => v.id === id);
    return { x: `${held.x_mm.toFixed(3)} mm`, y: `${held.y_mm.toFixed(3)} mm` };
  }, guide);
}

async function oneScreen(page, kind) {
  const over = await page.evaluate(() => {
    const room = document.querySelector('.room-machine');
    const outside = [...room.querySelectorAll('button, input, a, svg[data-figure]')].filter((e) => !e.closest('.walk, .machine-scroll') && e.checkVisibility() && e.getBoundingClientRect().bottom > innerHeight + 1);
    return { page: document.documentElement.scrollHeight - innerHeight, outside: outside.map((e) => e.outerHTML.slice(0, 80)), map: document.querySelector('.machine-map')?.getBoundingClientRect().height ?? 0 };
  });
  check(over.page <= 0 && over.outside.length === 0, `${kind} needs scrolling: ${over.page} px, ${over.outside.join(' ')}`);
  check(kind === 'held' || over.map > 0.2 * tablet.height, `the drawing of ${kind} is ${over.map} px high`);
  for (const words of ['A blade broke', 'Not as it should be', 'Put this head aside']) check(await page.getByRole('button', { name: words }).isVisible(), `${words} is not within one tap at ${kind}`);
}

async function sameStepElsewhere(browser, page, server, job) {
  const here = await step(page);
  await page.reload();
  await page.locator('.walk').waitFor();
  await until('a reload stands at the same step', async () => (await step(page)).words === here.words);
  const other = await browser.page({ width: 390, height: 844 });
  await other.goto(`${server.base}/#/job/${job}/machine`);
  await until('another screen stands at the same step', async () => (await step(other)).words === here.words);
  await picture(other, 'machine-phone');
  await other.close();
}

// A blade breaks at the third seat: the files from there on, and back to the step.
async function brokenBlade(page) {
  const before = await step(page);
  await page.getByRole('button', { name: 'A blade broke' }).click();
  const panel = page.getByLabel('A blade broke', { exact: true });
  await panel.locator('.seat-picks button').nth(2).click();
  await until('files from there on are offered, or why not', async () => await panel.locator('a[download*=from], .mark-attention').count() > 0);
  await picture(page, 'machine-broken');
  await page.getByRole('button', { name: 'Back to the step' }).click();
  check((await step(page)).words === before.words, 'the step was lost over the broken blade');
}

// From a finished head to the first file of the next: two taps plus the touches find asks for, which a gauge types.
async function nextHead(page) {
  let taps = 0;
  for (let kind = 'finished'; kind !== 'taken'; ) {
    const now = await step(page);
    kind = now.kind;
    check(['finished', 'touch', 'take'].includes(kind), `on the way to the next head's first file stands "${now.words}": ${await page.locator('.machine-card').allInnerTexts()}`);
    if (kind !== 'touch') taps += 1;
    if (kind === 'finished') {
      await page.waitForTimeout(700);
      await page.locator('.machine-card .big').click();
    } else await act(page, kind, now.words);
    if (kind === 'take') kind = 'taken';
    await until(`the step after "${now.words}"`, async () => (await step(page)).words !== now.words);
  }
  check(await page.locator('#head-choice').inputValue() === '2', 'the next head is not number 2');
  check(taps === 2, `${taps} taps from a finished head to the first file of the next`);
}
