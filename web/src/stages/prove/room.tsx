// prove: what was measured after cutting, the verdicts, the batch, the certificate.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { ProvedSeat } from '../../api/types';
import { begunAt } from '../../entry/draft';
import { EntryList } from '../../parts/entry_list';
import { VerdictMark } from '../../parts/mark';
import { PaperPages } from '../../parts/paper_pages';
import { Assumptions } from '../../parts/warnings';
import { mayRecord } from '../../state/may';
import { headHere, job, state } from '../../state/open_job';
import { DoneWord, drawingsOf, FramedDrawing, planOnly, RoomHead, StageWarnings } from '../room_parts';
import { Batch } from './batch';
import { Limits } from './limits';
import { ProofEntry, proofFields } from './proof_entry';
import { SeatRows } from './seat_rows';
import { VerdictTable } from './verdicts';
import { unmeasured, walkingOrder } from './walk';

export function ProveRoom() {
  const wanted = useSignal<string | null>(null);
  const here = headHere.value;
  const result = state.value?.results.prove;
  const id = job.value?.id ?? 0;
  useEffect(() => { wanted.value = begunAt(walkingOrder(), (v) => proofFields(id, here, v)) ?? null; }, [id, here]);
  const at = wanted.value ?? unmeasured(here);
  const seat = result?.seats.find((s) => s.head === here && s.id === (wanted.value ?? lastMeasured(result.seats, here)));
  const traced = (seat?.harmonics_mm.length ?? 0) > 0; // one number has no shape to draw
  const drawings = drawingsOf('prove');
  const pick = (valve: string) => { wanted.value = valve; };
  const open = result?.unmeasured?.filter((u) => u.head === here).map((u) => u.id) ?? [];
  return (
    <>
      <RoomHead stage="prove">
        {result && <p>Verdict: <VerdictMark verdict={result.verdict} /></p>}
      </RoomHead>
      <div class="two enters walks">
        <div>
          {!seat && <p class="sentence">Nothing is measured on head {here} yet. Begin with seat {at}.</p>}
          {!seat && planOnly().map((d) => <FramedDrawing key={d.name} drawing={d} onPick={pick} />)}
          {traced && drawings.filter((d) => d.takes?.includes('valve')).map((d) => <FramedDrawing key={d.name} drawing={d} query={{ valve: seat?.id }} />)}
          {seat && drawings.filter((d) => d.name === 'verdicts').map((d) => <FramedDrawing key={d.name} drawing={d} onPick={pick} />)}
          <StageWarnings stage="prove" onPick={pick} />
        </div>
        <div>
          {mayRecord() && at && <ProofEntry job={id} head={here} valve={at} pick={pick} moveOn={() => { wanted.value = null; }} />}
          <EntryList kinds={['proof']} head={here} title="Measured after cutting" />
          <Limits />
          {seat && <SeatRows seat={seat} id={id} />}
        </div>
      </div>
      {result && <VerdictTable seats={result.seats.filter((s) => s.head === here)} overrides={state.value?.overrides ?? []} pick={pick} />}
      {open.length > 0 && <p class="sentence">Not measured on this head: {open.join(', ')}. What is not measured is never a pass.</p>}
      {result && <Batch result={result} charts={drawings.filter((d) => d.takes?.includes('what'))} />}
      <PaperPages name="certificate.pdf" beside={['results.csv', 'proof.json']} />
      <Assumptions lines={result?.assumptions} />
      <DoneWord stage="prove" />
    </>
  );
}

const lastMeasured = (seats: ProvedSeat[], here: string) =>
  seats.filter((s) => s.head === here && s.tir_mm !== null).at(-1)?.id ?? seats.find((s) => s.head === here)?.id;
