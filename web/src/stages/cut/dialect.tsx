// In which manner the program is written: one of the shelf's, kept in the job.

import { useEffect } from 'preact/hooks';
import { valueAt } from '../../api/tree';
import { change } from '../../entry/outbox';
import { mayRecord } from '../../state/may';
import { job } from '../../state/open_job';
import { fetchShelf, namesOnShelf } from '../../state/shelf';

export function Dialect() {
  useEffect(() => void fetchShelf(), []);
  const here = job.value;
  const names = namesOnShelf('dialect');
  if (!here || names.length === 0) return null;
  const said = valueAt(here.tables, 'dialect');
  if (said !== undefined && typeof said !== 'string') return <span class="quiet">written as the job’s own dialect says</span>;
  const now = said ?? names[0] ?? '';
  return (
    <span class="acts no-print">
      <label for="dialect">Written as</label>
      <select id="dialect" value={now} disabled={!mayRecord()}
              onChange={(e) => void change(here, [{ key: 'dialect', value: e.currentTarget.value }], `dialect: ${e.currentTarget.value}`)}>
        {[...new Set([...names, now])].map((n) => <option key={n}>{n}</option>)}
      </select>
    </span>
  );
}
