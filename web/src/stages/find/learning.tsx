// What the heads read so far have taught about this casting: each guide's mean place beside the drawing, its scatter,
// how alike one head lands to the next, and which heads do not belong.

import type { Learned } from '../../api/types';
import { inWords, showNumber } from '../../numbers/show';
import { Table } from '../../parts/table';
import { shown, state } from '../../state/open_job';

const leftOut = 'foreign-head'; // the server's word for a head that does not belong

export function Learning() {
  const learned = state.value?.results.find?.learned ?? [];
  const all = [...state.value?.warnings ?? [], ...state.value?.others ?? []];
  const left = all.filter((w) => w.stage === 'find' && w.code === leftOut).map((w) => w.text);
  if (learned.length === 0 && left.length === 0) return null;
  return (
    <section aria-label="Learned">
      <LeftOut words={left} />
      {learned.length > 0 && <Lesson learned={learned} />}
    </section>
  );
}

// Heads that do not belong, beside what was learned without them.
function LeftOut(props: { words: string[] }) {
  if (props.words.length === 0) return null;
  return (
    <>
      <h3>Not learned from</h3>
      <ul class="warnings">{props.words.map((w) => <li key={w}><span>{w}</span></li>)}</ul>
    </>
  );
}

function Lesson(props: { learned: Learned[] }) {
  const unit = shown.value;
  const length = (n: number | null) => showNumber(n, 'length', unit);
  return (
    <details class="fold">
      <summary>Learned from the heads read so far</summary>
      <p>How far the guides lie from the drawing, once each head’s own turn and offset are taken out. With enough heads on record, the next head is expected there.</p>
      <Table
        caption={`Each guide over the heads, ${inWords(unit)}`}
        head={['Guide', 'mean X', 'mean Y', '± X', '± Y', 'scatter (sd)', 'degrees of freedom']}
        rows={props.learned.map((l) => ({
          key: l.valve,
          cells: [l.valve, ...l.mean_mm.map(length), ...l.sd_of_mean_mm.map(length), length(l.scatter_mm), l.dof === null ? '–' : l.dof.toFixed(1)],
        }))}
      />
      <Table
        caption={`What the castings share, ${inWords(unit)}`} head={['Setup', 'the same on every head (sd)', 'different on each casting (sd)', 'heads']}
        rows={(state.value?.results.find?.repeatability ?? []).map((r) => ({ key: r.setup, cells: [r.setup, length(r.alike_sd_mm), length(r.own_sd_mm), r.heads] }))}
      />
    </details>
  );
}
