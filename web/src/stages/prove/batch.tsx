// Is the batch staying right? One line a characteristic and kind; its chart is among the drawings.

import type { ProveResult } from '../../api/types';
import { showNumber } from '../../numbers/show';
import { shown } from '../../state/open_job';
import { Wide } from '../../parts/wide';

export function Batch(props: { result: ProveResult }) {
  const unit = shown.value;
  const lines = props.result.batch;
  if (lines.length === 0) return null;
  const index = (n: number | null) => (n === null ? '–' : n.toFixed(2));
  return (
    <Wide name="The batch">
      <table>
        <caption>The batch, lengths in {unit}</caption>
        <thead>
          <tr><th>What</th><th class="words">kind</th><th>n</th><th>mean</th><th>sigma</th><th>Cp</th><th>Cpk</th><th>Cpk at least</th><th class="words">signals</th><th class="words">limit met at head</th></tr>
        </thead>
        <tbody>
          {lines.map((l) => (
            <tr key={`${l.what}/${l.kind}`} class={l.signals.length > 0 ? 'attention' : undefined}>
              <th scope="row">{l.what}</th><td class="words">{l.kind}</td><td>{l.n}</td>
              <td>{showNumber(l.mean, 'length', unit)}</td><td>{showNumber(l.sigma, 'length', unit)}</td>
              <td>{index(l.cp)}</td><td>{index(l.cpk)}</td><td>{index(l.cpk_low)}</td>
              <td class="words">{l.signals.map((s) => `head ${s.head}: ${s.rule}`).join('; ') || 'none'}</td>
              <td class="words">{l.limit_at_head ?? 'no drift'}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Wide>
  );
}
