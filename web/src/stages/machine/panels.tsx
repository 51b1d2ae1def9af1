// What is within one tap at every step: a blade broke, something is not as it should be, the head is put aside.

import { useSignal } from '@preact/signals';
import { Notes } from '../../parts/notes_later';
import { headAfter } from '../../state/heads';
import { chooseHead, job, state } from '../../state/open_job';
import { jobAddress } from '../../state/route';
import { say } from '../../state/said_steps';
import { PlanOfPart } from '../cut/part_of_head';

export type Panel = 'broken' | 'wrong' | 'aside' | null;

export function Trouble(props: { panel: Exclude<Panel, null>; head: string; close: () => void }) {
  if (props.panel === 'broken') return <Broken />;
  if (props.panel === 'wrong') return <Wrong head={props.head} close={props.close} />;
  return (
    <section class="machine-card" aria-label="Put this head aside">
      <p>All its readings stay. You can take it up again at the same step.</p>
      <button type="button" class="main-act big" onClick={() => { void say(props.head, 'aside', true, `head ${props.head} put aside`); props.close(); }}>Yes, put head {props.head} aside</button>
    </section>
  );
}

function Broken() {
  const at = useSignal('');
  const order = state.value?.results.cut?.order ?? [];
  const ids = state.value?.results.hold?.setups.map((s) => s.id) ?? [];
  return (
    <section class="machine-card machine-scroll" aria-label="A blade broke">
      <p>Stop the spindle. Take the rest of the blade out of the seat. The files below are for a new blade, from that seat on. Take Z0 again.</p>
      <div class="seat-picks" role="group" aria-label="Seat">
        {order.map((v) => <button key={v} type="button" aria-pressed={at.value === v} onClick={() => { at.value = v; }}>{v}</button>)}
      </div>
      {at.value !== '' && <PlanOfPart key={at.value} part={{ from: at.value }} setups={ids} />}
    </section>
  );
}

function Wrong(props: { head: string; close: () => void }) {
  const id = job.value?.id ?? 0;
  return (
    <section class="machine-card machine-scroll" aria-label="Not as it should be">
      <div class="acts">
        <a class="button" href={jobAddress(id, 'find')}>A touch or a guide</a>
        <a class="button" href={jobAddress(id, 'hold')}>The level or the hold</a>
        <a class="button" href={jobAddress(id, 'shape')}>A seat or its depth</a>
        <a class="button" href={jobAddress(id, 'cut')}>A program or a seat that chatters</a>
      </div>
      <Notes head={props.head} onKept={props.close} />
    </section>
  );
}

export function Aside(props: { head: string }) {
  const to = headAfter();
  return (
    <section class="machine-card" aria-label="Put aside">
      <button type="button" class="main-act big" onClick={() => void say(props.head, 'aside', false, `head ${props.head} taken up again`)}>Take head {props.head} up again</button>
      <p class="acts"><button type="button" onClick={() => chooseHead(to)}>Go on with head {to}</button></p>
    </section>
  );
}
