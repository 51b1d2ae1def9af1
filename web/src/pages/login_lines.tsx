// For a lead: who came in, who was refused and who had to wait, newest first; asked for when it is opened.

import { useSignal } from '@preact/signals';
import { get, sentenceOf } from '../api/client';
import { Wide } from '../parts/table';
import { when } from '../parts/when';

interface LoginLine {
  id: number;
  at: string;
  what: string;
  name: string;
  address: string;
}
interface Answer { lines: LoginLine[]; before: number | null }

const at_once = 50;

export function LoginLines() {
  const lines = useSignal<LoginLine[]>([]);
  const before = useSignal<number | null>(null);
  const said = useSignal<string | null>(null);
  const more = async (from: number | null) => {
    said.value = null;
    try {
      const answer = await get<Answer>(`/login-lines?limit=${at_once}${from === null ? '' : `&before=${from}`}`);
      lines.value = from === null ? answer.lines : [...lines.value, ...answer.lines];
      before.value = answer.lines.length < at_once ? null : answer.before;
    } catch (fault) {
      said.value = sentenceOf(fault);
    }
  };
  return (
    <details onToggle={(e) => { if (e.currentTarget.open) void more(null); }}>
      <summary>Who logged in, and who was refused</summary>
      {said.value && <p class="sentence" role="alert">{said.value}</p>}
      <Wide name="Logins">
        <table class="ledger">
          <thead><tr><th>When</th><th class="words">What</th><th class="words">Who</th><th class="words">From</th></tr></thead>
          <tbody>
            {lines.value.map((line) => (
              <tr key={line.id}>
                <td>{when(line.at)}</td>
                <td class="words">{line.what}</td>
                <td class="words">{line.name || 'nobody known here'}</td>
                <td class="words">{line.address || 'not known'}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Wide>
      {before.value !== null && <p class="acts"><button type="button" onClick={() => void more(before.value)}>Older lines</button></p>}
    </details>
  );
}
