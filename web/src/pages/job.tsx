// One job: a strip of the five stages with their marks, and the room of the one that is open. The step at the machine has a
// room of its own.

import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { post, sentenceOf } from '../api/client';
import { stages, type Stage, type Task } from '../api/types';
import { Conflicts } from '../parts/conflicts';
import { later } from '../parts/later';
import { labelled } from '../parts/plain';
import { StageMark } from '../parts/mark';
import { OldProgram, useSent } from '../parts/sent_files';
import { when } from '../parts/when';
import { CutRoom } from '../stages/cut/room';
import { FindRoom } from '../stages/find/room';
import { HoldRoom } from '../stages/hold/room';
import { MachineRoom } from '../stages/machine/room';
import { ProveRoom } from '../stages/prove/room';
import { meanwhile } from '../state/away';
import { liveStages } from '../state/live_lines';
import { mayLead } from '../state/may';
import { chooseHead, closeJob, headHere, job, openJob, refresh, shown, state, trouble } from '../state/open_job';
import { preparing, stopPreparing } from '../state/prepare';
import { jobAddress, route, type Room } from '../state/route';
import { units } from '../state/settings';

const ForecastRoom = later(() => import('../stages/forecast/room').then((m) => m.ForecastRoom));
const DataRoom = later(() => import('../stages/data/room').then((m) => m.DataRoom));
const ShapeRoom = later(() => import('../stages/shape/room').then((m) => m.ShapeRoom), /\/shape/);

const nameOf: Record<Room, string> = { hold: 'Hold', find: 'Find', shape: 'Shape', cut: 'Cut', prove: 'Prove', data: 'Drawing data', machine: 'At the machine', forecast: 'Forecast' };

export function JobPage(props: { id: number; room: Room }) {
  useEffect(() => {
    openJob(props.id);
    return closeJob;
  }, [props.id]);
  const unit = units.value;
  useEffect(() => void refresh(), [unit]);
  const asked = route.value.page === 'job' ? route.value.head : undefined; // a link names its head
  const known = job.value !== null;
  useEffect(() => {
    if (asked === undefined || !known) return;
    chooseHead(asked);
    history.replaceState(null, '', jobAddress(props.id, props.room)); // from here on the head is what is chosen on the page
  }, [asked, known]);
  const title = job.value?.title;
  const head = headHere.value;
  useEffect(() => {
    if (title !== undefined) document.title = `Head ${head}, ${nameOf[props.room]}: ${title}`;
    return () => { document.title = 'Seatwright'; };
  }, [title, head, props.room]);
  useFocusOnRoom(props.room);
  useSent();
  if (!job.value || !state.value) {
    return <main class="page">{preparing.value ? <Preparing task={preparing.value} /> : <p role="status">{trouble.value ?? 'Fetching the job.'}</p>}</main>;
  }
  return (
    <>
      <button type="button" class="skip" onClick={() => document.querySelector<HTMLElement>('.room h2')?.focus()}>Skip to the room</button>
      {props.room !== 'machine' && <Strip id={props.id} room={props.room} />}
      <main>
        <section class={`room room-${props.room}`} aria-label={props.room} key={props.room}>
          <OldProgram />
          <OpenLimits />
          <RoomOf room={props.room} />
          {props.room !== 'machine' && <TitleBlock />}
        </section>
      </main>
    </>
  );
}

// The focus moves with the stage, so that what is read aloud and what Tab reaches next is the room just opened.
function useFocusOnRoom(room: Room): void {
  const last = useRef(room);
  useEffect(() => {
    if (last.current === room) return;
    last.current = room;
    scrollTo(0, 0);
    document.querySelector<HTMLElement>('.room h2')?.focus({ preventScroll: true });
  }, [room]);
}

function Strip(props: { id: number; room: Room }) {
  return (
    <nav class="strip-stages" aria-label="Stages">
      <ol class="stages">
        {stages.map((stage) => <li key={stage}><StageLink stage={stage} open={props.room === stage} id={props.id} /></li>)}
      </ol>
      <a class="at-machine" href={jobAddress(props.id, 'machine')}>At the machine</a>
      <a class="at-machine" href={jobAddress(props.id, 'forecast')} aria-current={props.room === 'forecast' ? 'page' : undefined}>Forecast</a>
      <a class="data-link" href={jobAddress(props.id, 'data')} aria-current={props.room === 'data' ? 'page' : undefined}>Drawing data and file</a>
    </nav>
  );
}

function StageLink(props: { stage: Stage; open: boolean; id: number }) {
  return (
    <a href={jobAddress(props.id, props.stage)} aria-current={props.open ? 'page' : undefined} data-stage={props.stage}>
      <span class="stage-name">{props.stage}</span>
      <StageMark mark={liveStages.value[props.stage].mark} />
    </a>
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

function RoomOf(props: { room: Room }) {
  const lacking = state.value?.lacking ?? null;
  const body = {
    hold: <HoldRoom />, find: <FindRoom />, shape: <ShapeRoom />, cut: <CutRoom />, prove: <ProveRoom />, data: <DataRoom />, machine: <MachineRoom />, forecast: <ForecastRoom />,
  }[props.room];
  return (
    <>
      <Meanwhile id={job.value?.id ?? 0} />
      <Conflicts />
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      {lacking !== null && props.room !== 'machine' && <p class="sentence" role="status" data-lacking>{lacking}</p>}
      {body}
    </>
  );
}

// What others did while this screen was elsewhere; gone when it was read.
function Meanwhile(props: { id: number }) {
  const said = meanwhile.value;
  if (said?.job !== props.id) return null;
  return (
    <div class="meanwhile no-print" role="status">
      <p>Since you were last here: {said.words} <a href={`#/ledger/${props.id}`}>Ledger</a></p>
      <button type="button" onClick={() => { meanwhile.value = null; }}>Seen</button>
    </div>
  );
}

// The block in the corner of the sheet: what this is, whose, which state of it.
function TitleBlock() {
  const here = job.value;
  if (!here) return null;
  const cells: [string, string][] = [
    ['Job', here.title],
    ['Head', here.head],
    ['Valves', String(here.valves)],
    ['Readings of head', headHere.value],
    ['Shown in', shown.value === 'in' ? 'inch' : 'mm'],
    ['State', `change ${here.version}, entry ${here.sequence}`],
    ['Last', `${here.changed_by}, ${when(here.changed_at)}`],
  ];
  return (
    <dl class="title-block">
      {cells.map(([name, value]) => <div key={name}><dt>{name}</dt><dd>{value}</dd></div>)}
    </dl>
  );
}

// A job that came in with limits that are not the shop's says so until a lead accepts them.
function OpenLimits() {
  const said = useSignal<string | null>(null);
  const open = job.value?.open_limits;
  if (!job.value || !open) return null;
  const id = job.value.id;
  const accept = async () => {
    try {
      await post(`/jobs/${id}/limits`);
      await refresh();
    } catch (fault) {
      said.value = sentenceOf(fault);
    }
  };
  return (
    <p class="acts no-print open-limits">
      <span>This job came in with limits or settings that are not the shop’s ({labelled(open)}); no lead has accepted them yet, and its papers say so.</span>
      {mayLead() && <button type="button" onClick={() => void accept()}>Accept them</button>}
      {said.value && <span role="alert">{said.value}</span>}
    </p>
  );
}
