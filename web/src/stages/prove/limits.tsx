// What a seat is held to, typed where it is judged. Verdicts hang on it, so only a lead changes it; left open, what is
// taken instead is said.

import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import type { Job, Kind } from '../../api/types';
import { change, valueAt } from '../../entry/outbox';
import type { Typed } from '../../numbers/parse';
import type { Quantity } from '../../numbers/quantity';
import { show, showNumber } from '../../numbers/show';
import { written } from '../../numbers/written';
import { Field } from '../../parts/field';
import { readTree } from '../shape/facet_list';
import { mayLead } from '../../state/may';
import { job, shown } from '../../state/open_job';

interface Limit { key: string; label: string; quantity: Quantity; instead?: number }

const inHg = 3.386389; // kPa
const limits: Limit[] = [
  { key: 'runout_max', label: 'Runout at most', quantity: 'length' },
  { key: 'width_tol', label: 'Width within, ±', quantity: 'length' },
  { key: 'stem_height_max', label: 'Stem height at most', quantity: 'length' },
  { key: 'vacuum_min', label: 'Vacuum at least', quantity: 'vacuum', instead: 20 * inHg },
  { key: 'vacuum_loss_max', label: 'Lost in 10 s at most', quantity: 'vacuum', instead: 5 * inHg },
];
const kinds: Kind[] = ['intake', 'exhaust'];

export function Limits() {
  const here = job.value;
  if (!here) return null;
  const made = kinds.filter((k) => valueAt(here.tables, `seat.${k}`) !== undefined);
  if (made.length === 0) return null;
  return (
    <details class="no-print">
      <summary>Limits</summary>
      {!mayLead() && <p>Verdicts hang on these: only a lead changes them.</p>}
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

function OneLimit(props: { job: Job; kind: Kind; limit: Limit }) {
  const { job: here, kind, limit } = props;
  const { quantity } = limit;
  const unit = shown.value;
  const path = `seat.${kind}.${limit.key}`;
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
  const open = limit.instead === undefined ? 'none given' : `${show(limit.instead, quantity, unit)} is taken, common practice`;
  return (
    <Field label={`${limit.label}, ${kind}`} text={text} quantity={quantity} unit={unit} optional disabled={!mayLead()} onEnter={keep} onLeave={keep}
           check={(v) => (v > 0 || limit.key === 'width_tol' ? null : 'A limit is more than nothing.')} note={text.value.trim() === '' ? open : undefined} />
  );
}
