// One card a step, always in the same place: one field or one button, and what comes next.

import type { ComponentChildren } from 'preact';
import type { CutProgram, FirstReading, Setup } from '../../api/types';
import { showLength, trueMinus } from '../../numbers/show';
import { FirstOf } from '../../parts/first_of';
import { SendTo } from '../../parts/sent_files';
import { chooseHead, headHere, job, shown, state } from '../../state/open_job';
import { jobAddress } from '../../state/route';
import { standsOnMadeUp } from '../../state/made_up';
import { takenAs, useDigest } from '../../state/papers';
import { plannedIn, say } from '../../state/said_steps';
import { known } from '../../state/shelf';
import type { StepNow } from '../../state/walk';
import { headAfter } from '../../state/heads';
import { HeldBackList } from '../cut/held';
import { after, gathered } from '../cut/held_words';
import { FirstEntry } from '../cut/first_entry';
import { TakeIt } from '../cut/take_file';
import { TouchEntry } from '../find/touch_entry';
import { against } from '../prove/against';
import { ProofEntry } from '../prove/proof_entry';

interface Props {
  step: StepNow;
  next: StepNow | undefined;
  head: string;
  held: Setup;
  guide: string | null;
  seat: string | null;
  settled: boolean;
  pick: (valve: string) => void;
  moveOn: () => void;
}

export function StepPanel(props: Props) {
  const { step, head } = props;
  const id = job.value?.id ?? 0;
  const program = state.value?.results.cut?.programs.find((p) => p.file === step.file);
  const done = () => void say(head, step.id, true, step.words, step.kind === 'take' && program ? { moves: step.moves ?? null, planned: plannedIn([program]) } : {});
  const comes = props.next ? <p class="comes">Then: {trueMinus(props.next.words)}</p> : null;
  switch (step.kind) {
    case 'load':
      return <Card comes={comes}><Facts of={loadFacts(props.held)} /><Big act={done}>It is loaded, level and clamped</Big></Card>;
    case 'touch':
      return <TouchEntry compact job={id} head={head} guide={props.guide} settled={props.settled} all={props.held.valves.map((v) => v.id)} datum={props.held.datum} pick={props.pick} moveOn={props.moveOn} />;
    case 'held':
      return <Card comes={null}><Held held={heldHere(step)} /></Card>;
    case 'take':
      return <Card comes={program ? comes : null}>{program ? <><TakeFile program={program} done={done} /><NotHere held={heldHere(step)} /></> : <NoFile held={heldHere(step)} />}</Card>;
    case 'zero':
      return <Card comes={comes}>{step.ways.map((w) => <p key={w} class="zero-words">{w}.</p>)}<Big act={done}>Z0 is taken</Big></Card>;
    case 'first':
      return <Card comes={comes}>{step.valve && <><Facts of={firstFacts(step.valve)} /><FirstEntry compact head={head} seat={step.valve} atControl={known('machine.trim') === 'control'} /></>}</Card>;
    case 'cut':
      return <Card comes={comes}><Big act={done}>These seats are cut</Big></Card>;
    case 'measure':
      return props.seat ? <ProofEntry compact job={id} head={head} valve={props.seat} pick={props.pick} moveOn={props.moveOn} /> : null;
    default:
      return <Finished />;
  }
}

const Card = (props: { comes: ComponentChildren; children: ComponentChildren }) => <section class="machine-card" aria-label="The step">{props.children}{props.comes}</section>;
const Big = (props: { act: () => void; children: ComponentChildren }) => <button type="button" class="main-act big" onClick={props.act}>{props.children}</button>;
const Facts = (props: { of: string[] }) => <ul class="facts">{props.of.map((f) => <li key={f}>{f}</li>)}</ul>;

function loadFacts(held: Setup): string[] {
  const posts = state.value?.results.hold?.posts;
  const { mass_kg: mass, uphill } = held.safety;
  return [
    ...(posts ? [`Posts ${showLength(posts.span_mm, shown.value)} apart${standsOnMadeUp('head.bolt_holes', 'head.posts') ? ', not from you: measure the holes first' : ''}`] : []),
    ...(mass !== null && mass > 23 ? ['Two people or a hoist'] : []),
    ...(uphill ? [`Load from the ${uphill}`] : []),
    'Cradle locked, chips brushed off, hands clear while it turns',
  ];
}

// What the gauge should read of a first seat, by the figure measured.
const wordsOf: Record<FirstReading['figure'], (planned: string) => string> = { depth: (p) => `${p} deep`, stem_height: (p) => `${p} of stem height`, below_deck: (p) => `${p} below the deck` };

function firstFacts(valve: string): string[] {
  const readings = state.value?.results.cut?.programs.flatMap((p) => p.first_readings ?? []).filter((r) => r.valve === valve && r.planned_mm !== null) ?? [];
  const said = readings.map((r) => wordsOf[r.figure](showLength(r.planned_mm, shown.value)));
  if (said.length > 0) return [`It should read ${said.join(', or ')}: it is cut short on purpose`];
  const depth = state.value?.results.shape?.seats.find((s) => s.id === valve)?.depth_mm ?? null;
  return depth === null ? [] : [`It reads less than its planned depth of ${showLength(depth, shown.value)}: it is cut short on purpose`];
}

function TakeFile(props: { program: CutProgram; done: () => void }) {
  const { program } = props;
  const digest = useDigest();
  const name = known('dialect.names') === '8.3' ? `${job.value?.id ?? 0}/${program.file}` : takenAs(program.file);
  const address = `/jobs/${job.value?.id ?? 0}/papers/${encodeURIComponent(program.file)}?head=${encodeURIComponent(program.head)}`;
  if (!program.checked) return <p class="sentence">This file is not handed out, because reading it back found a fault.</p>;
  return (
    <>
      <p class="file-name">{name} <span class="digest">{digest}</span></p>
      <Facts of={[`${program.seats.length > 1 ? 'Seats' : 'Seat'} ${program.seats.join(', ')}${program.first ? ', cut short' : ''}; ${program.lines} lines, read back and found right`]} />
      <TakeIt main words="Take the file" address={address} file={program.file} mark={digest} onTaken={props.done} />
      <SendTo file={program.file} onSent={props.done} />
    </>
  );
}

const heldHere = (step: StepNow) => (state.value?.results.cut?.held_back ?? []).filter((h) => h.setup === step.setup || h.setup === '');

// Seats of the setup that no file has stay behind when this one is taken.
function NotHere(props: { held: ReturnType<typeof heldHere> }) {
  const left = gathered(props.held.filter((h) => h.valve !== null));
  if (left.length === 0) return null;
  return <FirstOf of={left} most={2} what="reasons" class="warnings" label="Not in the file" row={(g) => <li key={`${g.valves.join()}/${g.reason}`}><span>Not in the file: <b>{g.valves.join(', ')}</b>{g.goesOn ? ' ' : ': '}{after(g)}</span></li>} />;
}

const NoFile = (props: { held: ReturnType<typeof heldHere> }) => (props.held.length === 0 ? <p role="status">The file is being written.</p> : <Held held={props.held} />);

const few = 4; // reasons: of more, a button says how many
const Held = (props: { held: ReturnType<typeof heldHere> }) => <><HeldBackList held={props.held} setups={1} most={few} /><Needs /></>;

// What find or shape still needs, where a setup is held back.
function Needs() {
  const id = job.value?.id ?? 0;
  return <p class="acts"><a class="button" href={`${jobAddress(id, 'shape')}/readings`}>Type readings of the seats</a><a class="button" href={jobAddress(id, 'find')}>Look at the touches</a></p>;
}

function Finished() {
  const here = headHere.value;
  const to = headAfter();
  const first = state.value?.results.hold?.setups[0]?.id ?? 'A';
  const wrong = against(here);
  // The word that it is loaded goes first: the next head must not be asked to be loaded meanwhile.
  const go = async () => {
    await say(here, 'finished', true, `head ${here} finished`);
    await say(to, `load ${first}`, true, `head ${to} loaded`);
    chooseHead(to);
  };
  return (
    <section class="machine-card" aria-label="The step">
      {wrong.length > 0 ? (
        <>
          <FirstOf of={wrong} what="of them" most={4} class="warnings" row={(w) => <li key={w} class="warning-stop">{w}</li>} />
          <p class="acts"><a class="button" href={`${jobAddress(job.value?.id ?? 0, 'prove')}/measure`}>Measure again</a></p>
        </>
      ) : <Facts of={['Every seat is cut and measured. Its certificate stands in prove.']} />}
      <button type="button" class="main-act big" onClick={() => void go()}>Head {to} is loaded in setup {first}: go on with it</button>
    </section>
  );
}
