// Every room of a job, for heads that are finished, half read, stopped, unread, and of thirty-two valves, on a desk, a tablet
// and a phone, looked at as looked.mjs says; at the desk none is higher than two screens until something is unfolded.
import { contents, Looker, wanted } from './looked.mjs';
import { richJob } from './rich_job.mjs';
import { beginWedge, check, comeIn, made, thirtyTwo } from './steps.mjs';

const rooms = ['hold', 'find', 'shape', 'cut', 'prove/measure', 'prove/head', 'prove/batch', 'forecast', 'data', 'machine'];

export default async function words({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock has few drawings';
  const page = await browser.page();
  await comeIn(page, server.base);
  const wedge = await beginWedge(page);
  const states = [{ name: 'finished', job: wedge, head: '3' }, { name: 'to cut', job: wedge, head: '6' }, { name: 'unread', job: wedge, head: '7' }];
  const rich = await made(page, { from: 'text', text: richJob() });
  states.push({ name: 'much wrong', job: rich, head: '9' });
  const large = await made(page, { from: 'answers', answers: thirtyTwo });
  for (const [i, valve, x] of [[0, '1I1', 0], [1, '8E2', 30], [2, '4I1', 12.9]]) await touch(page, large, '1', valve, x, i);
  states.push({ name: '32 valves', job: large, head: '1' });
  const looker = new Looker(page);
  await page.emulateMedia({ reducedMotion: 'reduce' });
  for (const size of wanted) {
    await page.setViewportSize(size);
    for (const state of states) {
      await page.goto(`${server.base}/#/job/${state.job}/hold`);
      await page.evaluate(([id, head]) => localStorage.setItem(`seatwright.head.${id}`, head), [state.job, state.head]);
      await page.reload();
      await page.locator('.stages').waitFor();
      for (const room of rooms) {
        await page.evaluate((r) => { location.hash = `${location.hash.split('/').slice(0, 3).join('/')}/${r}`; }, room);
        await page.locator(`.room[aria-label=${room.split('/')[0]}]`).waitFor();
        await looker.at(size, `${state.name}, ${room}`, { high: true, whole: room !== 'machine', unfold: room !== 'machine' && /much wrong|32 valves/.test(state.name) });
      }
    }
  }
  contents();
  check(looker.faults.length === 0, `${looker.faults.length}:\n    ${looker.faults.slice(0, 25).join('\n    ')}`);
  check(looker.drawings >= 70 * wanted.length, `only ${looker.drawings} drawings were looked at`);
  return looker.said();
}

function touch(page, job, head, valve, x, i) {
  return page.evaluate(async ([id, h, v, at, n]) => {
    const { csrf } = await fetch('/api/session').then((r) => r.json());
    const state = await fetch(`/api/jobs/${id}/state`).then((r) => r.json());
    const name = state.valves.some((w) => w.id === v) ? v : state.valves[n * 3].id;
    await fetch(`/api/jobs/${id}/entries`, { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': csrf },
      body: JSON.stringify({ kind: 'touch', head: h, valve: name, values: { x: String(at), y: '0' }, units: 'in', client_key: `words-test-of-thirty-two-${n}` }) });
  }, [job, head, valve, x, i]);
}
