// Figures no person gave: a question or a template put them in so that the head could be drawn. They stand dashed until
// somebody types them or says that they are right; nothing is written for the machine before.

import { useSignal } from '@preact/signals';
import { readTree, valueAt } from '../../api/tree';
import type { Job, TreeValue } from '../../api/types';
import { change } from '../../entry/outbox';
import type { Typed } from '../../numbers/parse';
import type { Quantity } from '../../numbers/quantity';
import { show } from '../../numbers/show';
import { written } from '../../numbers/written';
import { Field } from '../../parts/field';
import { jobAddress } from '../../state/route';
import { keyOf, keyWords } from '../../state/keys';
import { mayChange } from '../../state/may';
import { job, shown } from '../../state/open_job';

// The keys of the job file that hold such figures.
export function madeUp(here: Job | null = job.value): string[] {
  const all = valueAt(here?.tables, 'head.assumed');
  return Array.isArray(all) ? all.map(String) : [];
}

// Whether a figure stands on one of them: "head.bolt_holes" of "head.bolt_holes[3].x".
export const standsOnMadeUp = (...keys: string[]) => madeUp().some((m) => keys.some((k) => k.startsWith(m) || m.startsWith(k)));

const nearly: Record<string, Quantity> = { length: 'length', angle: 'angle', mass: 'mass' };

const What = () => <p>They were put in so that the head could be drawn. Type what the drawing says or what you measured, or say that a figure is right. Until then no program is written.</p>;

// `few`: so many at first, the others behind a line that opens.
export function MadeUp(props: { few?: number }) {
  const atFirst = props.few ?? 4;
  const here = job.value;
  const keys = madeUp(here);
  if (!here || keys.length === 0) return null;
  const without = (key: string) => {
    const left = keys.filter((k) => k !== key);
    return { key: 'head.assumed', value: left };
  };
  return (
    <section class="made-up no-print" aria-label="Not from you">
      <h3>Not from you: {keys.length === 1 ? 'one figure is' : `${keys.length} figures are`} made up</h3>
      {atFirst > 0 && <What />}
      <div class="pair">{keys.slice(0, atFirst).map((key) => <OneFigure key={key} at={key} job={here} rest={without(key)} />)}</div>
      {keys.length > atFirst && (
        <details>
          <summary>{atFirst === 0 ? 'Type them, or say that they are right' : `The other ${keys.length - atFirst}`}</summary>
          {atFirst === 0 && <What />}
          <div class="pair">{keys.slice(atFirst).map((key) => <OneFigure key={key} at={key} job={here} rest={without(key)} />)}</div>
        </details>
      )}
    </section>
  );
}

function OneFigure(props: { at: string; job: Job; rest: { key: string; value: unknown } }) {
  const { at, job: here, rest } = props;
  const value = valueAt(here.tables, at);
  const quantity = nearly[keyOf(at)?.dimension ?? ''] ?? 'length';
  const number = readTree(value, quantity, here.units);
  const text = useSignal('');
  const may = mayChange(at);
  const right = () => void change(here, [rest], `${keyWords(at, job.value?.tables)}: right as it is`);
  const type = (typed: Typed | null) => {
    if (typed) void change(here, [{ key: at, value: written(typed, quantity) }, rest], `${keyWords(at, job.value?.tables)}: ${written(typed, quantity)}`);
  };
  return (
    <div class="made-up-one" data-made-up={at}>
      {Array.isArray(value) || number === null
        ? (
          <div class="field">
            <b>{keyWords(at, job.value?.tables)}</b>
            <span class="made">{saidOf(value)}</span>
            <a href={jobAddress(here.id, 'data')}>Type them under Drawing data</a>
          </div>
        )
        : <Field label={keyWords(at, job.value?.tables)} text={text} quantity={quantity} unit={shown.value} optional disabled={!may} onEnter={type} onLeave={type}
                 note={`made up: ${show(number, quantity, shown.value)}`} />}
      {may && <button type="button" onClick={right}>It is right</button>}
    </div>
  );
}

const saidOf = (value: TreeValue | undefined) => (Array.isArray(value) ? `${value.length} places` : String(value ?? 'nothing'));
