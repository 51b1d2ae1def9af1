// Verdicts seat by seat: value, limits, uncertainty, a word and a shape. A lead may set one by word, with the
// reason; it stands beside what was computed, never instead.

import { useSignal } from '@preact/signals';
import type { Entry, ProvedSeat, Verdict } from '../../api/types';
import { overrule } from '../../entry/outbox';
import { show, showUncertainty } from '../../numbers/show';
import { VerdictMark } from '../../parts/mark';
import { mayLead } from '../../state/may';
import { job, shown } from '../../state/open_job';
import { Table } from '../../parts/table';
import { limitsOf, quantityOf } from './against';

interface Props { seats: ProvedSeat[]; overrides: Entry[]; pick: (valve: string) => void }

export function VerdictTable(props: Props) {
  const unit = shown.value;
  const lines = props.seats.flatMap((s) => s.verdicts.map((v) => ({ seat: s, v })));
  const wordOf = (seat: ProvedSeat, v: Verdict) =>
    props.overrides.find((o) => o.live && o.head === seat.head && o.valve === seat.id && o.values['what'] === v.what);
  const cautions = [...new Set(lines.flatMap(({ v }) => (v.caution && v.value !== null ? [v.caution] : [])))];
  return (
    <>
      <Table
        caption="Verdicts" head={['Seat', 'What', 'value', 'limit', '± U', 'verdict']} words={[1, 3, 5]}
        rows={lines.map(({ seat, v }) => {
          const word = wordOf(seat, v);
          return {
            key: `${seat.id}/${v.what}`, attention: v.verdict === 'fail',
            cells: [
              <button type="button" onClick={() => props.pick(seat.id)} aria-label={`Measure ${seat.id}`}>{seat.id}</button>,
              v.what, show(v.value, quantityOf(v.what), unit), limitsOf(v), showUncertainty(v.u, quantityOf(v.what), unit),
              <>
                <VerdictMark verdict={v.verdict} />
                {v.decider && <p>{v.decider}</p>}
                {word && <p>{word.by} decided: {String(word.values['verdict'])}. {word.reason}</p>}
                {!word && mayLead() && (v.verdict === 'fail' || v.verdict === 'undecided') && <Overrule seat={seat} what={v.what} />}
                {v.value !== null && <Behind verdict={v} />}
              </>,
            ],
          };
        })}
      />
      {cautions.map((c) => <p key={c} class="caution">{c}.</p>)}
    </>
  );
}

// Where the limit is from, and what the uncertainty is made of.
function Behind(props: { verdict: Verdict }) {
  const { verdict: v } = props;
  const part = (u: number | null) => show(u, quantityOf(v.what), shown.value);
  const budget = v.budget ?? [];
  return (
    <details class="no-print behind">
      <summary aria-label={`Why ${v.what}`}>why</summary>
      {v.limit_source && <p>Limit: {v.limit_source}.</p>}
      {budget.length === 0 ? <p>No uncertainty is known for this reading.</p> : (
        <>
          <p>U is {v.coverage?.toFixed(2) ?? '2'} times the root of the sum of squares of these standard uncertainties:</p>
          <ul>{budget.map((b) => <li key={b.what}>{b.what} {part(b.u)}{b.dof === null ? '' : `, ${b.dof.toFixed(0)} degrees of freedom`}</li>)}</ul>
        </>
      )}
      <p>A seat passes when it is inside the limit by at least U, and fails when it is outside by at least U. In between it is undecided.</p>
    </details>
  );
}

function Overrule(props: { seat: ProvedSeat; what: string }) {
  const reason = useSignal('');
  const say = (verdict: 'pass' | 'fail') => {
    if (reason.value.trim() === '' || !job.value) return;
    void overrule(job.value.id, { head: props.seat.head, valve: props.seat.id, what: props.what, verdict, reason: reason.value.trim() });
  };
  const label = `Reason for ${props.seat.id}, ${props.what}`;
  return (
    <details class="no-print">
      <summary>Decide it yourself</summary>
      <input aria-label={label} placeholder="the reason" value={reason.value} onInput={(e) => { reason.value = e.currentTarget.value; }} />
      <span class="acts">
        <button type="button" disabled={reason.value.trim() === ''} onClick={() => say('pass')}>pass</button>
        <button type="button" disabled={reason.value.trim() === ''} onClick={() => say('fail')}>fail</button>
      </span>
    </details>
  );
}
