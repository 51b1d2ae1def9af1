// A stand-in for the server, for working on the pages alone: the contract's shapes, an invented head, nothing
// kept. Results are made up; only the shape of the answers is meant. Usage: node mock/server.mjs PORT
import http from 'node:http';
import { readFile } from 'node:fs/promises';
import { extname, join, normalize } from 'node:path';
import { drawings } from './drawings.mjs';
import { results, valves } from './results.mjs';

const port = Number(process.argv[2] ?? 8080);
const dist = new URL('../dist/', import.meta.url).pathname;
const now = () => new Date().toISOString();
const store = { owner: null, signedIn: false, jobs: [], listeners: [] };
const csp = "default-src 'self'; object-src 'none'; base-uri 'none'; frame-ancestors 'none'; form-action 'self'";

const session = () => ({
  first_start: store.owner === null, person: store.signedIn ? { id: 1, name: store.owner, role: 'lead', owner: true, active: true } : null,
  csrf: store.signedIn ? 'token' : null, version: 'mock', listening: 'loopback', warning: null,
});
const tables = () => ({
  title: 'Wedge head, invented', units: 'in', head: { name: 'wedge, invented', material: 'grey iron', mass: '21 kg',
    pattern: { cylinders: 4, bore_spacing: 4.4, alternate: 'mirrored', valve: [{ kind: 'exhaust', x: -0.85, y: 0.15, z: -0.35, incline: 19.5 }, { kind: 'intake', x: 0.85, y: 0.15, z: -0.35, incline: 19.5 }] } },
  valve: { intake: { head_diameter: 1.94, face_angle: 45 }, exhaust: { head_diameter: 1.5, face_angle: 45 } },
  seat: Object.fromEntries(['intake', 'exhaust'].map((k) => [k, { angle: 45, width: 0.06, inset: 0.02, top: [{ angle: 30, width: 0.04 }], throat: [{ angle: 60, width: '1.2 mm' }], width_tol: 0.01, runout_max: 0.002 }])),
  find: { touch_sd: '0.0008 in', casting_sd: '0.003 in' },
});
function newJob(title) {
  const job = { id: store.jobs.length + 1, title, version: 1, tables: tables(), entries: [], history: [], done: {} };
  store.jobs.push(job);
  return job;
}
const touched = (job) => job.entries.filter((e) => e.live && e.kind === 'touch').map((e) => e.valve);
const measured = (job) => job.entries.filter((e) => e.live && e.kind === 'proof');
function marks(job) {
  const of = (stage, ready) => (job.done[stage] ? 'done' : ready);
  return { hold: of('hold', 'ready'), find: of('find', touched(job).length > 3 ? 'ready' : 'needs you'), shape: of('shape', 'ready'),
    cut: of('cut', 'ready'), prove: of('prove', measured(job).length === 0 ? 'open' : 'ready') };
}
const card = (job) => ({ id: job.id, title: job.title, head: 'wedge, invented', valves: 8, units: 'in', version: job.version, sequence: job.entries.length,
  created_at: now(), changed_at: now(), changed_by: store.owner, archived: false, marks: marks(job), next: touched(job).length > 3 ? 'Cut setup A, 8 seats.' : 'Touch three more guides.' });
const full = (job) => ({ ...card(job), text: '# the mock keeps no text\n', shop: 'shelf', tables: job.tables, undo_to: job.history.length ? job.version - 1 : null, redo_to: null });
function state(job) {
  const m = marks(job);
  const line = { hold: 'Tilt 19.50°, posts 17.56 in apart', find: `${touched(job).length} of 8 guides touched, least chance to enter 99.2 %`, shape: 'Deepest cut 0.0118 in at 3E', cut: '8 seats in 12 min 34 s', prove: `${measured(job).length} of 8 seats measured` };
  return { job: card(job), heads: ['1'], head: '1', stages: Object.fromEntries(Object.keys(m).map((s) => [s, { mark: m[s], line: line[s], needs: [] }])),
    results: results(touched(job), measured(job)), valves, conflicts: [], overrides: [], faults: [],
    warnings: [{ stage: 'hold', code: 'tilt back', valve: null, text: 'The head (21 kg) slides when released: tilt it back before the clamps are opened, load from the back.', blocking: false },
      { stage: 'find', code: 'suspect', valve: '2I', text: 'reads 0.0124 in off what the other guides say; it is set aside until you decide.', blocking: true }],
    drawings: drawings.list };
}
function setKey(tree, key, value) {
  const parts = key.split(/[.[\]]+/).filter(Boolean);
  let at = tree;
  for (const p of parts.slice(0, -1)) at = at[p] ??= {};
  at[parts.at(-1)] = value;
}
function tell(name, data) {
  for (const res of store.listeners) res.write(`event: ${name}\ndata: ${JSON.stringify(data)}\n\n`);
}

const routes = [
  ['GET', /^\/session$/, () => session()],
  ['POST', /^\/owner$/, (_, b) => { store.owner = b.name; store.signedIn = true; return [201, session()]; }],
  ['POST', /^\/session$/, () => { store.signedIn = true; return session(); }],
  ['DELETE', /^\/session$/, () => { store.signedIn = false; return [204]; }],
  ['GET', /^\/jobs$/, () => ({ jobs: store.jobs.map(card) })],
  ['POST', /^\/jobs$/, (_, b) => [201, full(newJob(b.title ?? b.answers?.title ?? 'Wedge head, invented'))]],
  ['GET', /^\/examples$/, () => ({ examples: [{ name: 'wedge', title: 'Wedge head for irrigation pumps, invented' }] })],
  ['POST', /^\/preview$/, () => ({ text: '', svg: drawings.draw('plan', {}), faults: [] })],
  ['GET', /^\/jobs\/(\d+)$/, (j) => full(j)],
  ['GET', /^\/jobs\/(\d+)\/entries$/, (j) => ({ entries: j.entries, conflicts: [], sequence: j.entries.length })],
  ['GET', /^\/jobs\/(\d+)\/state$/, (j) => state(j)],
  ['GET', /^\/jobs\/(\d+)\/versions$/, (j) => ({ versions: [{ version: j.version, by: store.owner, at: now(), what: 'made' }] })],
  ['POST', /^\/jobs\/(\d+)\/entries$/, (j, b) => {
    const same = j.entries.find((e) => e.client_key === b.client_key);
    if (same) return same;
    const entry = { id: j.entries.length + 1, sequence: j.entries.length + 1, place: `${b.kind}/${b.head}/${b.valve}`, by: store.owner, at: now(), live: !b.withdrawn, ...b };
    const before = j.entries.find((e) => e.id === b.corrects);
    if (before) before.live = false;
    j.entries.push(entry);
    if (b.kind === 'done') j.done[b.values.stage] = b.values.done;
    tell('entry', entry);
    tell('job', { job: j.id });
    return [201, entry];
  }],
  ['POST', /^\/jobs\/(\d+)\/edits$/, (j, b) => {
    if (b.version !== j.version) return [409, { error: 'The job has moved on.', version: j.version }];
    j.history.push(structuredClone(j.tables));
    for (const e of b.edits) setKey(j.tables, e.key, e.value);
    j.version += 1;
    tell('version', { version: j.version });
    return full(j);
  }],
  ['POST', /^\/jobs\/(\d+)\/undo$/, (j) => { j.tables = j.history.pop() ?? j.tables; j.version += 1; tell('version', {}); return full(j); }],
  ['POST', /^\/jobs\/(\d+)\/whatif$/, (j, b) => ({ version: j.version, sequence: 0, results: results(touched(j), measured(j), b.attitude?.tilt_deg), stages: {}, warnings: [], faults: [],
    drawings: Object.fromEntries((b.drawings ?? []).map((d) => [d.name, drawings.draw(d.name, { ...d.query, ...b.attitude })])) })],
  ['GET', /^\/jobs\/(\d+)\/why\/(\w+)$/, (_, __, m) => ({ stage: m[2], reasons: [{ key: 'tilt_deg', says: 'The tilt that stands every guide upright.', formula: 'tilt = atan2(a_y, hypot(a_x, a_z))', source: 'compound-angle rule' }] })],
  ['GET', /^\/shelf$/, () => ({ version: 1, text: '', tables: { machine: [{ name: 'invented machine', travel_x: '900 mm', resolution: '0.001 mm' }], pilot: [{ name: '8.71', style: 'fixed', diameter: '8.71 mm' }] } })],
  ['GET', /^\/ledger$/, () => ({ lines: [{ id: 1, at: now(), by: store.owner, what: 'Made the job.', job: 1, job_title: 'Wedge head, invented' }], before: null })],
  ['GET', /^\/people$/, () => ({ people: [session().person] })],
];

async function api(req, res, url) {
  const path = url.pathname.slice(4);
  if (path === '/events' || /^\/jobs\/\d+\/events$/.test(path)) {
    res.writeHead(200, { 'Content-Type': 'text/event-stream', 'Cache-Control': 'no-store' }).write(': here\n\n');
    store.listeners.push(res);
    req.on('close', () => { store.listeners = store.listeners.filter((r) => r !== res); });
    return;
  }
  const drawing = /^\/jobs\/\d+\/drawings\/([\w-]+)\.svg$/.exec(path);
  if (drawing) return res.writeHead(200, { 'Content-Type': 'image/svg+xml' }).end(drawings.draw(drawing[1], Object.fromEntries(url.searchParams)));
  if (/\/papers\//.test(path)) return res.writeHead(200, { 'Content-Type': 'text/plain' }).end('(a program of the mock)\nG21 G90\nM30\n');
  let text = '';
  for await (const chunk of req) text += chunk;
  const body = text === '' ? {} : JSON.parse(text);
  for (const [method, pattern, act] of routes) {
    const m = pattern.exec(path);
    if (!m || method !== req.method) continue;
    const answer = act(store.jobs[Number(m[1]) - 1], body, m);
    const [status, json] = Array.isArray(answer) ? answer : [200, answer];
    return res.writeHead(status, { 'Content-Type': 'application/json' }).end(json === undefined ? '' : JSON.stringify(json));
  }
  res.writeHead(404, { 'Content-Type': 'application/json' }).end(JSON.stringify({ error: `The mock has no ${req.method} ${path}.` }));
}

const types = { '.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.svg': 'image/svg+xml' };
http.createServer(async (req, res) => {
  const url = new URL(req.url, 'http://localhost');
  res.setHeader('Content-Security-Policy', csp);
  if (url.pathname.startsWith('/api/')) return api(req, res, url);
  const file = normalize(url.pathname === '/' ? '/index.html' : url.pathname);
  try {
    res.writeHead(200, { 'Content-Type': types[extname(file)] ?? 'application/octet-stream' }).end(await readFile(join(dist, file)));
  } catch {
    res.writeHead(404).end();
  }
}).listen(port, '127.0.0.1', () => console.log(`mock on http://127.0.0.1:${port}`));
