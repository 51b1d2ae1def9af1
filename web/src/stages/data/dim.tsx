// A dimension of a drawing that is its own field: it stands on the drawing, is typed over, and stores with Enter or when left.
// A figure nobody gave is dashed; typed, it is confirmed.

import { signal, useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { readTree, valueAt } from '../../api/tree';
import { change } from '../../entry/outbox';
import { parseQuantity } from '../../numbers/parse';
import type { Quantity } from '../../numbers/quantity';
import { show } from '../../numbers/show';
import { written } from '../../numbers/written';
import { mayChange } from '../../state/may';
import { job, shown } from '../../state/open_job';
import { keyWords } from '../../state/keys';
import { isMadeUp, madeUp } from '../../state/made_up';

export const dimFault = signal<string | null>(null); // what is wrong with what was typed last, said under the drawing

// The figure at a key, in mm, deg or as it is.
export const figureAt = (key: string, quantity: Quantity = 'length') => readTree(valueAt(job.value?.tables, key), quantity, job.value?.units ?? 'mm');

// Stored as typed; a figure made up is confirmed by it.
export function store(key: string, value: string | number, words: string): void {
  const here = job.value;
  if (!here) return;
  const left = madeUp(here).filter((k) => k !== key);
  const rest = left.length < madeUp(here).length ? [{ key: 'head.assumed', value: left }] : [];
  void change(here, [{ key, value }, ...rest], `${keyWords(key, job.value?.tables)}: ${words}`);
}

interface Props { at: string; quantity?: Quantity; x: number; y: number; label?: string } // x, y: px, its middle on the drawing

export function Dim({ at, quantity = 'length', x, y, label }: Props) {
  const value = figureAt(at, quantity);
  const unit = shown.value;
  const said = value === null ? '' : quantity === 'plain' ? String(value) : show(value, quantity, unit);
  const text = useSignal(said);
  const sent = useRef(''); // Enter and then leaving is one change
  useEffect(() => { text.value = said; sent.current = ''; }, [said, at]);
  const made = isMadeUp(at);
  const name = label ?? keyWords(at, job.value?.tables);
  const commit = () => {
    const typed = text.peek().trim();
    if (typed === sent.current) return;
    if (typed === said || typed === '') { text.value = said; return; }
    const got = parseQuantity(typed, quantity, unit);
    dimFault.value = got.ok ? null : `${name}: ${got.sentence}`;
    if (!got.ok) return;
    sent.current = typed;
    store(at, quantity === 'plain' ? got.value : written(got, quantity), typed);
  };
  return (
    <input class={made ? 'dim dim-made' : 'dim'} style={{ left: `${x.toFixed(1)}px`, top: `${y.toFixed(1)}px` }} aria-label={made ? `${name}, not from you` : name} title={name} data-dim={at} data-kept-left
           value={text.value} placeholder="–" disabled={!mayChange(at)} autocomplete="off" spellcheck={false}
           onFocus={(e) => e.currentTarget.select()} onInput={(e) => { text.value = e.currentTarget.value; }} onBlur={commit}
           onKeyDown={(e) => { if (e.key === 'Enter') { e.preventDefault(); commit(); } }} />
  );
}

// A dimension line from a to b, ticks at its ends.
export function DimLine(props: { x1: number; y1: number; x2: number; y2: number }) {
  const { x1, y1, x2, y2 } = props;
  const level = Math.abs(y2 - y1) < Math.abs(x2 - x1);
  const tick = (x: number, y: number) => (level ? `M${x} ${y - 5} v10` : `M${x - 5} ${y} h10`);
  return <path class="dim-line" d={`M${x1} ${y1} L${x2} ${y2} ${tick(x1, y1)} ${tick(x2, y2)}`} />;
}
