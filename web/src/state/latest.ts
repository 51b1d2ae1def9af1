// Questions asked while something is dragged. One is on its way at a time; of those asked meanwhile only the latest goes
// out, so that what is shown follows the hand and never lags behind a queue. A long question gives way: it is taken back
// when another is asked.

import { signal, type Signal } from '@preact/signals';
import { sentenceOf } from '../api/client';

export class Latest<Asked, Answer> {
  readonly answer: Signal<Answer | null> = signal(null);
  readonly fault = signal<string | null>(null);
  private next: Asked | undefined;
  private under: { question: Asked; gone: AbortController } | undefined;
  private era = 0;

  constructor(
    private readonly send: (question: Asked, gone: AbortSignal) => Promise<Answer>,
    private readonly givesWay: (question: Asked) => boolean = () => false,
  ) {}

  ask(question: Asked): void {
    this.next = question;
    if (!this.under) void this.run();
    else if (this.givesWay(this.under.question)) this.under.gone.abort();
  }

  // Back to what is stored.
  clear(): void {
    this.next = undefined;
    this.era += 1;
    this.answer.value = null;
    this.fault.value = null;
  }

  private async run(): Promise<void> {
    while (this.next !== undefined) {
      const question = this.next;
      this.next = undefined;
      this.under = { question, gone: new AbortController() };
      const { signal: gone } = this.under.gone;
      const era = this.era;
      const stands = () => era === this.era && !gone.aborted;
      try {
        const answer = await this.send(question, gone);
        if (stands()) {
          this.answer.value = answer;
          this.fault.value = null;
        }
      } catch (fault) {
        if (stands()) this.fault.value = sentenceOf(fault);
      }
    }
    this.under = undefined;
  }
}
