// How long a head takes and what it comes to, with what is not in the amount.

import type { CutEstimate, CutResult } from '../../api/types';
import { showLength, showTime } from '../../numbers/show';
import { Row, Rows } from '../../parts/numbers';
import { Table } from '../../parts/table';
import { job, shown } from '../../state/open_job';

const money = (amount: number | null) => amount?.toFixed(2) ?? '–';
const provenWithin = 1e-6; // of the path: longer than the bound by less is the shortest there is

export function TimeRows(props: { result: CutResult }) {
  const { result } = props;
  const { seconds: split, path_mm: path, path_bound_mm: bound } = result;
  const why = (key: string) => ({ job: job.value?.id ?? 0, stage: 'cut' as const, key });
  const shortest = path != null && bound != null && path <= bound * (1 + provenWithin);
  return (
    <Rows title="Time">
      {split && (
        <>
          <Row label="Load and unload">{showTime(split.load)}</Row>
          <Row label="Setups">{showTime(split.setups)}</Row>
          <Row label={`Cutter changes (${result.cutter_changes ?? 0})`}>{showTime(split.cutter_changes)}</Row>
          <Row label="Seats: moves, cuts, dwells" why={why('seconds')}>{showTime(split.seats)}</Row>
        </>
      )}
      <Row label="A head, load to unload" why={why('seconds_head')}><b>{showTime(result.seconds_head)}</b></Row>
      {result.seconds_batch != null && <Row label="The heads on record" why={why('seconds_head')}>{showTime(result.seconds_batch)}</Row>}
      {path != null && (
        <Row label="Way across the head" why={why('order')}>
          {`${showLength(path, shown.value)}, ${shortest ? 'none shorter' : `none below ${showLength(bound, shown.value)}`}`}
        </Row>
      )}
    </Rows>
  );
}

export function Estimate(props: { estimate: CutEstimate }) {
  const { estimate } = props;
  const left = estimate.not_included ?? [];
  return (
    <div>
      <Table
        caption={`Estimate, ${estimate.currency}`} head={['What', 'count', 'each', 'amount']}
        rows={[
          ...estimate.lines.map((l) => ({ key: l.what, cells: [l.what, l.count, money(l.rate), money(l.amount)] })),
          { key: 'head', cells: ['one head', '', '', <b>{money(estimate.head)}</b>] },
        ]}
      />
      {left.length > 0 && <p>Not included, as it may yet be found: {left.join('; ')}.</p>}
    </div>
  );
}
