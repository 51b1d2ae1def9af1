// What a seat is held to, typed where it is judged. Verdicts hang on it, so only a lead changes it; left open, what is
// taken instead is said.

import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { readTree, valueAt } from '../../api/tree';
import type { Job, Kind } from '../../api/types';
import { change } from '../../entry/outbox';
import type { Typed } from '../../numbers/parse';
import type { Quantity } from '../../numbers/quantity';
import { showNumber } from '../../numbers/show';
import { written } from '../../numbers/written';
import { Field } from '../../parts/field';
import { allKeys, kinds, type Key } from '../../state/keys';
import { isMadeUp } from '../../state/made_up';
import { mayChange, mayLead } from '../../state/may';
import { job, shown } from '../../state/open_job';

const quantities: Record<string, Quantity> = { length: 'length', vacuum: 'vacuum' };
// Of the table of keys: what a seat is held to, its own form aside.
const limits = allKeys.filter((k) => k.limit && k.key.startsWith('seat.*.') && k.key !== 'seat.*.width' && quantities[k.dimension ?? '']);
// What the table lets none be.
const tooLittle = ({ above, from }: Key) => (v: number) =>
  above !== undefined && v <= above ? 'A limit must be more than zero.' : from !== undefined && v < from ? 'A limit cannot be less than zero.' : null;

export function Limits() {
  const here = job.value;
  if (!here) return null;
  const made = kinds.filter((k) => valueAt(here.tables, `seat.${k}`) !== undefined);
  if (made.length === 0) return null;
  return (
    <details class="fold no-print">
      <summary>Limits</summary>
      {!mayLead() && <p>The verdicts depend on these limits. Only a lead can change them.</p>}
      {made.map((kind) => (
        <section key={kind} class="rows" aria-label={`Limits, ${kind}`}>
          <h3>{kind} seats</h3>
          <div class="pair">
            {limits.map((l) => <OneLimit key={l.key} job={here} kind={kind} limit={l} />)}
          </div>
        </section>
      ))}
    </details>
  );
}

function OneLimit(props: { job: Job; kind: Kind; limit: Key }) {
  const { job: here, kind, limit } = props;
  const quantity = quantities[limit.dimension ?? ''] ?? 'length';
  const unit = shown.value;
  const path = limit.key.replace('*', kind);
  const value = readTree(valueAt(here.tables, path), quantity, quantity === 'vacuum' ? 'mm' : here.units); // a bare vacuum is kPa in the file
  const now = value === null ? '' : showNumber(value, quantity, unit);
  const text = useSignal(now);
  const settled = useRef(now); // what stands in the file, or is on its way there
  useEffect(() => { text.value = settled.current = now; }, [now]);
  const keep = (typed: Typed | null) => {
    const typedText = text.value.trim();
    if (typedText === settled.current) return;
    settled.current = typedText;
    const as = typed ? written(typed, quantity) : null;
    void change(here, [{ key: path, value: as }], `${kind} ${limit.label.toLowerCase()}: ${as ?? 'none'}`);
  };
  const open = limit.otherwise ?? 'none given';
  return (
    <Field label={`${limit.label}, ${kind}`} text={text} quantity={quantity} unit={unit} optional disabled={!mayChange(path)} onEnter={keep} onLeave={keep}
           check={tooLittle(limit)} note={text.value.trim() === '' ? open : undefined} made={isMadeUp(path)} />
  );
}
