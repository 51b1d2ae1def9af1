// What the Forecast room asks the server for, and what it keeps of the last answers for when the server is away.

import { Away, post, serverAway } from '../../api/client';
import type { ForecastResult, Kind, Warning } from '../../api/types';
import { keepAnswer, keptAnswer } from '../../entry/disk';
import { Latest } from '../../state/latest';

export interface Tried {
  post_clearance_mm?: number; touches?: number; heads?: number; change_every?: number; // 0: never
  pilot?: Partial<Record<Kind, string>>; cutter?: Partial<Record<Kind, string>>; gauge?: Partial<Record<Quantity, string>>; // names of the shelf
}
export type Quantity = 'runout' | 'width' | 'stem_height';
export interface Room { spread: number; lower: number; causes: number; changes: number; by_head: number } // mm of paper
export interface ForecastQuestion { units: 'in' | 'mm'; whole: boolean; tried: Tried | null; room: Room }

export interface OnOffer { now: string; of: string[] }
export interface Tryable {
  post_clearance_mm: number | null; touches: number; most_touches: number; heads: number; change_every: number | null; wears: boolean;
  pilots: Partial<Record<Kind, OnOffer>>; cutters: Partial<Record<Kind, OnOffer>>; gauges: Partial<Record<Quantity, OnOffer>>;
}
export interface ForecastAnswer {
  version: number; sequence: number; whole: boolean; result: ForecastResult; sentences: string[]; next: string | null; warnings: Warning[];
  assumptions?: string[];
  cells: { inputs: string[][]; changes: string[][] };
  tryable: Tryable;
  drawings: { spreads: { what: string; kind: Kind; svg: string }[]; causes: string; by_head: string | null; changes: string | null } | null;
}

export class ForecastAsker extends Latest<ForecastQuestion, ForecastAnswer> {
  constructor(job: () => number) {
    super(async (question, gone) => {
      const path = `/jobs/${job()}/forecast`;
      try {
        const answer = await post<ForecastAnswer>(path, question, gone);
        if (question.whole && question.tried === null) keepAnswer(path, answer);
        return answer;
      } catch (fault) {
        const old = fault instanceof Away && serverAway.value ? await keptAnswer<ForecastAnswer>(path) : undefined;
        if (old === undefined) throw fault;
        return old;
      }
    }, (question) => question.whole); // a hand that moves does not wait until everything is told
  }
}
