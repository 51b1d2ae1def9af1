// Figures no person gave: a question or a template put them in so that the head could be drawn. They stand dashed until
// somebody types them or says that they are right; nothing is written for the machine before.

import { valueAt } from '../api/tree';
import type { Job } from '../api/types';
import { job } from './open_job';

// The keys of the job file that hold such figures: the server's list, of all that was put in.
export function madeUp(here: Job | null = job.value): string[] {
  const all = valueAt(here?.tables, 'head.assumed');
  return Array.isArray(all) ? all.map(String) : [];
}

// Whether the figure at a key is one of them, or stands in one: "head.bolt_holes[3]" of "head.bolt_holes".
export const isMadeUp = (at: string) => madeUp().some((m) => at === m || at.startsWith(`${m}.`) || at.startsWith(`${m}[`));

// Whether a figure stands on one of them: "head.bolt_holes" of "head.bolt_holes[3].x".
export const standsOnMadeUp = (...keys: string[]) => madeUp().some((m) => keys.some((k) => k.startsWith(m) || m.startsWith(k)));
