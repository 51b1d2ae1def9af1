// What follows from the depths: on each valve's train, between neighbours, and in the chambers.

import type { Flow, ShapedSeat, ShapeResult } from '../../api/types';
import { areaNumber, areaUnit, inWords, metalNumber, showLength, showNumber, volumeUnit } from '../../numbers/show';
import { Table } from '../../parts/table';
import { shown } from '../../state/open_job';

export function Follows(props: { result: ShapeResult }) {
  const { seats, chambers = [] } = props.result;
  const unit = shown.value;
  const length = (n: number | null | undefined) => showNumber(n, 'length', unit);
  const bridge = (n: number | null | undefined, to: string | null | undefined) => (n == null ? '–' : `${length(n)}${to ? ` to ${to}` : ''}`);
  const walls = seats.some((s) => s.insert_wall_mm !== null);
  const lash = seats.some((s) => s.lash_shim_thinner_mm != null);
  return (
    <>
      <Table
        caption={`What follows for each valve, ${inWords(unit)}`}
        head={['Seat', 'stem height', 'grind the tip', 'spring shim', ...(lash ? ['lash shim thinner'] : []), 'recession', `metal off, ${volumeUnit(unit)}`, 'old surface left']} words={[lash ? 7 : 6]}
        rows={seats.map((s) => ({
          key: s.id, attention: (s.still_old_mm?.length ?? 0) > 0,
          cells: [s.id, length(s.stem_height_after_mm), length(s.tip_grind_mm), length(s.spring_shim_mm), ...(lash ? [length(s.lash_shim_thinner_mm)] : []),
            length(s.recession_after_mm ?? s.recession_added_mm), metalNumber(s.removed_mm3, unit), old(s, unit)],
        }))}
      />
      <Table
        caption={`What is left between, ${inWords(unit)}`}
        head={['Seat', 'bridge', 'cutter clears', ...(walls ? ['insert wall outside', 'and inside'] : [])]}
        rows={seats.map((s) => ({
          key: s.id, attention: (s.insert_wall_mm ?? 1) <= 0 || (s.bridge_mm ?? 1) <= 0,
          cells: [s.id, bridge(s.bridge_mm, s.bridge_to), bridge(s.cutter_clearance_mm, s.cutter_clearance_to),
            ...(walls ? [length(s.insert_wall_outside_mm), length(s.insert_wall_inside_mm)] : [])],
        }))}
      />
      <Table
        caption="Chambers, cm³" head={['Cylinder', 'before', 'after', 'change', 'compression before', 'and after']}
        rows={chambers.map((c) => ({
          key: String(c.cylinder),
          cells: [c.cylinder, ...[c.before_cm3, c.after_cm3, c.change_cm3].map((v) => (v === null ? '–' : v.toFixed(2))),
            ...[c.compression_before, c.compression_after].map((r) => (r === null ? '–' : `${r.toFixed(2)} : 1`))],
        }))}
      />
    </>
  );
}

function old(seat: ShapedSeat, unit: 'in' | 'mm'): string {
  const patches = seat.still_old_mm ?? [];
  if (seat.removed_mm3 === null && patches.length === 0) return 'section not measured';
  if (patches.length === 0) return 'none';
  return patches.map(([from, to]) => `radius ${showLength(from, unit)} to ${showLength(to, unit)}`).join('; ');
}

// Flow by geometry, for information: the throat, and the curtain between valve and seat over lift.
const every = 5; // of the curve's points, a line in the table

export function FlowFigures(props: { flow: Flow[] }) {
  const unit = shown.value;
  if (props.flow.length === 0) return null;
  return (
    <details class="fold">
      <summary>Flow areas, for information</summary>
      {props.flow.map((f) => (
        <section key={f.kind}>
          <h3>{f.kind} seats</h3>
          <p>
            Throat {showLength(f.throat_diameter_mm, unit)} across the widest, {areaNumber(f.throat_mm2, unit)} {areaUnit(unit)} free. The curtain changes its shape at a lift of
            {' '}{showLength(f.second_regime_mm, unit)} and meets the throat’s area at {showLength(f.third_regime_mm, unit)}.
          </p>
          <Table
            caption={`${f.kind}: smallest area over lift`} head={[`lift, ${inWords(unit)}`, `area, ${areaUnit(unit)}`, 'of the throat']}
            rows={f.curve.filter((_, i) => i % every === 0).map(([lift, area]) => ({
              key: String(lift), cells: [showNumber(lift, 'length', unit), areaNumber(area, unit), area !== null && f.throat_mm2 ? `${((100 * area) / f.throat_mm2).toFixed(0)} %` : '–'],
            }))}
          />
        </section>
      ))}
    </details>
  );
}
