// Which of the shelf's fixtures would hold this head, and why the others would not; one touch plans with another.

import { valueAt } from '../../api/tree';
import type { Fixture } from '../../api/types';
import { change } from '../../entry/outbox';
import { Fold } from '../../parts/fold';
import { mayRecord } from '../../state/may';
import { job, state } from '../../state/open_job';

export function Fixtures() {
  const all = state.value?.results.hold?.fixtures ?? [];
  const here = job.value;
  if (all.length === 0 || !here) return null;
  const used = valueAt(here.tables, 'fixture'); // a name, or the fixture itself
  const verdict = (f: Fixture) => (f.fits ? f.why.replace(/^(fits|best): /, '') || 'it fits' : `does not fit: ${f.why}`);
  return (
    <Fold title="Fixtures of the shelf" note={`${all.filter((f) => f.fits).length} of ${all.length} fit`}>
      <section class="rows" aria-label="Fixtures of the shelf">
      <ul class="entries">
        {all.map((f) => (
          <li key={f.name}>
            <span>
              <b>{f.name}</b>{f.name === used ? ', planned with' : ''}{f.best ? ', suits best' : ''}<br />
              {verdict(f)}
            </span>
            {f.fits && f.name !== used && typeof used === 'string' && mayRecord() && (
              <button type="button" class="no-print" aria-label={`Plan with it: ${f.name}`}
                      onClick={() => void change(here, [{ key: 'fixture', value: f.name }], `fixture: ${f.name}`)}>Plan with it</button>
            )}
          </li>
        ))}
      </ul>
      </section>
    </Fold>
  );
}
