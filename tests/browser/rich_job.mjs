// A job in which every sort of trouble stands: the wedge example's head with readings of our own, invented for the
// test. Head 9 is on the machine: a touch that is off, two touches nobody named, a level reading that differs,
// a bell-mouthed guide, a seat beyond its limit; three of its seats have been cut and measured, one chattered.
import { readFileSync } from 'node:fs';

const example = readFileSync(new URL('../../examples/wedge/job.toml', import.meta.url), 'utf8');
const step = 4.4; // in, from cylinder to cylinder

// Runout traces in inch, 72 readings: off the axis; an oval; chatter of 24 marks.
const trace = (of) => `[${Array.from({ length: 72 }, (_, i) => of((i * Math.PI) / 36).toFixed(6)).join(', ')}]`;

const touches = [
  ['1E', 0, 0], ['2E', step, 0.0004], ['3E', 2 * step, -0.0005], ['4E', 3 * step, 0.0003], ['2I', step + 1.88, 0.0006],
  ['4I', 3 * step + 1.88, 0.041], ['?', 1.8804, 0.0004], ['?', 2 * step + 1.8797, 0.0002],
].map(([valve, x, y]) => `[[reading.touch]]\nhead = "9"\nvalve = "${valve}"\nx = ${x}\ny = ${y}`);

const levels = [['1E', 0.10, -0.06], ['2E', 0.11, -0.07], ['3E', 0.10, -0.06], ['4E', 0.28, -0.24], ['4I', 0.10, -0.06]]
  .map(([valve, first, second]) => `[[reading.level]]\nhead = "9"\nvalve = "${valve}"\nfirst = ${first}\nsecond = ${second}`);

const guides = [['1E', 0.3440, 0.3440, 0.3441], ['1I', 0.3462, 0.3441, 0.3463], ['2E', 0.3480, 0.3479, 0.3478]]
  .map(([valve, ...bore]) => `[[reading.guide]]\nhead = "9"\nvalve = "${valve}"\ntop = ${bore[0]}\nmiddle = ${bore[1]}\nbottom = ${bore[2]}`);

const seats = ['1E', '1I', '2E', '2I', '3E', '3I', '4E', '4I'].map((valve, i) => `[[reading.seat]]
head = "9"
valve = "${valve}"
stem_height = ${(1.9 + 0.0005 * i).toFixed(4)}
recession = ${valve === '3I' ? 0.043 : 0.010}
cleanup = ${valve === '3I' ? 0.012 : 0.005}
chamber = "${(64 + 0.1 * i).toFixed(1)} cm3"`);

const proofs = [
  ['1E', 0.0003, 0, 0, 0.0755, 25], ['1I', 0.00015, 0.0009, 0, 0.0601, 22], ['2E', 0.0001, 0, 0.0004, 0.0748, 26],
].map(([valve, off, oval, chatter, width, vacuum]) => `[[reading.proof]]
head = "9"
valve = "${valve}"
trace = ${trace((a) => off * Math.cos(a - 0.9) + oval * Math.cos(2 * a) + chatter * Math.cos(24 * a))}
width = [${width}]
stem_height = 1.905
vacuum = "${vacuum} inHg"
vacuum_after = "${vacuum - 2} inHg"
vacuum_seconds = 20
by = "A. Turner"
gauge = "lever indicator 4"
calibrated = "2026-01-12"
gauge_u = 0.00005
date = "2026-03-02"`);

const bare = example.slice(0, example.indexOf('[[reading.'));

// Six heads that leave the drawing alike, by thousandths of an inch, and head 7, which leaves it in another way.
export function sevenHeads() {
  const guides = ['1E', '1I', '2E', '2I', '3E', '3I', '4E', '4I'];
  const alike = (g) => [0.003 * Math.cos(1.7 * g), 0.003 * Math.sin(2.9 * g)];
  const foreign = (g) => [0.03 * Math.sin(2.3 * g), 0.03 * Math.cos(3.1 * g)];
  const place = (g) => [step * Math.floor(g / 2) + (g % 2) * 1.88, 0];
  const all = [1, 2, 3, 4, 5, 6, 7].flatMap((head) => guides.map((valve, g) => {
    const off = head === 7 ? foreign(g) : alike(g);
    const own = [0.0004 * Math.sin(7 * g + 3 * head), 0.0004 * Math.cos(5 * g + 11 * head)];
    const [x, y] = [0, 1].map((i) => (place(g)[i] + off[i] + own[i]).toFixed(4));
    return `[[reading.touch]]\nhead = "${head}"\nvalve = "${valve}"\nx = ${x}\ny = ${y}`;
  }));
  return [bare.replace(/^title = .*$/m, 'title = "Seven heads, one of them foreign"'), ...all].join('\n\n');
}

export function richJob() {
  const head = bare.replace(/^title = .*$/m, 'title = "Head 9, where much is wrong"')
    .replace('[guide.intake]', '[seat.exhaust.insert]\noutside = 1.63\ninside = 1.30\ndepth = 0.25\nmaterial = "sintered iron"\n\n[guide.intake]');
  return [head, ...touches, ...levels, ...guides, ...seats, ...proofs].join('\n\n');
}
