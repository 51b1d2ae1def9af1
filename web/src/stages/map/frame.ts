// From the head's own frame to the readout of a setup, as far as the outline, bores and posts round the guides need it: a
// scale and sign for each axis and the datum guide's place, fitted to the guides themselves (the deck stands tilted, so
// what lies square to it on paper is shorter in the readout).

export interface Point { x: number; y: number }
export type ToReadout = (p: Point) => Point;

export function readoutFrame(head: Point[], readout: Point[], tiltDeg: number): ToReadout {
  const fallback = { x: 1, y: Math.cos((tiltDeg * Math.PI) / 180) };
  const x = alongOne(head.map((p) => p.x), readout.map((p) => p.x), fallback.x);
  const y = alongOne(head.map((p) => p.y), readout.map((p) => p.y), fallback.y * Math.sign(x.scale || 1));
  return (p) => ({ x: x.at + x.scale * p.x, y: y.at + y.scale * p.y });
}

const flat = 1; // mm: guides of one row say nothing of the scale across it

// Least squares of to = at + scale · from.
function alongOne(from: number[], to: number[], otherwise: number): { at: number; scale: number } {
  const n = Math.max(from.length, 1);
  const mean = (v: number[]) => v.reduce((a, b) => a + b, 0) / n;
  const [mf, mt] = [mean(from), mean(to)];
  const spread = from.reduce((s, f) => s + (f - mf) ** 2, 0);
  const both = from.reduce((s, f, i) => s + (f - mf) * ((to[i] ?? mt) - mt), 0);
  const scale = spread < flat * flat * n ? otherwise : both / spread;
  return { at: mt - scale * mf, scale };
}
