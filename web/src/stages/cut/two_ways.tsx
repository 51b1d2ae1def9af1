// A first seat went deeper than the plan can bear: depths as planned beside depths made anew, and a person chooses.

import type { DepthWay, PlanAnew } from '../../api/types';
import { record } from '../../entry/outbox';
import { show } from '../../numbers/show';
import { mayRecord } from '../../state/may';
import { entries, headHere, job, shown, waitingHere } from '../../state/open_job';

type Choice = 'shifted' | 'anew';

const names: Record<Choice, string> = { shifted: 'As planned, Z moved alone', anew: 'Made anew around it' };

export function TwoWays(props: { ways: PlanAnew }) {
  const { ways } = props;
  const after = ways.after.join(', ');
  const depth = (mm: number | null) => show(mm, 'length', shown.value);
  const id = job.value?.id;
  const waits = waitingHere.value.some((w) => w.body['kind'] === 'first' && ways.after.includes(String(w.body['valve'])));
  const choose = (plan: Choice) => {
    for (const valve of ways.after) {
      const read = entries.value.entries.find((e) => e.live && e.kind === 'first' && e.head === headHere.value && e.valve === valve);
      if (read === undefined || id === undefined) continue;
      void record(id, { kind: 'first', head: read.head, valve, units: read.units, values: { ...read.values, plan }, corrects: read.id },
        `after first seat ${valve}: ${plan}`);
    }
  };
  return (
    <section class="entry" aria-label="After the first seat">
      <h3>{after} went deeper than planned: two ways on</h3>
      <table class="data">
        <thead><tr><th>seat</th>{(['shifted', 'anew'] as const).map((c) => <th key={c}>{names[c]}{ways.chosen === c ? ' (chosen)' : ''}</th>)}</tr></thead>
        <tbody>
          {ways.seats.map((s) => (
            <tr key={s.id}>
              <th scope="row">{s.id}{ways.after.includes(s.id) ? ', as measured' : ''}</th>
              <td>{depth(s.shifted_mm)}</td>
              <td>{s.anew_insert ? 'an insert' : depth(s.anew_mm)}</td>
            </tr>
          ))}
          <tr><th scope="row">all depths</th><td>{depth(ways.shifted.total_mm)}</td><td>{depth(ways.anew.total_mm)}</td></tr>
          <tr><th scope="row">deeper than planned, seats not yet cut</th><td>{depth(ways.shifted.deeper_mm)}</td><td>{depth(ways.anew.deeper_mm)}</td></tr>
          <tr><th scope="row">limits</th><td>{limits(ways.shifted)}</td><td>{limits(ways.anew)}</td></tr>
        </tbody>
      </table>
      {ways.chosen === null && <p class="sentence">The files of these seats wait until one is chosen.</p>}
      {mayRecord() && (
        <div class="acts no-print">
          {(['shifted', 'anew'] as const).map((c) => (
            <button key={c} type="button" aria-pressed={ways.chosen === c} onClick={() => { if (ways.chosen !== c) choose(c); }}>{names[c]}</button>
          ))}
        </div>
      )}
      {waits && <p role="status">Stored here, waiting to be sent.</p>}
    </section>
  );
}

const limits = (way: DepthWay) => (way.breaks.length === 0 ? 'all kept' : way.breaks.join('; '));
