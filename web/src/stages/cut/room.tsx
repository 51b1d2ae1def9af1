// cut: speed, feed, order and program, and how long it takes.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { getText, sentenceOf } from '../../api/client';
import type { CutResult } from '../../api/types';
import { Assumptions } from '../../parts/warnings';
import { job, state, drawn } from '../../state/open_job';
import { DoneWord, drawingsOf, FramedDrawing, RoomHead, SetupChoice, StageWarnings } from '../room_parts';
import { Dialect } from './dialect';
import { Marks } from './marks';
import { Material } from './material';
import { SeatTable } from './seats';
import { SpeedRows } from './speeds';
import { Estimate, TimeRows } from './time';

export function CutRoom() {
  const chosen = useSignal('');
  const result = state.value?.results.cut;
  const programs = result?.programs ?? [];
  const setupIds = state.value?.results.hold?.setups.map((s) => s.id) ?? [];
  const setup = setupIds.includes(chosen.value) ? chosen.value : setupIds[0] ?? '';
  const program = programs.find((p) => p.setup === setup);
  const drawings = drawingsOf('cut');
  const paths = drawings.filter((d) => d.takes?.includes('setup'));
  const charts = drawings.filter((d) => !d.takes?.includes('setup'));
  return (
    <>
      <RoomHead stage="cut">
        <SetupChoice ids={setupIds} chosen={setup} choose={(s) => { chosen.value = s; }} />
      </RoomHead>
      <Material />
      <div class="two">
        <div>
          {charts.map((d) => (result?.chatter?.length ? result.chatter : [{ what: '' }]).map((c) => (
            <FramedDrawing key={`${d.name}/${c.what}`} drawing={{ ...d, title: c.what ? `${d.title}: ${c.what}` : d.title }} query={{ what: c.what }} />
          )))}
          <StageWarnings stage="cut" />
        </div>
        <div>
          {result && <SpeedRows result={result} />}
          <Marks />
        </div>
      </div>
      <section aria-label="Program">
        <h3>Program of setup {setup}</h3>
        <div class="acts">
          <Earned program={program} />
          <Dialect />
        </div>
        <div class="two beside">
          <div>{paths.map((d) => <FramedDrawing key={d.name} drawing={d} query={{ setup }} />)}</div>
          {program && <ProgramText file={program.file} />}
        </div>
      </section>
      {result && <SeatTable result={result} />}
      <div class="two even">
        {result && <TimeRows result={result} />}
        {result?.estimate && <Estimate estimate={result.estimate} />}
      </div>
      <Assumptions lines={result?.assumptions} />
      <DoneWord stage="cut" />
    </>
  );
}

function Earned(props: { program: CutResult['programs'][number] | undefined }) {
  const { program } = props;
  if (!program?.checked) return <span class="mark mark-attention">not handed out: there is none, or its read-back did not pass</span>;
  const from = program.positions === 'found' ? ', at the positions found' : program.positions === 'map' ? ', at the map’s positions: nothing is touched yet' : '';
  return (
    <span class="mark">
      <svg viewBox="0 0 20 20" aria-hidden="true"><rect x="2.5" y="2.5" width="15" height="15" class="mark-line" /><path d="M5.5 10.5 L9 14 L15 6" class="mark-line" /></svg>
      <span>{`read back and found right, ${program.lines} lines${from}`}</span>
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
