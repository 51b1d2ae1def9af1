// prove: what was measured after cutting, the verdicts, the batch, the certificate.

import { useSignal } from '@preact/signals';
import type { ProvedSeat } from '../../api/types';
import { showAngle, showLength } from '../../numbers/show';
import { EntryList } from '../../parts/entry_list';
import { VerdictMark } from '../../parts/mark';
import { Row, Rows } from '../../parts/numbers';
import { Assumptions } from '../../parts/warnings';
import { mayRecord } from '../../state/may';
import { headHere, job, shown, state } from '../../state/open_job';
import { DoneWord, drawingsOf, FramedDrawing, RoomHead, StageWarnings } from '../room_parts';
import { Batch } from './batch';
import { ProofEntry } from './proof_entry';
import { VerdictTable } from './verdicts';
import { unmeasured } from './walk';

export function ProveRoom() {
  const wanted = useSignal<string | null>(null);
  const here = headHere.value;
  const result = state.value?.results.prove;
  const at = wanted.value ?? unmeasured(here);
  const seat = result?.seats.find((s) => s.head === here && s.id === (wanted.value ?? lastMeasured(result.seats, here)));
  const drawings = drawingsOf('prove');
  const id = job.value?.id ?? 0;
  return (
    <>
      <RoomHead stage="prove">
        {result && <p>Verdict: <VerdictMark verdict={result.verdict} /></p>}
      </RoomHead>
      <div class="two">
        <div>
          {drawings.filter((d) => d.takes?.includes('valve')).map((d) => seat && <FramedDrawing key={d.name} drawing={d} query={{ valve: seat.id }} />)}
          {seat && <SeatRows seat={seat} id={id} />}
          <StageWarnings stage="prove" onPick={(v) => { wanted.value = v; }} />
        </div>
        <div>
          {mayRecord() && at && <ProofEntry job={id} head={here} valve={at} pick={(v) => { wanted.value = v; }} moveOn={() => { wanted.value = null; }} />}
          <EntryList kinds={['proof']} head={here} title="Measured after cutting" />
        </div>
      </div>
      {result && <VerdictTable seats={result.seats.filter((s) => s.head === here)} overrides={state.value?.overrides ?? []} pick={(v) => { wanted.value = v; }} />}
      {result && <Batch result={result} />}
      {drawings.filter((d) => d.takes?.includes('what')).map((d) => result?.batch.map((line) => (
        <FramedDrawing key={`${line.what}/${line.kind}`} query={{ what: line.what, kind: line.kind }}
                       drawing={{ ...d, title: `${d.title}: ${line.what}, ${line.kind}` }} />
      )))}
      {drawings.filter((d) => seat && !d.takes?.includes('valve') && !d.takes?.includes('what')).map((d) => (
        <FramedDrawing key={d.name} drawing={d} narrow={d.name.includes('certificate')}>
          {d.name.includes('certificate') && <a class="button" href={`/api/jobs/${id}/papers/certificate.pdf?units=${shown.value}`} download="certificate.pdf">Take the certificate</a>}
        </FramedDrawing>
      ))}
      {!drawings.some((d) => d.name.includes('certificate')) && result && (
        <p class="acts"><a class="button" href={`/api/jobs/${id}/papers/certificate.pdf?units=${shown.value}`} download="certificate.pdf">Take the certificate</a></p>
      )}
      <Assumptions lines={result?.assumptions} />
      <DoneWord stage="prove" />
    </>
  );
}

const lastMeasured = (seats: ProvedSeat[], here: string) =>
  seats.filter((s) => s.head === here && s.tir_mm !== null).at(-1)?.id ?? seats.find((s) => s.head === here)?.id;

function SeatRows(props: { seat: ProvedSeat; id: number }) {
  const { seat, id } = props;
  const unit = shown.value;
  const why = (key: string) => ({ job: id, stage: 'prove' as const, key });
  const strongest = [...seat.harmonics_mm].filter((h) => h.order >= 2).sort((a, b) => b.amplitude_mm - a.amplitude_mm)[0];
  return (
    <Rows title={`Seat ${seat.id}`}>
      <Row label="Runout, full swing (TIR)" why={why('tir_mm')}>{showLength(seat.tir_mm, unit)}</Row>
      <Row label="Eccentricity and where to" why={why('eccentricity_mm')}>
        {seat.eccentricity_mm === null ? '–' : `${showLength(seat.eccentricity_mm, unit)} at ${showAngle(seat.eccentricity_deg, 0)}`}
      </Row>
      <Row label="Out-of-round, minimum zone" why={why('roundness_mm')}>{showLength(seat.roundness_mm?.mz, unit)}</Row>
      <Row label="Out-of-round, least squares" why={why('roundness_mm')}>{showLength(seat.roundness_mm?.ls, unit)}</Row>
      {strongest && <Row label="Strongest wave" why={why('harmonics_mm')}>{`${strongest.order} a turn, ${showLength(strongest.amplitude_mm, unit)}`}</Row>}
      {seat.causes?.map((c) => <p key={c.what}><b>{c.sureness}</b>: {c.statement}</p>)}
    </Rows>
  );
}
