// What the map of a setup shows: every guide where it is known or expected, what is to be done there, and round it the
// head's outline with bores and posts.

import { readTree, valueAt } from '../../api/tree';
import type { FoundSetup, HeadValve, HoldResult, Setup, Tree } from '../../api/types';
import type { LengthUnit } from '../../numbers/quantity';
import { readoutFrame, type Point } from './frame';

export type Standing = 'open' | 'touched' | 'suspect' | 'cut' | 'measured' | 'fail' | 'undecided' | 'held' | 'idle'; // held: no file has it; idle: not of the file in hand

export interface MapGuide {
  id: string;
  at: Point; // readout, mm
  standing: Standing;
  chance: number | null;
  sd: Point | null; // mm
  off: Point; // touched place less the pattern's, mm
  clearance: number | null; // radius the tip may be off by, mm
  readAt?: Point; // a touch set aside: where it was read
  words?: string; // beside it, in place of its chance
}

export interface MapData { guides: MapGuide[]; outline: Point[]; bores: { at: Point; r: number }[]; holes: Point[]; posts: Point[] }

const margin = 12; // mm of casting beyond its bolt holes

interface Known { held: Setup; found: FoundSetup | undefined; hold: HoldResult | null | undefined; valves: HeadValve[]; tables: Tree | undefined; units: LengthUnit; sure: boolean }

export function mapData(known: Known): MapData {
  const { held, found, valves } = known;
  const placed = held.valves.map((v) => ({ map: v, valve: valves.find((w) => w.id === v.id) })).filter((p) => p.valve !== undefined);
  const headAt = placed.map((p) => ({ x: p.valve!.x_mm, y: p.valve!.y_mm }));
  const toReadout = readoutFrame(headAt, placed.map((p) => ({ x: p.map.x_mm, y: p.map.y_mm })), held.tilt_deg);
  const guides = held.valves.map((v): MapGuide => {
    const g = found?.guides.find((f) => f.id === v.id);
    const aside = found?.set_aside.find((a) => a.valve === v.id);
    const at = g ? { x: g.program_x_mm, y: g.program_y_mm } : { x: v.x_mm, y: v.y_mm };
    return {
      id: v.id, at, chance: known.sure ? g?.enter_probability ?? null : null, clearance: g?.entry_clearance_mm ?? null,
      standing: g?.suspect || aside ? 'suspect' : g?.touched ? 'touched' : 'open',
      sd: g && g.sd_x_mm !== null && g.sd_y_mm !== null ? { x: g.sd_x_mm, y: g.sd_y_mm } : null,
      off: g ? { x: g.x_mm - g.program_x_mm, y: g.y_mm - g.program_y_mm } : { x: 0, y: 0 },
      ...(aside ? { readAt: { x: aside.x_mm, y: aside.y_mm } } : {}),
    };
  });
  const holes = holesOf(known.tables, known.units);
  const { posts } = known.hold ?? {};
  return {
    guides, holes: holes.map(toReadout), outline: outlineOf(holes, valves).map(toReadout),
    bores: boresOf(valves).map((b) => ({ at: toReadout(b.at), r: b.r })),
    posts: posts ? [posts.a_mm, posts.b_mm].map(([x, y]) => toReadout({ x, y })) : [],
  };
}

// The head from above, its seats where the drawing has them: nothing is tilted, nothing is read.
export function planData(hold: HoldResult | null | undefined, valves: HeadValve[], tables: Tree | undefined, units: LengthUnit, standing: (valve: string) => Standing): MapData {
  const holes = holesOf(tables, units);
  const { posts } = hold ?? {};
  return {
    guides: valves.map((v) => ({ id: v.id, at: { x: v.x_mm, y: v.y_mm }, standing: standing(v.id), chance: null, sd: null, off: { x: 0, y: 0 }, clearance: null })),
    holes, outline: outlineOf(holes, valves), bores: boresOf(valves), posts: posts ? [posts.a_mm, posts.b_mm].map(([x, y]) => ({ x, y })) : [],
  };
}

function holesOf(tables: Tree | undefined, units: LengthUnit): Point[] {
  const all = valueAt(tables, 'head.bolt_holes');
  if (!Array.isArray(all)) return [];
  return all.flatMap((h) => {
    const [x, y] = Array.isArray(h) ? h.map((v) => readTree(v, 'length', units)) : [];
    return x == null || y == null ? [] : [{ x, y }];
  });
}

// The box round holes and valves, a little larger.
function outlineOf(holes: Point[], valves: HeadValve[]): Point[] {
  const all = [...holes, ...valves.map((v) => ({ x: v.x_mm, y: v.y_mm }))];
  if (all.length === 0) return [];
  const around = holes.length > 0 ? margin : 3 * margin;
  const xs = all.map((p) => p.x), ys = all.map((p) => p.y);
  const [l, r, b, t] = [Math.min(...xs) - around, Math.max(...xs) + around, Math.min(...ys) - around, Math.max(...ys) + around];
  return [{ x: l, y: b }, { x: r, y: b }, { x: r, y: t }, { x: l, y: t }];
}

// A cylinder's circle: round its valves.
function boresOf(valves: HeadValve[]): { at: Point; r: number }[] {
  const cylinders = [...new Set(valves.map((v) => v.cylinder))];
  const centre = (c: number): Point => {
    const own = valves.filter((v) => v.cylinder === c);
    return { x: own.reduce((s, v) => s + v.x_mm, 0) / own.length, y: own.reduce((s, v) => s + v.y_mm, 0) / own.length };
  };
  const centres = cylinders.map(centre);
  const apart = Math.min(...centres.slice(1).map((c, i) => Math.hypot(c.x - (centres[i]?.x ?? 0), c.y - (centres[i]?.y ?? 0))), 1000);
  const reach = Math.max(...valves.map((v) => Math.hypot(v.x_mm - centre(v.cylinder).x, v.y_mm - centre(v.cylinder).y)), 0);
  const r = centres.length > 1 ? Math.max(0.46 * apart, Math.min(reach * 1.15, 0.49 * apart)) : reach * 1.6;
  return centres.map((at) => ({ at, r }));
}
