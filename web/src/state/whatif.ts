// "What if": the page asks for the result of a change that is not stored, while something is dragged.

import { post } from '../api/client';
import type { Edit, Stage, WhatIf } from '../api/types';
import { Latest } from './latest';

export interface Question {
  edits?: Edit[];
  results?: Stage[];
  drawings?: { name: string; query?: Record<string, string | number> }[];
  attitude?: { setup?: string; tilt_deg?: number; swing_deg?: number };
  depths?: Record<string, number>;
  head?: string;
  units?: 'in' | 'mm';
}

export class Asker extends Latest<Question, WhatIf> {
  constructor(job: () => number) {
    super(({ edits, ...rest }) => post<WhatIf>(`/jobs/${job()}/whatif`, edits?.length ? { edits, ...rest } : rest)); // no edits, no key: an empty list is refused
  }
}
