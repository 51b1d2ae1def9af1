// The cutter that makes the form, those that nearly do, and the form to order when none does.

import type { Kind, ShapeResult } from '../../api/types';
import { TakeFiles } from '../../parts/paper_pages';
import { usePapers } from '../../state/papers';

export function Cutters(props: { result: ShapeResult; kind: Kind }) {
  const misses = (props.result.near_misses ?? []).filter((m) => m.kind === props.kind);
  const forms = usePapers().filter((p) => p.name.startsWith(`form-${props.kind}.`));
  return (
    <section class="rows" aria-label="Cutters">
      <h3>Cutters of the shelf that do not make the {props.kind} form</h3>
      {misses.length === 0 && <p>None stands nearly right.</p>}
      <ul class="entries">{misses.map((m) => <li key={m.cutter}><span><b>{m.cutter}</b>: {m.why}</span></li>)}</ul>
      <TakeFiles files={forms.map((f) => ({ ...f, title: 'The form to order' }))} />
    </section>
  );
}
