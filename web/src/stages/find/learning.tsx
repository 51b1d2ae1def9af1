// What the heads read so far have taught about this casting: each guide's mean place beside the drawing, its scatter,
// and how alike one head lands to the next.

import { inWords, showNumber } from '../../numbers/show';
import { Table } from '../../parts/table';
import { shown, state } from '../../state/open_job';

export function Learning() {
  const find = state.value?.results.find;
  const learned = find?.learned ?? [];
  if (learned.length === 0) return null;
  const unit = shown.value;
  const length = (n: number | null) => showNumber(n, 'length', unit);
  return (
    <details>
      <summary>Learned from the heads read so far</summary>
      <p>Beside the drawing, after each head’s own turn and offset are taken out; used as what is expected of the next head once enough are on record.</p>
      <Table
        caption={`Each guide over the heads, ${inWords(unit)}`}
        head={['Guide', 'mean X', 'mean Y', '± X', '± Y', 'scatter (sd)', 'degrees of freedom']}
        rows={learned.map((l) => ({
          key: l.valve,
          cells: [l.valve, ...l.mean_mm.map(length), ...l.sd_of_mean_mm.map(length), length(l.scatter_mm), l.dof === null ? '–' : l.dof.toFixed(1)],
        }))}
      />
      <Table
        caption={`What the castings share, ${inWords(unit)}`} head={['Setup', 'off the drawing alike on every head (sd)', 'each casting’s own (sd)', 'heads']}
        rows={(find?.repeatability ?? []).map((r) => ({ key: r.setup, cells: [r.setup, length(r.alike_sd_mm), length(r.own_sd_mm), r.heads] }))}
      />
    </details>
  );
}
