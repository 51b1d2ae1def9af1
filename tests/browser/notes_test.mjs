// Notes and photographs: made small in the browser, without place or camera data; they wait while the network is away; each is
// named by an entry and stored under the SHA-256 of its bytes beside the data; a backup copies only new ones; a head has a name.
import { createHash } from 'node:crypto';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { accessFaults, beginWedge, check, comeIn, openStage, picture, until } from './steps.mjs';

export default async function notes({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock keeps no photographs';
  const page = await browser.page({ width: 800, height: 1280 });
  await comeIn(page, server.base);
  const job = await beginWedge(page);
  await openStage(page, 'prove');
  await page.locator('.room details', { has: page.locator('summary', { hasText: 'Notes and photographs: head' }) }).locator('summary').click();
  const box = page.getByLabel(/^Notes on head/);
  await box.locator('textarea').fill('A nick in the deck beside cylinder 2.');
  const big = await photograph(page, 3000, 2000);
  check(big.includes('Exif'), 'the photograph this test takes has no data about its camera, so it proves nothing');
  await box.locator('input[type=file]').setInputFiles({ name: 'IMG_1.jpg', mimeType: 'image/jpeg', buffer: big });
  await until('the photograph stands there', async () => await box.locator('img').count() === 1);
  const stored = (await entriesOf(page, job)).find((e) => e.kind === 'note' && e.values.photograph);
  check(stored && stored.values.words === 'A nick in the deck beside cylinder 2.' && !('jpeg' in stored.values), `the entry is ${JSON.stringify(stored)?.slice(0, 200)}`);
  const bytes = Buffer.from(await page.evaluate((a) => fetch(a).then((r) => r.arrayBuffer()).then((b) => [...new Uint8Array(b)]), `/api/jobs/${job}/photographs/${stored.values.photograph}`));
  check(createHash('sha256').update(bytes).digest('hex') === stored.values.photograph, 'the name is not the SHA-256 of the bytes');
  check(bytes.length <= 400_000, `${bytes.length} bytes`);
  check(!bytes.includes('Exif') && !bytes.includes('GPS'), 'data about camera or place is left');
  const size = await page.evaluate(() => new Promise((resolve) => { const img = document.querySelector('.notes img'); const say = () => resolve([img.naturalWidth, img.naturalHeight]); if (img.complete && img.naturalWidth > 0) say(); else img.onload = say; }));
  check(Math.max(...size) === 1600 && Math.min(...size) === 1067, `it is ${size.join(' × ')}`);
  await picture(page, 'notes-head');
  const faults = await accessFaults(page);
  check(faults.length === 0, faults.join('\n    '));
  await whileAway(page, server, job, box);
  await ofSeatAndReading(page, job);
  await named(page, server, job);
  await backedUp(server);
  await refused(page, job);
  return `${(bytes.length / 1000).toFixed(0)} kB of ${(big.length / 1000).toFixed(0)} kB`;
}

// Taken while the server is away: it waits, and is sent when the server is back.
async function whileAway(page, server, job, box) {
  page.expectsNetworkErrors = true;
  await server.down();
  await box.locator('textarea').fill('Second one, without a network.');
  await box.locator('input[type=file]').setInputFiles({ name: 'b.jpg', mimeType: 'image/jpeg', buffer: await photograph(page, 900, 1200) });
  await until('it waits', async () => await box.getByText('waiting to be sent').count() === 1);
  await picture(page, 'notes-waiting');
  await server.up();
  await until('it was sent', async () => await box.locator('img').count() === 2 && await box.getByText('waiting to be sent').count() === 0);
  page.expectsNetworkErrors = false;
  check((await entriesOf(page, job)).filter((e) => e.kind === 'note').length === 2, 'not two notes');
  check(readdirSync(join(server.dir, 'photographs')).length === 2, 'not two files beside the data');
  for (const f of readdirSync(join(server.dir, 'photographs'))) check((statSync(join(server.dir, 'photographs', f)).mode & 0o077) === 0, `${f} can be read by others`);
}

// A note of one seat and one of one reading stand with them, not among the head's own.
async function ofSeatAndReading(page, job) {
  const ofSeat = page.locator('.room details', { has: page.locator('summary', { hasText: /^Notes and photographs: \w+, head/ }) }).first();
  await ofSeat.locator('summary').click();
  const valve = /: (\w+), head/.exec(await ofSeat.locator('summary').innerText())[1];
  await ofSeat.locator('textarea').fill('Pitted on the port side.');
  await ofSeat.getByText('Keep the note').click();
  await until('it stands at the seat', async () => await ofSeat.locator('.notes-list').getByText('Pitted on the port side.').count() === 1);
  await openStage(page, 'find');
  const list = page.locator('.room details', { has: page.locator('summary', { hasText: /^Touches \(/ }) });
  await list.locator('summary').first().click();
  const reading = list.locator('li', { has: page.getByRole('button', { name: 'Note', exact: true }) }).first();
  const of = await reading.locator('b').first().innerText();
  await reading.getByRole('button', { name: 'Note', exact: true }).click();
  await list.locator('textarea').fill('The pilot was wiped first.');
  await list.getByText('Keep the note').click();
  await until('the reading says that it has a note', async () => await list.getByRole('button', { name: 'Notes (1)' }).count() === 1);
  // It stands there before the server has it.
  let notes = [];
  await until('the server has both notes', async () => {
    notes = (await entriesOf(page, job)).filter((e) => e.kind === 'note');
    return notes.some((e) => e.values.words === 'The pilot was wiped first.');
  });
  const seat = notes.find((e) => e.values.words === 'Pitted on the port side.'), about = notes.find((e) => e.values.words === 'The pilot was wiped first.');
  check(seat?.valve === valve && seat.values.reading === undefined, `the seat's note is ${JSON.stringify(seat)}`);
  const read = (await entriesOf(page, job)).find((e) => e.id === about?.values.reading);
  check(read?.kind === 'touch' && read.valve === of, `the reading's note is ${JSON.stringify(about)}, of ${JSON.stringify(read)}`);
}

// What is stamped on a head stands beside its number.
async function named(page, server, job) {
  await page.goto(`${server.base}/#/job/${job}/prove/batch`);
  const heads = page.locator('.room details', { has: page.locator('summary', { hasText: 'Heads of this job' }) });
  if (!(await heads.evaluate((d) => d.open))) await heads.locator('summary').click();
  const field = page.getByLabel('Name of head 6', { exact: true });
  await field.fill('KX 4711');
  await field.press('Enter');
  await until('the head is called so', async () => (await page.locator('#head-choice option').allInnerTexts()).some((t) => t.startsWith('6, KX 4711')));
}

// A second backup beside the first copies nothing that is there already; a restore brings the photographs back.
async function backedUp(server) {
  const binary = process.env.SEATWRIGHT ?? new URL('../../build/release/seatwright', import.meta.url).pathname;
  const folder = mkdtempSync(join(tmpdir(), 'seatwright-backup-'));
  try {
    const first = execFileSync(binary, ['backup', '--data', server.dir, '--out', join(folder, 'a.db')], { encoding: 'utf8' });
    check(/Photographs: 2, 2 of them new/.test(first), first);
    const second = execFileSync(binary, ['backup', '--data', server.dir, '--out', join(folder, 'b.db')], { encoding: 'utf8' });
    check(/Photographs: 2, 0 of them new/.test(second), second);
    const back = execFileSync(binary, ['restore', '--from', join(folder, 'b.db'), '--data', join(folder, 'new')], { encoding: 'utf8' });
    check(/Photographs: 2, 2 of them new/.test(back), back);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

// What is no photograph, is too large, or is asked for under another job's number is refused in a sentence.
async function refused(page, job) {
  page.expectsNetworkErrors = true;
  const answers = await page.evaluate(async (id) => {
    const { csrf } = await fetch('/api/session').then((r) => r.json());
    const post = (values, n) => fetch(`/api/jobs/${id}/entries`, { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf },
      body: JSON.stringify({ kind: 'note', head: '6', valve: '', values, units: 'mm', client_key: `notes-test-refused-${n}` }) }).then(async (r) => [r.status, (await r.json()).error]);
    const large = btoa(`\xff\xd8\xff${'x'.repeat(400_100)}\xff\xd9`);
    return [await post({ jpeg: btoa('plain words') }, 1), await post({ jpeg: large }, 2), await post({}, 3), await post({ photograph: '../../etc/passwd' }, 4),
      await fetch(`/api/jobs/${id}/photographs/${'0'.repeat(64)}`).then(async (r) => [r.status, (await r.json()).error])];
  }, job);
  page.expectsNetworkErrors = false;
  check(answers.slice(0, 4).every(([status, words]) => status === 400 && words.length > 10) && answers[4][0] === 404, JSON.stringify(answers));
}

const entriesOf = (page, job) => page.evaluate((id) => fetch(`/api/jobs/${id}/entries`).then((r) => r.json()).then((a) => a.entries.filter((e) => e.live)), job);

// A noisy picture as a camera makes it, an Exif part with a place in it.
async function photograph(page, width, height) {
  const base64 = await page.evaluate(async ([w, h]) => {
    const canvas = Object.assign(document.createElement('canvas'), { width: w, height: h });
    const pen = canvas.getContext('2d');
    for (let i = 0; i < 60_000; ++i) {
      pen.fillStyle = `hsl(${(i * 47) % 360} 70% ${30 + ((i * 13) % 40)}%)`;
      pen.fillRect((i * 7919) % w, (i * 104_729) % h, 9, 9);
    }
    return canvas.toDataURL('image/jpeg', 0.95).split(',')[1];
  }, [width, height]);
  const jpeg = Buffer.from(base64, 'base64');
  const exif = Buffer.from('Exif\0\0MM\0*\0\0\0\x08\0\0GPS 51.5 N 0.1 W camera number 42', 'latin1');
  const part = Buffer.concat([Buffer.from([0xff, 0xe1, (exif.length + 2) >> 8, (exif.length + 2) & 0xff]), exif]);
  return Buffer.concat([jpeg.subarray(0, 2), part, jpeg.subarray(2)]);
}
