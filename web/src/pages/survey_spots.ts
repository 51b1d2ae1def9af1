// Where the things of a survey are drawn. Pure: what is placed stands in the head's frame; what is only read stands where
// its setup's readout has it, shifted onto what of that setup is placed.

import { readTree } from '../api/tree';
import type { Survey, SurveyStep, TreeValue } from '../api/types';

export interface Spot {
  name: string;
  kind: 'guide' | 'hole' | 'deck';
  x: number; y: number; // mm
  open: boolean; // not placed yet
  aside: boolean;
  next: boolean;
  ellipse?: { long: number; short: number; turn: number }; // half axes in mm, 95 %; degrees
  lean?: [number, number]; // tangents of cant and incline
}

const of95 = Math.sqrt(5.991); // chi-square of two degrees of freedom

// Half axes of the ellipse that holds 19 times in 20, and the way of the long one.
export function ellipseOf(c: number[][]): { long: number; short: number; turn: number } {
  const [a, b, d] = [c[0]?.[0] ?? 0, c[0]?.[1] ?? 0, c[1]?.[1] ?? 0];
  const mean = (a + d) / 2, off = Math.hypot((a - d) / 2, b);
  return { long: of95 * Math.sqrt(Math.max(0, mean + off)), short: of95 * Math.sqrt(Math.max(0, mean - off)), turn: (Math.atan2(2 * b, a - d) / 2) * (180 / Math.PI) };
}

interface Raw { name: string; kind: Spot['kind']; setup: string; x: number; y: number }

export function spots(survey: Survey, waiting: Record<string, unknown>[], next: SurveyStep | undefined): Spot[] {
  const { found } = survey;
  const asided = new Set(survey.entries.filter((e) => e.set_aside).map((e) => String(e.values['id'])));
  const isNext = (name: string) => next?.id === name;
  const out = new Map<string, Spot>();
  for (const h of found?.holes ?? [])
    if (h.x_mm !== null && h.y_mm !== null) out.set(h.id, { name: h.id, kind: 'hole', x: h.x_mm, y: h.y_mm, open: false, aside: asided.has(h.id), next: isNext(h.id) });
  for (const v of found?.valves ?? [])
    if (v.x_mm !== null && v.y_mm !== null)
      out.set(v.id, {
        name: v.id, kind: 'guide', x: v.x_mm, y: v.y_mm, open: false, aside: asided.has(v.id), next: isNext(v.id),
        ...(v.covariance_mm2 ? { ellipse: ellipseOf(v.covariance_mm2 as number[][]) } : {}),
        ...(v.incline_deg !== null && v.cant_deg !== null ? { lean: [tan(v.cant_deg), tan(v.incline_deg)] as [number, number] } : {}),
      });
  const raw = readAt(survey, waiting);
  const shifts = new Map<string, [number, number]>();
  for (const r of raw) {
    const placed = out.get(r.name);
    if (placed && !placed.open && !shifts.has(r.setup)) shifts.set(r.setup, [placed.x - r.x, placed.y - r.y]);
  }
  for (const r of raw) {
    if (out.has(r.name)) continue;
    const first = raw.find((o) => o.setup === r.setup);
    const [dx, dy] = shifts.get(r.setup) ?? [-(first?.x ?? 0), -(first?.y ?? 0)];
    out.set(r.name, { name: r.name, kind: r.kind, x: r.x + dx, y: r.y + dy, open: r.kind !== 'deck', aside: asided.has(r.name), next: isNext(r.name) });
  }
  return [...out.values()];
}

const tan = (deg: number) => Math.tan((deg * Math.PI) / 180);

// Every place read with X and Y, in mm as its readout has it.
function readAt(survey: Survey, waiting: Record<string, unknown>[]): Raw[] {
  const mm = (v: unknown) => readTree(v as TreeValue, 'length', survey.units) ?? NaN;
  const points = [...survey.entries.filter((e) => e.live && e.kind === 'point').map((e) => e.values),
    ...waiting.filter((b) => b['kind'] === 'point' && b['withdrawn'] !== true).map((b) => b['values'] as Record<string, unknown>)];
  let places = 0;
  return points.flatMap((v) => {
    const kind: Spot['kind'] = v['what'] === 'guide' || v['what'] === 'seat' ? 'guide' : v['what'] === 'hole' ? 'hole' : 'deck';
    const [x, y] = [mm(v['x']), mm(v['y'])];
    if (Number.isNaN(x) || Number.isNaN(y)) return [];
    // Places on the deck are drawn for the setup it lies level in.
    if (kind === 'deck' && v['setup'] !== 'L') return [];
    return [{ name: kind === 'deck' ? `deck ${++places}` : String(v['id']), kind, setup: String(v['setup']), x, y }];
  });
}
