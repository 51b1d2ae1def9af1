// "What if": the page asks for the result of a change that is not stored, while something is dragged. One
// question is on its way at a time; of those asked meanwhile only the latest goes out, so that the drawing
// follows the hand and never lags behind a queue.

import { signal, type Signal } from '@preact/signals';
import { post, sentenceOf } from '../api/client';
import type { Edit, Stage, WhatIf } from '../api/types';

export interface Question {
  edits?: Edit[];
  results?: Stage[];
  drawings?: { name: string; query?: Record<string, string | number> }[];
  attitude?: { setup?: string; tilt_deg?: number; swing_deg?: number };
  depths?: Record<string, number>;
  head?: string;
  units?: 'in' | 'mm';
}

export class Asker {
  readonly answer: Signal<WhatIf | null> = signal(null);
  readonly fault = signal<string | null>(null);
  private next: Question | undefined;
  private under = false;
  private era = 0;

  constructor(private readonly job: () => number) {}

  ask(question: Question): void {
    this.next = question;
    if (!this.under) void this.run();
  }

  // Back to what is stored.
  clear(): void {
    this.next = undefined;
    this.era += 1;
    this.answer.value = null;
    this.fault.value = null;
  }

  private async run(): Promise<void> {
    this.under = true;
    while (this.next) {
      const { edits, ...rest } = this.next;
      const question = edits?.length ? { edits, ...rest } : rest; // no edits, no key: an empty list is refused
      this.next = undefined;
      const era = this.era;
      try {
        const answer = await post<WhatIf>(`/jobs/${this.job()}/whatif`, question);
        if (era === this.era) {
          this.answer.value = answer;
          this.fault.value = null;
        }
      } catch (fault) {
        if (era === this.era) this.fault.value = sentenceOf(fault);
      }
    }
    this.under = false;
  }
}
