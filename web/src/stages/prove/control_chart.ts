// A characteristic over the heads against what it did so far (centre, control limits) and against the drawing's limits; a
// head with a signal stands out, a changed cutter is an upright, and a point opens its head.

import type { BatchLine } from '../../api/types';
import { factorOf, pageUnit } from '../../numbers/quantity';
import type { PlotData } from '../../parts/plot';
import { chooseHead, job, shown } from '../../state/open_job';
import { go, jobAddress } from '../../state/route';
import { quantityOf } from './against';

// In the unit shown, one place more than sizes have: means move less than readings.
export function inUnit(line: Pick<BatchLine, 'what'>) {
  const quantity = quantityOf(line.what);
  const unit = pageUnit(quantity, shown.value);
  const factor = factorOf(quantity, unit)?.factor ?? 1;
  const places = quantity === 'vacuum' ? 2 : shown.value === 'in' ? 5 : 4;
  const of = (v: number | null | undefined) => (v == null ? null : Number((v / factor).toFixed(places + 1)));
  return { unit, of, say: (v: number | null) => (v === null ? '–' : `${v.toFixed(places).replace('-', '−')} ${unit}`) };
}

const opens = (heads: string[]) => (i: number) => {
  const head = heads[i];
  if (head === undefined || !job.value) return;
  chooseHead(head);
  go(`${jobAddress(job.value.id, 'prove')}/head`);
};

const named = (of: (v: number | null) => number | null, all: [string, number | null][]) =>
  all.flatMap(([name, v]) => { const value = of(v); return value === null ? [] : [{ name, value }]; });

// A line with its points; the state of one head is without them.
export type ChartLine = BatchLine & Required<Pick<BatchLine, 'heads' | 'points' | 'spreads' | 'breaks'>>;
export const hasPoints = (line: BatchLine): line is ChartLine => line.points !== undefined && line.heads !== undefined && line.spreads !== undefined && line.breaks !== undefined;

export function levelsOf(line: ChartLine): PlotData {
  const { unit, of, say } = inUnit(line);
  const signalled = new Set(line.signals.map((s) => s.head));
  const seen = [...line.points, line.lower, line.upper].filter((v) => v !== null);
  const span = Math.max(...seen) - Math.min(...seen);
  // A limit far outside would flatten the points; the histogram over it has it.
  const near = (v: number | null) => (v !== null && line.centre !== null && Math.abs(v - line.centre) <= 1.5 * span ? v : null);
  return {
    name: `${line.what}-${line.kind}`.replaceAll(' ', '-'), title: `${line.what}, ${line.kind} seats, over the heads`, over: 'head', along: line.heads, unit, say,
    lines: [{ name: line.what, values: line.points.map(of), joined: true }],
    levels: named(of, [['upper control limit', line.upper], ['centre', line.centre], ['lower control limit', line.lower]]),
    limits: named(of, [['at most', near(line.limit_high)], ['at least', near(line.limit_low)]]),
    breaks: line.breaks, attention: (i) => signalled.has(line.heads[i] ?? ''), pick: opens(line.heads),
  };
}

export function spreadsOf(line: ChartLine): PlotData {
  const { unit, of, say } = inUnit(line);
  return {
    name: `${line.what}-${line.kind}-spread`.replaceAll(' ', '-'), title: `spread of ${line.what}, ${line.kind} seats`, over: 'head', along: line.heads, unit, say, fromZero: true, low: true,
    lines: [{ name: 'spread', values: line.spreads.map(of), joined: true }],
    levels: named(of, [['upper control limit', line.spread_upper], ['centre', line.spread_centre]]),
    limits: [], breaks: line.breaks, attention: (i) => (line.spreads[i] ?? 0) > (line.spread_upper ?? Infinity), pick: opens(line.heads),
  };
}
