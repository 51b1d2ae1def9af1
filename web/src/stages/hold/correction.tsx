// What the level readings say: the lean, the sensor's own error, which guides differ, the turn that puts it right
// and what that turn moves in the map.

import type { Level } from '../../api/types';
import { inWords, showAngle, showNumber } from '../../numbers/show';
import { Fold } from '../../parts/fold';
import { plain } from '../../parts/plain';
import { Row, Rows } from '../../parts/numbers';
import { Table } from '../../parts/table';
import { shown, state } from '../../state/open_job';
import { Bubbles } from './bubble';

export function Correction(props: { id: number }) {
  const level = state.value?.results.hold?.level;
  if (!level) return null;
  const why = (key: string) => ({ job: props.id, stage: 'hold' as const, key });
  return (
    <>
    <div class="leveled">
      <Bubbles level={level} />
      <div>{level.words?.map((w) => <p class="correction" key={w}><b>By the level: {plain(w)}</b></p>)}</div>
    </div>
    <Fold title="What the level says" note={level.head ? `head ${level.head}` : ''}>
    <Rows>
      <Row label="Guides lean to the back" why={why('incline_deg')}>{showAngle(level.incline_deg, 3)}</Row>
      <Row label="Guides lean along the head" why={why('cant_deg')}>{showAngle(level.cant_deg, 3)}</Row>
      <Row long={level.incline_bias_deg === null} label="The level itself is out, read to the back" why={why('incline_bias_deg')}>{bias(level.incline_bias_deg, level.incline_bias_sd_deg)}</Row>
      <Row long={level.cant_bias_deg === null} label="The level itself is out, read along the head" why={why('incline_bias_deg')}>{bias(level.cant_bias_deg, level.cant_bias_sd_deg)}</Row>
      <Row label="Guides differ among themselves (sd)" why={why('scatter_deg')}>{showAngle(level.scatter_deg, 3)}</Row>
      <Details level={level} />
    </Rows>
    </Fold>
    </>
  );
}

function bias(deg: number | null, sd: number | null | undefined): string {
  if (deg === null) return 'not known: turn it round';
  return sd ? `${showAngle(deg, 3)} ± ${showAngle(sd, 3)}` : showAngle(deg, 3);
}

function Details(props: { level: Level }) {
  const unit = shown.value;
  const { guides = [], map_shift_mm: shifts = [] } = props.level;
  return (
    <details>
      <summary>Guide by guide, and what the turn moves</summary>
      <Table
        caption="Lean of each guide read" head={['Guide', 'to the back', 'along the head', 'agrees']} words={[3]}
        rows={guides.map((g) => ({
          key: g.id, attention: g.outlier,
          cells: [g.id, showAngle(g.incline_deg, 3), showAngle(g.cant_deg, 3), g.outlier ? 'no: set aside, read it again' : 'yes'],
        }))}
      />
      <Table
        caption={`The turn moves the map by, ${inWords(unit)}`} head={['Guide', 'X', 'Y', 'Z']}
        rows={shifts.map((m) => ({ key: m.id, cells: [m.id, ...[m.x_mm, m.y_mm, m.z_mm].map((n) => showNumber(n, 'length', unit))] }))}
      />
    </details>
  );
}
