// Which things of the shelf fit a seat: asked of a job, of its intake or exhaust seats. The planner says it; nothing is judged
// here.

import { get } from '../api/client';
import { readTree, valueAt } from '../api/tree';
import type { Job, Kind, State, Tree } from '../api/types';
import type { SeatOutline } from '../parts/shelf_pictures';

export interface Fit { fits: boolean; words: string }
export interface Asked {
  title: string;
  kind: Kind;
  of: (sort: string, name: string) => Fit | null; // null: the planner says nothing of it
  seat: SeatOutline | undefined;
  guide: { bore: number; length: number } | undefined;
  head: { hole: number; apart: number } | undefined;
}

export async function askJob(id: number, kind: Kind): Promise<Asked> {
  const [job, state] = await Promise.all([get<Job>(`/jobs/${id}`), get<State>(`/jobs/${id}/state`)]);
  return fitsOf(job, state, kind);
}

export function fitsOf(job: Job, state: State, kind: Kind): Asked {
  const { hold, find, shape } = state.results;
  const valves = new Set(state.valves?.filter((v) => v.kind === kind).map((v) => v.id));
  const seats = shape?.seats.filter((s) => valves.has(s.id)) ?? [];
  const pilots = (find?.heads.find((h) => h.head === state.head)?.pilots ?? find?.pilots ?? []).filter((p) => valves.has(p.valve));
  const figure = (key: string, quantity: 'length' | 'angle' = 'length') => readTree(valueAt(job.tables, key), quantity, job.units);
  const names = (all: { id: string }[]) => (all.length === valves.size ? 'every seat' : all.map((s) => s.id).join(', '));
  const of = (sort: string, name: string): Fit | null => {
    if (sort === 'cutter') {
      const cuts = seats.filter((s) => s.cutter === name);
      if (cuts.length > 0) return { fits: true, words: `Makes the ${kind} form: ${names(cuts)}.` };
      const near = shape?.near_misses.find((m) => m.kind === kind && m.cutter === name);
      return seats.length === 0 ? null : { fits: false, words: near ? `Nearly: ${near.why}.` : `Does not make the ${kind} form.` };
    }
    if (sort === 'pilot') {
      const own = pilots.filter((p) => p.pilot === name).map((p) => ({ id: p.valve }));
      return pilots.length === 0 ? null : own.length > 0 ? { fits: true, words: own.length === valves.size ? `Every ${kind} guide takes it.` : `${own.length > 1 ? 'Guides' : 'Guide'} ${own.map((p) => p.id).join(', ')} ${own.length > 1 ? 'take' : 'takes'} it.` } : { fits: false, words: 'No guide takes it.' };
    }
    if (sort === 'fixture') {
      const f = hold?.fixtures.find((x) => x.name === name);
      return f ? { fits: f.fits, words: f.fits ? (f.best ? 'Holds this head, and suits it best.' : 'Holds this head.') : f.why } : null;
    }
    return null;
  };
  const bore = figure(`guide.${kind}.bore`), length = figure(`guide.${kind}.length`), hole = figure('head.bolt_hole_diameter');
  const apart = hold?.posts?.span_mm;
  return {
    title: job.title, kind, of, seat: outline(job.tables, kind, figure),
    guide: bore !== null && length !== null ? { bore, length } : undefined,
    head: hole !== null && apart != null ? { hole, apart } : undefined,
  };
}

// The facets of the seat from throat to top, as the job has them.
function outline(tables: Tree | undefined, kind: Kind, figure: (key: string, quantity?: 'length' | 'angle') => number | null): SeatOutline | undefined {
  const count = (side: string) => { const list = valueAt(tables, `seat.${kind}.${side}`); return Array.isArray(list) ? list.length : 0; };
  const keys = [...Array.from({ length: count('throat') }, (_, i) => `seat.${kind}.throat[${i}]`).reverse(), `seat.${kind}`, ...Array.from({ length: count('top') }, (_, i) => `seat.${kind}.top[${i}]`)];
  const facets = keys.map((k) => ({ angle: figure(`${k}.angle`, 'angle'), width: figure(`${k}.width`) }));
  const face = figure(`seat.${kind}.angle`, 'angle') ?? 45;
  if (figure(`seat.${kind}.width`) === null) return undefined;
  return { face, facets: facets.map((f) => ({ angle: f.angle ?? face, width: f.width ?? 0 })).filter((f) => f.width > 0) };
}
