// Every seat's cut in numbers.

import type { CutResult } from '../../api/types';
import { inWords, showNumber, showTime } from '../../numbers/show';
import { Table } from '../../parts/table';
import { shown } from '../../state/open_job';

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
