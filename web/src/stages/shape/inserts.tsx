// Press fits of inserts and guides, with what to heed when parts are cooled or castings heated.

import type { ShapeResult } from '../../api/types';
import { inWords, showNumber } from '../../numbers/show';
import { Fold } from '../../parts/fold';
import { Table } from '../../parts/table';
import { shown } from '../../state/open_job';

const rounded = (n: number | null | undefined, places: number) => (n == null ? '–' : n.toFixed(places));
const degrees = (n: number | null | undefined) => (n == null ? 'not by this alone' : `${n.toFixed(0)} °C`);

export function PressFits(props: { result: ShapeResult }) {
  const { inserts, guides = [], seats } = props.result;
  const unit = shown.value;
  const length = (n: number | null | undefined) => showNumber(n, 'length', unit);
  const proposed = seats.filter((s) => s.decision === 'insert').map((s) => s.id);
  if (inserts.length + guides.length === 0 && proposed.length === 0) return null;
  return (
    <section aria-label="Press fits">
      <Fold title="Press fits" note={proposed.length > 0 ? `an insert is proposed for ${proposed.join(', ')}` : inserts.length > 0 ? `${inserts.length} inserts` : ''}>
      {proposed.length > 0 && (
        <p class="sentence">
          {proposed.join(', ')}: beyond the limit, so an insert is proposed; the other seats are planned without {proposed.length === 1 ? 'it' : 'them'}.
          {inserts.length === 0 ? ' Type the ring’s outside, inside and depth in the drawing data. Its fit then stands here.' : ''}
        </p>
      )}
      <Table
        caption={`Counterbore for each insert, ${inWords(unit)}`} head={['Seat', 'bore', '± ', 'deep', '±', 'press fit on the diameter']}
        rows={inserts.map((i) => ({
          key: i.id,
          cells: [i.id, ...[i.counterbore_mm, i.counterbore_within_mm, i.counterbore_depth_mm, i.counterbore_depth_within_mm, i.interference_mm].map(length)],
        }))}
      />
      <Table
        caption="How each insert holds"
        head={['Seat', 'pressure, MPa', 'running hot, MPa', 'at, °C', 'holds, N', 'hoop in the head, MPa', 'in the ring, MPa', 'ring drops in at', 'or head opens at']}
        rows={inserts.map((i) => ({
          key: i.id, attention: i.pressure_hot_mpa !== null && i.pressure_hot_mpa <= 0,
          cells: [i.id, rounded(i.pressure_mpa, 1), rounded(i.pressure_hot_mpa, 1), rounded(i.running_temp_c, 0), rounded(i.hold_force_n, 0),
            rounded(i.hoop_mpa, 0), rounded(i.ring_hoop_mpa, 0), degrees(i.insert_temp_c), degrees(i.head_temp_c)],
        }))}
      />
      <Table
        caption="How each guide holds"
        head={['Guides', `press fit, ${inWords(unit)}`, 'pressure, MPa', 'running hot, MPa', 'holds, N', 'hoop in the head, MPa', 'guide drops in at', 'or head opens at']}
        rows={guides.map((g) => ({
          key: g.kind,
          cells: [g.kind, length(g.interference_mm), rounded(g.pressure_mpa, 1), rounded(g.pressure_hot_mpa, 1), rounded(g.hold_force_n, 0),
            rounded(g.hoop_mpa, 0), degrees(g.guide_temp_c), degrees(g.head_temp_c)],
        }))}
      />
      <p>Cold rings burn. Wear insulated gloves and a face shield, and air the room: liquid nitrogen drives out the air you breathe. A hot casting looks like a cold one: mark it.</p>
      </Fold>
    </section>
  );
}
