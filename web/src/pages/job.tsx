// One job: the five stages down the side, each with its one-line answer; the open one in its room.

import { useEffect } from 'preact/hooks';
import { stages, type Stage, type Task } from '../api/types';
import { useNarrow } from '../parts/narrow';
import { HeadChoice } from '../parts/head_choice';
import { StageMark } from '../parts/mark';
import { TitleBlock } from '../parts/title_block';
import { closeJob, job, openJob, refresh, state, trouble } from '../state/open_job';
import { preparing, stopPreparing } from '../state/prepare';
import { units } from '../state/settings';
import { jobAddress, type Room } from '../state/route';
import { mayRedo, redo, undo, undoTrouble, undoWords } from '../state/undo';
import { liveStages } from '../state/live_lines';
import { Conflicts } from '../parts/conflicts';
import { DataRoom } from '../stages/data/room';
import { HoldRoom } from '../stages/hold/room';
import { FindRoom } from '../stages/find/room';
import { ShapeRoom } from '../stages/shape/room';
import { CutRoom } from '../stages/cut/room';
import { ProveRoom } from '../stages/prove/room';

export function JobPage(props: { id: number; room: Room }) {
  const inside = useNarrow(); // on a phone the room stands under its stage
  useEffect(() => {
    openJob(props.id);
    return closeJob;
  }, [props.id]);
  const unit = units.value;
  useEffect(() => void refresh(), [unit]);
  if (!job.value || !state.value) {
    return <main class="page">{preparing.value ? <Preparing task={preparing.value} /> : <p role="status">{trouble.value ?? 'Fetching the job.'}</p>}</main>;
  }
  const room = <section class="room" aria-label={props.room} key={props.room}><RoomOf room={props.room} /><TitleBlock /></section>;
  return (
    <div class="job">
      <aside class="side">
        <h1>{job.value.title}</h1>
        <HeadChoice />
        <nav aria-label="Stages">
          <ol class="stages">
            {stages.map((stage, i) => (
              <li key={stage}>
                <StageLink stage={stage} number={i + 1} open={props.room === stage} id={props.id} />
                {inside && props.room === stage && room}
              </li>
            ))}
          </ol>
          <a class="data-link" href={jobAddress(props.id, 'data')} aria-current={props.room === 'data' ? 'page' : undefined}>
            <span aria-hidden="true" />Drawing data and file
          </a>
        </nav>
        {inside && props.room === 'data' && room}
        <UndoRedo />
      </aside>
      {!inside && <main>{room}</main>}
    </div>
  );
}

function Preparing(props: { task: Task }) {
  const { task } = props;
  return (
    <section role="status">
      <p>{task.sentence}</p>
      <progress value={task.done} max={Math.max(task.total, 1)} aria-label="How far it has come" />
      <p class="acts"><button type="button" onClick={() => void stopPreparing()}>Stop it</button></p>
    </section>
  );
}

function StageLink(props: { stage: Stage; number: number; open: boolean; id: number }) {
  const now = liveStages.value[props.stage];
  return (
    <a href={jobAddress(props.id, props.stage)} aria-current={props.open ? 'page' : undefined} data-stage={props.stage}>
      <span class="balloon" aria-hidden="true">{props.number}</span>
      <span class="stage-name">{props.stage}</span>
      <StageMark mark={now.mark} />
      <span class="stage-line">{now.line}</span>
    </a>
  );
}

function UndoRedo() {
  const words = undoWords();
  return (
    <div class="acts">
      <button type="button" disabled={words === null} onClick={() => void undo()}>{words ?? 'Nothing to undo'}</button>
      {mayRedo() && <button type="button" onClick={() => void redo()}>Redo</button>}
      {undoTrouble.value && <p class="sentence" role="alert">{undoTrouble.value}</p>}
    </div>
  );
}

function RoomOf(props: { room: Room }) {
  const lacking = state.value?.lacking ?? null;
  const body = {
    hold: <HoldRoom />, find: <FindRoom />, shape: <ShapeRoom />, cut: <CutRoom />, prove: <ProveRoom />, data: <DataRoom />,
  }[props.room];
  return (
    <>
      <Conflicts />
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      {lacking !== null && <p class="sentence" role="status" data-lacking>{lacking}</p>}
      {body}
    </>
  );
}
