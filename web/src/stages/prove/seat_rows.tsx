// One seat measured: its numbers, and what most likely made them so, each cause with its share and how sure that is.

import type { Cause, ProvedSeat } from '../../api/types';
import { show, showAngle, showLength } from '../../numbers/show';
import { Fold } from '../../parts/fold';
import { Row, Rows } from '../../parts/numbers';
import { shown } from '../../state/open_job';

const told = 5e-5; // mm: a wave less than this shows as nothing

export function SeatRows(props: { seat: ProvedSeat; id: number }) {
  const { seat, id } = props;
  const unit = shown.value;
  const why = (key: string) => ({ job: id, stage: 'prove' as const, key });
  const strongest = [...seat.harmonics_mm].filter((h) => h.order >= 2).sort((a, b) => (b.amplitude_mm ?? 0) - (a.amplitude_mm ?? 0))[0];
  const round = seat.roundness_mm;
  return (
    <>
      <Rows title={`Seat ${seat.id} of head ${seat.head}`}>
        <Row label="Runout, full swing (TIR)" why={why('tir_mm')}>{showLength(seat.tir_mm, unit)}</Row>
        {seat.slipped_zero && (
          <p class="sentence">
            The zero slipped by {showLength(seat.slipped_zero.step_mm, unit)} at reading {seat.slipped_zero.reading + 1}: trace it again.
          </p>
        )}
        <Causes causes={seat.causes ?? []} />
      </Rows>
      <Fold title={`Seat ${seat.id} in numbers`} note="out-of-round, waves, by whom">
        <Row label="Eccentricity and where to" why={why('eccentricity_mm')}>
          {seat.eccentricity_mm === null ? '–' : `${showLength(seat.eccentricity_mm, unit)} at ${showAngle(seat.eccentricity_deg, 0)}`}
        </Row>
        <Row label="Out-of-round, minimum zone" why={why('roundness_mm')}>{showLength(round?.mz, unit)}</Row>
        <Row label="Out-of-round, least squares" why={why('roundness_mm')}>{showLength(round?.ls, unit)}</Row>
        <Row label="Out-of-round, about the smallest circle round it" why={why('roundness_mm')}>{showLength(round?.mc, unit)}</Row>
        <Row label="Out-of-round, about the largest circle inside" why={why('roundness_mm')}>{showLength(round?.mi, unit)}</Row>
        {strongest && (strongest.amplitude_mm ?? 0) >= told && <Row label="Strongest wave" why={why('harmonics_mm')}>{`${strongest.order} a turn, ${showLength(strongest.amplitude_mm, unit)}`}</Row>}
        {seat.leak_kpa_per_s != null && <Row label="Vacuum lost a second">{show(seat.leak_kpa_per_s, 'vacuum', unit)}</Row>}
        {said(seat) !== '' && <p class="quiet">{said(seat)}</p>}
      </Fold>
    </>
  );
}

function Causes(props: { causes: Cause[] }) {
  if (props.causes.length === 0) return null;
  return (
    <>
      <h3>Likely causes</h3>
      <ul class="causes">
        {props.causes.map((c) => (
          <li key={c.what}>
            <p>
              <b>{c.what}</b>{c.share === null ? '' : `, ${(100 * c.share).toFixed(0)} % of what the trace shows`}
              {c.share !== null && <svg class="share" viewBox="0 0 100 12" aria-hidden="true"><rect x="0.5" y="0.5" width="99" height="11" class="mark-line" /><rect y="0" x="0" height="12" width={100 * c.share} class="mark-fill" /></svg>}
            </p>
            <p>{c.statement}{c.frequency_hz ? ` (${c.frequency_hz.toFixed(0)} Hz; the calm speeds stand in cut)` : ''}</p>
            <p class="quiet">{c.sureness}</p>
          </li>
        ))}
      </ul>
    </>
  );
}

const said = (seat: ProvedSeat) => [
  seat.by ? `measured by ${seat.by}` : '', seat.date ? `on ${seat.date}` : '', seat.gauge ? `with ${seat.gauge}` : '',
  seat.calibrated ? `calibrated ${seat.calibrated}` : '', seat.accepted_by ? `accepted as it is by ${seat.accepted_by}` : '',
].filter((w) => w !== '').join(', ');
