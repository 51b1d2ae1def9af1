// Which of the shelf's fixtures would hold this head, and why the others would not.

import { state } from '../../state/open_job';

export function Fixtures() {
  const all = state.value?.results.hold?.fixtures ?? [];
  if (all.length === 0) return null;
  return (
    <section class="rows">
      <h3>Fixtures of the shelf</h3>
      <ul class="entries">
        {all.map((f) => <li key={f.name}><b>{f.name}</b><span>{f.fits ? (f.why.replace(/^fits: /, '') || 'it fits') : `does not fit: ${f.why}`}</span></li>)}
      </ul>
    </section>
  );
}
