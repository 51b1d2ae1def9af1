// cut: speed, feed, order and program, and how long it takes.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { getText, sentenceOf } from '../../api/client';
import type { CutResult } from '../../api/types';
import { showLength, showNumber, showTime } from '../../numbers/show';
import { Row, Rows } from '../../parts/numbers';
import { Assumptions } from '../../parts/warnings';
import { job, shown, state, drawn } from '../../state/open_job';
import { DoneWord, drawingsOf, FramedDrawing, RoomHead, SetupChoice, StageWarnings } from '../room_parts';
import { Wide } from '../../parts/wide';

export function CutRoom() {
  const chosen = useSignal('');
  const result = state.value?.results.cut;
  const programs = result?.programs ?? [];
  const setupIds = state.value?.results.hold?.setups.map((s) => s.id) ?? [];
  const setup = setupIds.includes(chosen.value) ? chosen.value : setupIds[0] ?? '';
  const program = programs.find((p) => p.setup === setup);
  const drawings = drawingsOf('cut');
  const paths = drawings.filter((d) => d.takes?.includes('setup'));
  const others = drawings.filter((d) => !d.takes?.includes('setup'));
  return (
    <>
      <RoomHead stage="cut">
        <SetupChoice ids={setupIds} chosen={setup} choose={(s) => { chosen.value = s; }} />
      </RoomHead>
      <div class="two">
        <div>
          {others.map((d) => <FramedDrawing key={d.name} drawing={d} />)}
          <StageWarnings stage="cut" />
        </div>
        <div>
          {result && <TimeRows result={result} />}
          {result?.estimate && <Estimate estimate={result.estimate} />}
          <DoneWord stage="cut" />
        </div>
      </div>
      <section aria-label="Program">
        <h3>Program of setup {setup}</h3>
        <Earned checked={program?.checked ?? false} lines={program?.lines} />
        <div class="two">
          <div>{paths.map((d) => <FramedDrawing key={d.name} drawing={d} query={{ setup }} />)}</div>
          {program && <ProgramText file={program.file} />}
        </div>
      </section>
      {result && <SeatTable result={result} />}
      <Assumptions lines={result?.assumptions} />
    </>
  );
}

function Earned(props: { checked: boolean; lines: number | undefined }) {
  if (!props.checked) return <span class="mark mark-attention">not handed out: its read-back did not pass</span>;
  return (
    <span class="mark">
      <svg viewBox="0 0 20 20" aria-hidden="true"><rect x="2.5" y="2.5" width="15" height="15" class="mark-line" /><path d="M5.5 10.5 L9 14 L15 6" class="mark-line" /></svg>
      <span>{`read back and found right, ${props.lines ?? 0} lines`}</span>
    </span>
  );
}

function ProgramText(props: { file: string }) {
  const text = useSignal('');
  const id = job.value?.id ?? 0;
  const address = `/jobs/${id}/papers/${encodeURIComponent(props.file)}?head=${encodeURIComponent(state.value?.head ?? '')}`;
  const fresh = drawn.value;
  useEffect(() => {
    getText(address).then((t) => { text.value = t; }).catch((f: unknown) => { text.value = sentenceOf(f); });
  }, [address, fresh]);
  return (
    <div>
      <pre class="program-text" tabIndex={0} aria-label={`Text of ${props.file}`}>{text.value}</pre>
      <p class="acts">
        <a class="button" href={`/api${address}`} download={props.file}>Take {props.file}</a>
      </p>
    </div>
  );
}

function TimeRows(props: { result: CutResult }) {
  const { result } = props;
  const id = job.value?.id ?? 0;
  const why = (key: string) => ({ job: id, stage: 'cut' as const, key });
  return (
    <Rows title="Time">
      <Row label="A head, load to unload" why={why('seconds_head')}>{showTime(result.seconds_head)}</Row>
      <Row label="Order of work" why={why('order')}>{result.order.join(', ')}</Row>
      {result.calm_rpm.length > 0 && (
        <Row label="Calm speeds, turns a minute" why={why('calm_rpm')}>{result.calm_rpm.map((n) => n.toFixed(0)).join(', ')}</Row>
      )}
      <p>No gloves near the spindle; pilot driver out before it turns; eyes covered, chips brushed off when it stands.</p>
    </Rows>
  );
}

function Estimate(props: { estimate: NonNullable<CutResult['estimate']> }) {
  const { estimate } = props;
  return (
    <Wide name="Estimate">
      <table>
        <caption>Estimate, {estimate.currency}</caption>
        <thead><tr><th>What</th><th>count</th><th>each</th><th>amount</th></tr></thead>
        <tbody>
          {estimate.lines.map((l) => <tr key={l.what}><th scope="row">{l.what}</th><td>{l.count}</td><td>{l.rate.toFixed(2)}</td><td>{l.amount.toFixed(2)}</td></tr>)}
          <tr><th scope="row">one head</th><td /><td /><td><b>{estimate.head.toFixed(2)}</b></td></tr>
        </tbody>
      </table>
    </Wide>
  );
}

function SeatTable(props: { result: CutResult }) {
  const unit = shown.value;
  return (
    <Wide name="Each seat">
      <table>
        <caption>Each seat</caption>
        <thead>
          <tr><th>Seat</th><th>turns/min</th><th>m/min</th><th>feed a turn, {unit}</th><th>torque, Nm</th><th>power, W</th><th>thrust, N</th><th>dwell, turns</th><th>stable width</th><th>time</th></tr>
        </thead>
        <tbody>
          {props.result.seats.map((s) => (
            <tr key={s.id}>
              <th scope="row">{s.id}</th><td>{s.rpm.toFixed(0)}</td><td>{s.surface_m_per_min.toFixed(1)}</td>
              <td>{showNumber(s.feed_mm_per_turn, 'length', unit)}</td><td>{s.torque_nm.toFixed(2)}</td><td>{s.power_w.toFixed(0)}</td>
              <td>{s.thrust_n.toFixed(0)}</td><td>{s.dwell_turns.toFixed(1)}</td><td>{showLength(s.stable_width_mm, unit)}</td><td>{showTime(s.seconds)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Wide>
  );
}
