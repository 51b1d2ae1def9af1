// A head on a machine, read by plain sines and cosines: what the person of survey_test types. Invented.
const rad = Math.PI / 180;

// Even numbers between 0 and 1, the same in every run.
function random(seed) {
  let s = seed;
  return () => { s = (s * 1664525 + 1013904223) % 4294967296; return s / 4294967296; };
}

export class Shop {
  constructor() {
    const next = random(20260131);
    this.normal = (sd) => sd * Math.sqrt(-2 * Math.log(next() + 1e-12)) * Math.cos(2 * Math.PI * next());
    this.zero = 0.21; // of the sensor
    this.guides = [];
    for (let k = 1; k <= 4; ++k)
      for (const [kind, y, incline, x] of [['I', 26, -31, 4], ['E', -26, 33, -4]])
        this.guides.push({ id: `${k}${kind}`, at: [(k - 1) * 104 + x, y, -14], incline: incline + this.normal(0.03) });
    this.origin = 0; // mean of the first cylinder's guides
    this.holes = { H1: [-52, -48, 0], H2: [364, -48, 0] };
    this.setups = { L: this.placed(-0.4, 0.2) };
  }

  placed(tilt, swing) {
    return { tilt, swing, yaw: this.normal(0.1), shift: [this.normal(40), this.normal(40), this.normal(40)] };
  }

  turned(a, p) {
    const [s, t, y] = [a.swing * rad, a.tilt * rad, a.yaw * rad];
    const q = [p[0] * Math.cos(s) + p[2] * Math.sin(s), p[1], -p[0] * Math.sin(s) + p[2] * Math.cos(s)];
    const r = [q[0], q[1] * Math.cos(t) - q[2] * Math.sin(t), q[1] * Math.sin(t) + q[2] * Math.cos(t)];
    return [r[0] * Math.cos(y) - r[1] * Math.sin(y), r[0] * Math.sin(y) + r[1] * Math.cos(y), r[2]];
  }

  place(setup, p, axes) {
    const a = this.setups[setup];
    const r = this.turned(a, p).map((v, i) => v + a.shift[i] + this.normal(0.015));
    return Object.fromEntries([...axes].map((axis) => [axis, r['xyz'.indexOf(axis)]]));
  }

  lean(setup, axis, across) {
    const v = this.turned(this.setups[setup], axis);
    const lean = Math.atan2(across === 'incline' ? v[1] : v[0], v[2]) / rad;
    return { first: lean + this.zero + this.normal(0.015), second: -lean + this.zero + this.normal(0.015) };
  }

  // To a step by its key, as "hole/A/H1", and what it says.
  answer(key, sentence) {
    const [of, setup, id, last] = key.split('/');
    const guide = (name) => this.guides.find((g) => g.id === name);
    const axisOf = (g) => { const y = Math.tan(g.incline * rad); const n = Math.hypot(y, 1); return [0, y / n, 1 / n]; };
    switch (of) {
      case 'deck level': return this.lean('L', [0, 0, 1], id);
      case 'guide level': return this.lean(setup, axisOf(guide(id)), last);
      case 'deck': return { ...this.place(setup, { 1: [0, -20, 3], 2: [300, -20, 3], 3: [150, 40, 3] }[id], 'xyz'), ball: 3 };
      case 'hole': return { ...this.place(setup, [this.holes[id][0], this.holes[id][1], Math.sqrt(100 - 6.75 ** 2)], 'xyz'), ball: 10, diameter: 13.5 };
      case 'setup': {
        const g = guide(/pilot in (\w+)/.exec(sentence)[1]);
        this.setups[setup] = this.placed(g.incline + this.normal(0.02), this.normal(0.02));
        return { tilt: this.setups[setup].tilt + this.zero + this.normal(0.015), swing: this.setups[setup].swing + this.zero + this.normal(0.015) };
      }
      case 'guide': return this.place(setup, guide(id).at, 'xy');
      case 'valve head': {
        const g = guide(id), a = axisOf(g);
        return { ...this.place(setup, g.at.map((v, i) => v + 2.4 * a[i]), 'z'), head_height: 2.4 };
      }
      case 'size': return { value: { bore: 8.02, stem: 7.97, 'valve head': setup.endsWith('I') ? 46 : 39, 'guide length': 54, 'to seat': 40 }[id] };
      default: throw new Error(`nobody knows ${key}`);
    }
  }
}

// A survey by the interface: what the server makes of it; an entry; a new one of four cylinders.
export const state = (page, id) => page.evaluate((n) => fetch(`/api/surveys/${n}`).then((r) => r.json()), id);

export const post = (page, path, body) => page.evaluate(async ([to, what]) => {
  const session = await fetch('/api/session').then((r) => r.json());
  const answer = await fetch(to, { method: 'POST', headers: { 'Content-Type': 'application/json', 'X-CSRF-Token': session.csrf }, body: JSON.stringify(what) });
  if (!answer.ok) throw new Error(await answer.text());
  return answer.json();
}, [path, body]);

export const begun = async (page, title) => (await post(page, '/api/surveys', { client_key: title, title, units: 'mm', values: { cylinders: 4 } })).id;

// What is asked first is answered, over the interface, until it is what `stop` waits for or nothing is asked any more.
export async function answered(page, id, shop, stop, spoil = (_, values) => values) {
  for (let n = 0; n < 200; ++n) {
    const now = await state(page, id);
    const step = now.steps[0];
    if (!step || stop(step)) return now;
    if (['way', 'end'].includes(step.of)) throw new Error(`${step.key} is asked`);
    const values = spoil(step, shop.answer(step.key, step.sentence));
    const what = step.of === 'deck level' ? 'deck' : step.of === 'guide level' ? 'guide' : step.of;
    const about = step.of === 'setup' ? { setup: step.setup, id: step.id } : step.of === 'size' ? { what: step.size, id: step.id }
      : { setup: step.setup, what, ...(step.id !== null && what !== 'deck' ? { id: step.id } : {}), ...(step.across ? { across: step.across } : {}) };
    const kind = ['setup', 'size'].includes(step.of) ? step.of : /level/.test(step.of) ? 'level' : 'point';
    await post(page, `/api/surveys/${id}/entries`, { client_key: `${id}-${n}-${step.key}-${Math.random()}`, kind, values: { ...about, ...values } });
  }
  throw new Error('the survey never ends');
}
