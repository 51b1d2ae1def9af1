// The figures no person gave, behind one line: each typed or said to be right, those of one thing in one tap.

import { useSignal } from '@preact/signals';
import { readTree, valueAt } from '../../api/tree';
import type { Job, TreeValue } from '../../api/types';
import { change } from '../../entry/outbox';
import type { Typed } from '../../numbers/parse';
import type { Quantity } from '../../numbers/quantity';
import { show } from '../../numbers/show';
import { written } from '../../numbers/written';
import { Field } from '../../parts/field';
import { keyOf, keyWords } from '../../state/keys';
import { madeUp } from '../../state/made_up';
import { mayChange } from '../../state/may';
import { job, shown } from '../../state/open_job';
import { jobAddress } from '../../state/route';
import { implausible } from '../typed_values';

const nearly: Record<string, Quantity> = { length: 'length', angle: 'angle', mass: 'mass' };

// What a key is a figure of; what begins with none of these is reckoned with.
const things: [string, string][] = [['head', 'The head'], ['guide', 'Guides'], ['valve', 'Valves'], ['seat', 'Seats'], ['', 'Find and depth']];

export function grouped(keys: string[]): { name: string; keys: string[] }[] {
  const of = (key: string) => things.find(([begins]) => begins === '' || key.startsWith(`${begins}.`));
  return things.map((t) => ({ name: t[1], keys: keys.filter((k) => of(k) === t) })).filter((g) => g.keys.length > 0);
}

const without = (keys: string[]) => ({ key: 'head.assumed', value: madeUp().filter((k) => !keys.includes(k)) });

export function MadeUpList() {
  const here = job.value;
  const keys = madeUp(here);
  if (!here || keys.length === 0) return null;
  return (
    <section class="made-up no-print" aria-label="Not from you">
      <h3>Not from you: {keys.length === 1 ? 'one figure is' : `${keys.length} figures are`} made up</h3>
      <details>
        <summary>Type them, or say that they are right</summary>
        <p>They were put in so that the head could be drawn. Type what the drawing says or what you measured, or say that a figure is right. Until then no program is written.</p>
        {grouped(keys).map((g) => <Group key={g.name} name={g.name} keys={g.keys} job={here} />)}
      </details>
    </section>
  );
}

function Group(props: { name: string; keys: string[]; job: Job }) {
  const { name, keys, job: here } = props;
  const mine = keys.filter(mayChange);
  return (
    <section aria-label={name}>
      <h4>{name}</h4>
      <div class="pair">{keys.map((key) => <OneFigure key={key} at={key} job={here} />)}</div>
      {mine.length > 1 && <p class="acts"><button type="button" onClick={() => void change(here, [without(mine)], `${name}: ${mine.length} figures right as they are`)}>{name}: all {mine.length} are right</button></p>}
    </section>
  );
}

function OneFigure(props: { at: string; job: Job }) {
  const { at, job: here } = props;
  const value = valueAt(here.tables, at);
  const quantity = nearly[keyOf(at)?.dimension ?? ''] ?? 'length';
  const number = readTree(value, quantity, here.units);
  const text = useSignal('');
  const sure = useSignal('');
  const may = mayChange(at);
  const label = keyWords(at, here.tables);
  const right = () => void change(here, [without([at])], `${label}: right as it is`);
  const check = (v: number) => (sure.value === text.value.trim() ? null : implausible({ label, quantity, range: at }, v, shown.value));
  const type = (typed: Typed | null) => {
    if (typed) void change(here, [{ key: at, value: written(typed, quantity) }, without([at])], `${label}: ${written(typed, quantity)}`);
  };
  return (
    <div class="made-up-one" data-made-up={at}>
      {Array.isArray(value) || number === null
        ? (
          <div class="field">
            <b>{label}</b>
            <span class="made">{saidOf(value)}</span>
            <a href={jobAddress(here.id, 'data')}>Type them under Drawing data</a>
          </div>
        )
        : <Field label={label} text={text} quantity={quantity} unit={shown.value} optional disabled={!may} onEnter={type} onLeave={type} check={check} yes={(t) => { sure.value = t; }}
                 note={`made up: ${show(number, quantity, shown.value)}`} />}
      {may && <button type="button" onClick={right}>It is right</button>}
    </div>
  );
}

const saidOf = (value: TreeValue | undefined) => (Array.isArray(value) ? `${value.length} places` : String(value ?? 'nothing'));
