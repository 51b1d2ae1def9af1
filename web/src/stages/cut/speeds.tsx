// The working speeds, the cutters in the order they go in, and the speeds at which a chattering spindle is calm.

import type { CutResult } from '../../api/types';
import { inWords, showLength, showNumber, showTime } from '../../numbers/show';
import { Row, Rows } from '../../parts/numbers';
import { Table } from '../../parts/table';
import { job, shown, state } from '../../state/open_job';

const most = 12; // calm speeds listed; slower ones lie ever closer together

export function SpeedRows(props: { result: CutResult }) {
  const { result } = props;
  const unit = shown.value;
  const why = (key: string) => ({ job: job.value?.id ?? 0, stage: 'cut' as const, key });
  const measured = state.value?.results.prove?.calm_rpm ?? [];
  const charts = result.chatter ?? [];
  const fastest = Math.max(...charts.map((c) => c.fastest_rpm ?? 0));
  const list = (all: (number | null)[]) => all.filter((n) => n !== null).filter((n) => fastest <= 0 || n <= fastest).slice(0, most).map((n) => n.toFixed(0)).join(', ') || 'none in range';
  return (
    <Rows title="Speeds and cutters">
      {charts.map((c) => (
        <Row key={c.what} label={`${c.what}, turns a minute`} why={why('stable_width_mm')} attention={!c.stable}>
          {`${c.rpm?.toFixed(0) ?? '–'}, ${c.stable ? 'steady' : 'chatters'}`}
        </Row>
      ))}
      {charts.map((c) => (
        <Row key={`${c.what}/w`} label={`Form of ${c.what} is wide`}>{showLength(c.width_mm, unit)}</Row>
      ))}
      {charts[0] && <Row label="Steady at any speed, if narrower than" why={why('stable_width_mm')}>{showLength(Math.min(...charts.map((c) => c.least_width_mm ?? Infinity)), unit)}</Row>}
      {result.cutters?.map((c) => (
        <Row long key={c.number} label={`Cutter ${c.number}`}>{`${c.cutter}, blade set to ${showLength(c.blade_setting_mm, unit)}`}</Row>
      ))}
      <Row long label="Order of work" why={why('order')}>{result.order.join(', ')}</Row>
      {result.calm_rpm.length > 0 && <Row long label="Calm by the machine’s mode, turns a minute" why={why('calm_rpm')}>{list(result.calm_rpm)}</Row>}
      {measured.length > 0 && <Row long label="Calm by the marks measured in prove" why={why('calm_rpm')}>{list(measured)}</Row>}
      <p>Wear no gloves near the spindle. Take the pilot driver out before it turns. Cover your eyes. Brush chips off only when it stands still.</p>
    </Rows>
  );
}

// Every seat's cut in numbers.
const rounded = (n: number | null, places: number) => (n === null ? '–' : n.toFixed(places));

export function SeatTable(props: { result: CutResult }) {
  const unit = shown.value;
  const length = (n: number | null | undefined) => showNumber(n, 'length', unit);
  return (
    <Table
      caption={`The cut of each seat; lengths in ${inWords(unit)}`}
      head={['Seat', 'turns a minute', 'm/min', 'feed a turn', 'chip', 'torque, Nm', 'power, W', 'thrust, N', 'dwell, turns', 'form width', 'steady to', 'time']}
      rows={props.result.seats.map((s) => ({
        key: s.id, attention: s.stable === false,
        cells: [s.id, rounded(s.rpm, 0), rounded(s.surface_m_per_min, 1), length(s.feed_mm_per_turn), length(s.chip_mm), rounded(s.torque_nm, 2),
          rounded(s.power_w, 0), rounded(s.thrust_n, 0), rounded(s.dwell_turns, 1), length(s.total_width_mm), length(s.stable_width_mm), showTime(s.seconds)],
      }))}
    />
  );
}
