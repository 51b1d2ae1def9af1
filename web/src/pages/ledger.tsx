// The Ledger: who recorded or changed what, when; newest first.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { get, sentenceOf } from '../api/client';
import type { LedgerLine } from '../api/types';
import { when } from '../parts/when';
import { jobAddress } from '../state/route';
import { Wide } from '../parts/table';

interface Answer { lines: LedgerLine[]; before: number | null }

export function LedgerPage(props: { job?: number | undefined }) {
  const lines = useSignal<LedgerLine[]>([]);
  const before = useSignal<number | null>(null);
  const trouble = useSignal<string | null>(null);
  const more = async (from: number | null) => {
    const query = [`limit=100`, props.job ? `job=${props.job}` : '', from === null ? '' : `before=${from}`].filter(Boolean).join('&');
    try {
      const answer = await get<Answer>(`/ledger?${query}`);
      lines.value = from === null ? answer.lines : [...lines.value, ...answer.lines];
      before.value = answer.before;
    } catch (fault) {
      trouble.value = sentenceOf(fault);
    }
  };
  useEffect(() => void more(null), []);
  return (
    <main class="page">
      <header>
        <h1>Ledger</h1>
        {props.job && <a href="#/ledger">every job</a>}
      </header>
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      <Wide name="Ledger">
        <table class="ledger">
          <thead><tr><th>When</th><th class="words">Who</th><th class="words">What</th><th class="words">Job</th></tr></thead>
          <tbody>
            {lines.value.map((line) => (
              <tr key={line.id}>
                <td>{when(line.at)}</td>
                <td class="words">{line.by}</td>
                <td class="words">{line.what}</td>
                <td class="words">{line.job ? <a href={jobAddress(line.job, 'hold')}>{line.job_title ?? `job ${line.job}`}</a> : ''}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Wide>
      {before.value !== null && <p class="acts"><button type="button" onClick={() => void more(before.value)}>Older lines</button></p>}
    </main>
  );
}
