// Flow by geometry, for information: the throat, and the curtain between valve and seat over lift.

import type { Flow } from '../../api/types';
import { areaNumber, areaUnit, inWords, showLength, showNumber } from '../../numbers/show';
import { Table } from '../../parts/table';
import { shown } from '../../state/open_job';

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
