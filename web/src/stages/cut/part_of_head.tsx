// Programs for a part of the head. A blade broke: from that seat on there are other files, for a new blade, and what is cut, begun and left is said.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { get, sentenceOf } from '../../api/client';
import type { CutResult } from '../../api/types';
import { PartOfHead, type Part } from './files';
import { HeldBackList } from './held';
import { drawn, job, state } from '../../state/open_job';
import { Warnings } from '../../parts/warnings';

export function BrokenBlade(props: { order: string[]; setups: string[] }) {
  const at = useSignal('');
  return (
    <details class="fold no-print">
      <summary>A blade broke</summary>
      <section aria-label="A blade broke">
        <p>Stop the spindle. Take the rest of the blade out of the seat. Then say where it broke. If you measured the seats before it, type that in Prove.</p>
        <div class="acts">
          <label for="broke-at">A blade broke at</label>
          <select id="broke-at" value={at.value} onChange={(e) => { at.value = e.currentTarget.value; }}>
            <option value="">no seat</option>
            {props.order.map((v) => <option key={v} value={v}>{v}</option>)}
          </select>
        </div>
        {at.value !== '' && <PlanOfPart key={at.value} part={{ from: at.value }} setups={props.setups} />}
      </section>
    </details>
  );
}

// Programs for some of the seats: one new ring, a seat cut again.
export function SomeSeats(props: { order: string[]; setups: string[] }) {
  const picked = useSignal<string[]>([]);
  const pick = (v: string) => {
    picked.value = picked.value.includes(v) ? picked.value.filter((p) => p !== v) : [...picked.value, v];
  };
  const only = props.order.filter((v) => picked.value.includes(v)).join(',');
  return (
    <details class="fold no-print">
      <summary>Some seats only</summary>
      <fieldset class="choice">
        <legend>Programs for these alone</legend>
        {props.order.map((v) => <label key={v}><input type="checkbox" checked={picked.value.includes(v)} onChange={() => pick(v)} />{v}</label>)}
      </fieldset>
      {only !== '' && <PlanOfPart key={only} part={{ only }} setups={props.setups} />}
    </details>
  );
}

export function PlanOfPart(props: { part: Part; setups: string[] }) {
  const { part, setups } = props;
  const result = useSignal<CutResult | null>(null);
  const trouble = useSignal<string | null>(null);
  const address = `/jobs/${job.value?.id ?? 0}/results/cut?${new URLSearchParams({ ...part, head: state.value?.head ?? '' })}`;
  const fresh = drawn.value;
  useEffect(() => {
    let mine = true; // an answer that comes too late is another seat's
    get<CutResult>(address).then((r) => { if (mine) [result.value, trouble.value] = [r, null]; })
      .catch((f: unknown) => { if (mine) [result.value, trouble.value] = [null, sentenceOf(f)]; });
    return () => { mine = false; };
  }, [address, fresh]);
  if (trouble.value !== null) return <p class="sentence" role="alert">{trouble.value}</p>;
  const now = result.value;
  if (now === null) return <p role="status">Planning it …</p>;
  return (
    <>
      <Warnings warnings={(now.warnings ?? []).filter((w) => w.stage === 'cut')} />
      {setups.map((s) => <PartOfHead key={s} result={now} setup={s} part={part} />)}
      <HeldBackList part held={now.held_back ?? []} setups={setups.length} />
    </>
  );
}
