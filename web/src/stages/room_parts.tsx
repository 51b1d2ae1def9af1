// What every stage's room is made of: its heading with the answer, the drawings in their frames, what is
// lacking, and the word that it is done.

import type { ComponentChildren } from 'preact';
import type { DrawingName, Stage } from '../api/types';
import { record } from '../entry/outbox';
import { trueMinus } from '../numbers/show';
import { Drawing } from '../parts/drawing';
import { StageMark } from '../parts/mark';
import { headline, plain } from '../parts/plain';
import { UndoRedo } from '../parts/undo_redo';
import { Warnings } from '../parts/warnings';
import { liveStages } from '../state/live_lines';
import { mayRecord } from '../state/may';
import { drawn, headHere, job, shown, state } from '../state/open_job';
import { doneWords } from '../state/said_steps';

export function RoomHead(props: { stage: Stage; next?: string | undefined; children?: ComponentChildren }) {
  const now = liveStages.value[props.stage];
  const next = props.next ?? now.next;
  const needs = now.needs?.filter((n) => n !== next) ?? []; // the next one is said already
  return (
    <>
      <header class="room-head">
        {next && <p class="next-step" data-next>{headline(next, props.next === undefined ? now.frees : undefined)}</p>}
        <div class="room-said">
          <h2 tabIndex={-1}>{props.stage}</h2>
          <StageMark mark={now.mark} />
          <p class="stage-line">{trueMinus(now.line)}</p>
        </div>
        <div class="room-tools">
          {props.children}
          <UndoRedo />
        </div>
      </header>
      {needs.length > 0 && (
        <ul class="warnings" aria-label="What is missing">
          {needs.map((n) => <li key={n}>{plain(n)}</li>)}
        </ul>
      )}
    </>
  );
}

export function drawingsOf(stage: Stage): DrawingName[] {
  return state.value?.drawings.filter((d) => d.stage === stage) ?? [];
}

// While a stage has nothing of its own to draw: the head from above.
export const planOnly = () => state.value?.drawings.filter((d) => d.name === 'plan') ?? [];

export function drawingAddress(name: string, query: Record<string, string | number | undefined> = {}): string {
  const all: Record<string, string | number | undefined> = { units: shown.value, head: state.value?.head, ...query };
  const words = Object.entries(all).filter(([, v]) => v !== undefined && v !== '')
    .map(([k, v]) => `${k}=${encodeURIComponent(String(v))}`).join('&');
  return `/jobs/${job.value?.id ?? 0}/drawings/${name}.svg?${words}`;
}

export function takenBy<T>(drawing: DrawingName, query: Record<string, T>): Record<string, T> {
  return Object.fromEntries(Object.entries(query).filter(([k]) => drawing.takes?.includes(k) ?? true));
}

interface FrameProps {
  drawing: DrawingName;
  query?: Record<string, string | number | undefined>;
  instead?: string | undefined;
  narrow?: boolean;
  onDown?: (event: PointerEvent, svg: SVGSVGElement) => void;
  onPick?: (name: string) => void;
  children?: ComponentChildren;
}

// One drawing in its frame; only the parameters it understands are asked for.
export function FramedDrawing({ drawing, query, narrow, children, ...ink }: FrameProps) {
  const taken = takenBy(drawing, query ?? {});
  return (
    <figure class={`sheet-frame${narrow ? ' narrow' : ''}`} data-drawing={drawing.name}>
      <Drawing address={drawingAddress(drawing.name, taken)} fresh={drawn.value} {...ink} />
      <figcaption><span>{drawing.title}</span>{children}</figcaption>
    </figure>
  );
}

export function StageWarnings(props: { stage: Stage; onPick?: (valve: string) => void }) {
  const all = state.value?.warnings.filter((w) => w.stage === props.stage) ?? [];
  return <Warnings warnings={all} head={headHere.value} {...(props.onPick ? { onPick: props.onPick } : {})} />;
}

// `not`: why the stage cannot be called done now.
export function DoneWord(props: { stage: Stage; not?: string | null }) {
  const id = job.value?.id;
  const mark = state.value?.stages[props.stage].mark;
  if (id === undefined || !mayRecord() || mark === 'open') return null;
  const done = mark !== 'done' && !saidDone(headHere.value, props.stage);
  const not = props.not ?? (mark === 'needs you' ? 'it needs you' : null);
  if (done && not !== null) return <p class="quiet">{`${props.stage.charAt(0).toUpperCase()}${props.stage.slice(1)} cannot be marked as done: ${not}.`}</p>;
  const say = () => void record(id, { kind: 'done', head: headHere.value, valve: '', values: { stage: props.stage, done },
    units: shown.value }, done ? `${props.stage} done` : `${props.stage} open again`);
  return (
    <div class="acts">
      <button type="button" onClick={say}>{done ? `Mark ${props.stage} as done` : `Open ${props.stage} again`}</button>
    </div>
  );
}

// A stage that is held back again may have been called done before.
const saidDone = (head: string, stage: Stage) => doneWords(head).filter((w) => w['stage'] === stage).at(-1)?.['done'] === true;

export function SetupChoice(props: { ids: string[]; chosen: string; choose: (id: string) => void }) {
  if (props.ids.length < 2) return null;
  return (
    <fieldset class="choice no-print">
      <legend>Setup</legend>
      {props.ids.map((id) => (
        <label key={id}>
          <input type="radio" name="setup" checked={id === props.chosen} onChange={() => props.choose(id)} />
          {id}
        </label>
      ))}
    </fieldset>
  );
}
