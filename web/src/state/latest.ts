// Questions asked while something is dragged. One is on its way at a time; of those asked meanwhile only the latest goes
// out, so that what is shown follows the hand and never lags behind a queue.

import { signal, type Signal } from '@preact/signals';
import { sentenceOf } from '../api/client';

export class Latest<Asked, Answer> {
  readonly answer: Signal<Answer | null> = signal(null);
  readonly fault = signal<string | null>(null);
  private next: Asked | undefined;
  private under = false;
  private era = 0;

  constructor(private readonly send: (question: Asked) => Promise<Answer>) {}

  ask(question: Asked): void {
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
    while (this.next !== undefined) {
      const question = this.next;
      this.next = undefined;
      const era = this.era;
      try {
        const answer = await this.send(question);
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
