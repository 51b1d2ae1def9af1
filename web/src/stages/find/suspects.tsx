// Touches that do not agree with the others, and touches whose guide nobody named: what was made of them, and
// what the person can do about it.

import type { Entry, FoundSetup } from '../../api/types';
import { record, takeBack } from '../../entry/outbox';
import { showLength } from '../../numbers/show';
import { mayRecord } from '../../state/may';
import { entries, job, shown } from '../../state/open_job';

const plain = 100; // to 1: with better odds than this nobody need say which guide it was

export function SetAside(props: { setup: FoundSetup; head: string; pick: (valve: string) => void }) {
  const aside = props.setup.set_aside ?? [];
  const id = job.value?.id;
  if (aside.length === 0 || id === undefined) return null;
  const entryOf = (valve: string) => entries.value.entries.find((e) => e.live && e.kind === 'touch' && e.head === props.head && e.valve === valve);
  return (
    <section class="differ" aria-label="Set aside">
      <h3>Set aside: these touches do not agree with the others</h3>
      <p>They are kept but not used. Was there a chip, a wrong guide or a misread digit? Touch it again. If it reads the same, the guide itself is out of place, and the places of the others still hold. If you use the touch all the same, it places this guide alone.</p>
      <ul class="entries">
        {aside.map((a) => (
          <li key={a.valve}>
            <span><b>{a.valve}</b> at X {showLength(a.x_mm, shown.value)}, Y {showLength(a.y_mm, shown.value)}{away(props.setup, a)}</span>
            {mayRecord() && (
              <span class="acts no-print">
                <button type="button" onClick={() => props.pick(a.valve)}>Touch {a.valve} again</button>
                <UseAllTheSame entry={entryOf(a.valve)} job={id} valve={a.valve} />
                <TakeBack entry={entryOf(a.valve)} job={id} valve={a.valve} />
              </span>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

// How far the reading lies from where the others put the guide.
function away(setup: FoundSetup, touch: { valve: string; x_mm: number; y_mm: number }): string {
  const guide = setup.guides.find((g) => g.id === touch.valve);
  if (!guide) return '';
  return `, ${showLength(Math.hypot(touch.x_mm - guide.x_mm, touch.y_mm - guide.y_mm), shown.value)} from where the others put it`;
}

function TakeBack(props: { entry: Entry | undefined; job: number; valve: string }) {
  const { entry } = props;
  if (!entry) return null;
  return <button type="button" onClick={() => void takeBack(props.job, entry, `take back touch ${props.valve}`)}>Take it back</button>;
}

// The same reading once more, now with the machinist's word for it.
function UseAllTheSame(props: { entry: Entry | undefined; job: number; valve: string }) {
  const { entry } = props;
  if (!entry) return null;
  const use = () => record(props.job, { kind: entry.kind, head: entry.head, valve: entry.valve, values: { ...entry.values, keep: true },
    units: entry.units, corrects: entry.id }, `use touch ${props.valve} all the same`);
  return <button type="button" onClick={() => void use()}>Use it all the same</button>;
}

export function Unlabelled(props: { setup: FoundSetup }) {
  const all = props.setup.assignments ?? [];
  if (all.length === 0) return null;
  return (
    <section class="rows" aria-label="Touches without a name">
      <h3>Touches without a name, and the guide each fits</h3>
      <ul class="entries">
        {all.map((a) => {
          const odds = a.runner_up_odds;
          const doubtful = odds !== null && odds < plain;
          return (
            <li key={`${a.x_mm}/${a.y_mm}`}>
              <span>X {showLength(a.x_mm, shown.value)}, Y {showLength(a.y_mm, shown.value)}: <b>{a.valve ?? 'fits no guide'}</b></span>
              <span class={doubtful ? 'sentence' : undefined}>
                {odds === null ? 'nothing else fits' : `${Number(odds.toPrecision(3)).toLocaleString('en')} to 1 against the next best reading of them${doubtful ? ': say which guide it was' : ''}`}
              </span>
            </li>
          );
        })}
      </ul>
    </section>
  );
}
