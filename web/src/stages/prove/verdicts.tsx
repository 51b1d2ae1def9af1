// Verdicts seat by seat: value, limits, uncertainty, a word and a shape. A lead may set one by word, with the
// reason; it stands beside what was computed, never instead.

import { useSignal } from '@preact/signals';
import type { Entry, ProvedSeat, Verdict } from '../../api/types';
import { overrule } from '../../entry/overrule';
import { show } from '../../numbers/show';
import { VerdictMark } from '../../parts/mark';
import { mayLead } from '../../state/may';
import { job, shown } from '../../state/open_job';
import { Wide } from '../../parts/wide';

interface Props { seats: ProvedSeat[]; overrides: Entry[]; pick: (valve: string) => void }

const quantityOf = (what: string) => (/vacuum/.test(what) ? 'vacuum' as const : 'length' as const);

export function VerdictTable(props: Props) {
  const unit = shown.value;
  const lines = props.seats.flatMap((s) => s.verdicts.map((v) => ({ seat: s, v })));
  const limits = (v: Verdict) => {
    const of = (n: number | null) => show(n, quantityOf(v.what), unit);
    if (v.limit_low !== null && v.limit_high !== null) return `${of(v.limit_low)} to ${of(v.limit_high)}`;
    if (v.limit_high !== null) return `at most ${of(v.limit_high)}`;
    return v.limit_low !== null ? `at least ${of(v.limit_low)}` : 'none given';
  };
  return (
    <Wide name="Verdicts">
      <table>
        <caption>Verdicts</caption>
        <thead><tr><th>Seat</th><th class="words">What</th><th>value</th><th class="words">limit</th><th>±U</th><th class="words">verdict</th></tr></thead>
        <tbody>
          {lines.map(({ seat, v }) => {
            const word = props.overrides.find((o) => o.live && o.head === seat.head && o.valve === seat.id && o.values['what'] === v.what);
            return (
              <tr key={`${seat.id}/${v.what}`} class={v.verdict === 'fail' ? 'attention' : undefined}>
                <th scope="row"><button type="button" onClick={() => props.pick(seat.id)} aria-label={`Measure ${seat.id}`}>{seat.id}</button></th>
                <td class="words">{v.what}</td>
                <td>{show(v.value, quantityOf(v.what), unit)}</td>
                <td class="words">{limits(v)}</td>
                <td>{show(v.u, quantityOf(v.what), unit)}</td>
                <td class="words">
                  <VerdictMark verdict={v.verdict} />
                  {word ? <p>By {word.by}’s word: {String(word.values['verdict'])}. {word.reason}</p>
                    : mayLead() && (v.verdict === 'fail' || v.verdict === 'undecided') && <Overrule seat={seat} what={v.what} />}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </Wide>
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
      <summary>Decide by word</summary>
      <input aria-label={label} placeholder="the reason" value={reason.value} onInput={(e) => { reason.value = e.currentTarget.value; }} />
      <span class="acts">
        <button type="button" disabled={reason.value.trim() === ''} onClick={() => say('pass')}>pass</button>
        <button type="button" disabled={reason.value.trim() === ''} onClick={() => say('fail')}>fail</button>
      </span>
    </details>
  );
}
