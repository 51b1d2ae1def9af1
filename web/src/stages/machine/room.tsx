// At the machine: one screen, one step. The sentence, the drawing as large as the screen allows, one field or button, and
// a strip of small marks for the whole walk of the head.

import { useSignal } from '@preact/signals';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import { trueMinus } from '../../numbers/show';
import { UndoRedo } from '../../parts/undo_redo';
import { mayRecord } from '../../state/may';
import { headHere, job, setups, state } from '../../state/open_job';
import { jobAddress } from '../../state/route';
import { saidOf } from '../../state/said_steps';
import type { StepNow } from '../../state/walk';
import { walkHere } from '../../state/walk_here';
import { nextGuide, Standing } from '../find/next';
import { disagree } from '../find/summary';
import { mapData, planData, type MapData } from '../map/data';
import { GuideMap } from '../map/guide_map';
import { seatsNow } from '../map/seats_now';
import { against, provedAs } from '../prove/against';
import { unmeasured } from '../prove/walk';
import { Aside, Trouble, type Panel } from './panels';
import { StepPanel } from './steps';

export function MachineRoom() {
  const head = headHere.value;
  useEffect(keepAwake, []);
  const { steps, at } = walkHere(head);
  const step = steps[at];
  if (!step) return <h2 class="machine-sentence" tabIndex={-1}>{state.value?.lacking ?? `The steps of head ${head} cannot be listed yet.`}</h2>;
  return <Walk head={head} steps={steps} at={at} step={step} />;
}

function Walk(props: { head: string; steps: StepNow[]; at: number; step: StepNow }) {
  const { head, steps, at, step } = props;
  const panel = useSignal<Panel>(null);
  const wanted = useSignal<string | null>(null);
  const standing = useMemo(() => new Standing(), []);
  const held = setups.value.find((s) => s.id === step.setup) ?? setups.value[0];
  const found = foundHere(head).find((f) => f.id === held?.id);
  const guide = step.kind === 'touch' ? wanted.value ?? standing.guide(nextGuide(held, found), held?.id ?? '') : null;
  const seat = step.kind === 'measure' ? wanted.value ?? unmeasured(head) : step.valve;
  const pick = (valve: string) => { wanted.value = valve; };
  const aside = saidOf(head).has('aside');
  const bounced = useBounce(`${head} ${step.id}`);
  const strip = useRef<HTMLOListElement>(null);
  useEffect(() => { strip.current?.querySelector('[aria-current]')?.scrollIntoView({ block: 'nearest', inline: 'center' }); }, [step.id, head, steps.length]);
  const sentence = aside ? `Head ${head} is put aside.` : panel.value ? panelWords[panel.value] : sayStep(step, guide, seat);
  return (
    <>
      <ol class="walk" ref={strip} tabIndex={0} aria-label={`The walk of head ${head}`}>
        {steps.map((s, i) => (
          <li key={s.id} class={`${i === at ? 'walk-now' : s.done ? 'walk-done' : ''}${s.begins ? ' walk-begins' : ''}`} aria-current={i === at ? 'step' : undefined} title={trueMinus(s.words)}>
            <svg viewBox="0 0 20 20" aria-hidden="true">{i === at ? <path d="M4 3 L17 10 L4 17 Z" class="mark-fill" /> : s.done ? <path d="M3 10.5 L8 15.5 L17 4.5" class="mark-line" /> : <circle cx="10" cy="10" r="5" class="mark-line" />}</svg>
            <span>{s.mark}</span>
          </li>
        ))}
      </ol>
      <h2 class="machine-sentence" tabIndex={-1}>
        {step.kind === 'touch' && !panel.value && !aside && guide !== null ? <>Touch <b data-touching={guide}>{guide === '?' ? 'a guide without a name' : guide}</b>{where(guide, held)}</> : sentence}
      </h2>
      {panel.value === null && !aside && <GuideMap data={drawn(head, held, found, step, steps)} next={guide ?? seat ?? zeroOn(step)} title={`Guides of head ${head}`} open={step.kind === 'touch' || step.kind === 'load' ? 'not touched' : step.kind === 'measure' || step.kind === 'finished' ? 'not measured' : 'to cut'} fill pick={pick} />}
      {aside ? <Aside head={head} /> : panel.value
        ? <Trouble panel={panel.value} head={head} close={() => { panel.value = null; }} />
        : mayRecord() && held && <div class="machine-step" onClickCapture={bounced}><StepPanel step={step} next={steps[at + 1]} head={head} held={held} guide={guide} seat={seat} settled={wanted.value !== null || standing.settled} pick={pick} moveOn={() => { wanted.value = null; }} /></div>}
      <div class="machine-foot">
        {([['broken', 'A blade broke'], ['wrong', 'Not as it should be'], ['aside', 'Put this head aside']] as const).map(([name, words]) => (
          <button key={name} type="button" aria-pressed={panel.value === name} onClick={() => { panel.value = panel.value === name ? null : name; }}>{panel.value === name ? 'Back to the step' : words}</button>
        ))}
        <a class="button" href={jobAddress(job.value?.id ?? 0, stageOf(step))}>At the desk</a>
        <UndoRedo />
      </div>
    </>
  );
}

const panelWords = { broken: 'A blade broke: at which seat?', wrong: 'What is not as it should be?', aside: 'Put this head aside?' };
const stageOf = (step: StepNow) => ({ load: 'hold', touch: 'find', held: 'cut', take: 'cut', zero: 'cut', first: 'cut', cut: 'cut', measure: 'prove', finished: 'prove' } as const)[step.kind];
const foundHere = (head: string) => state.value?.results.find?.heads.find((h) => h.head === head)?.setups ?? [];

// The seat a cutter's Z0 is taken on.
const zeroOn = (step: StepNow) => (step.kind === 'zero' ? step.on : null);

function sayStep(step: StepNow, guide: string | null, seat: string | null): string {
  if (step.kind === 'touch' && guide !== null) return `Touch ${guide}.`;
  if (step.kind === 'measure' && seat !== null) return `Measure ${seat}.`;
  if (step.kind === 'finished' && against(headHere.value).length > 0) return step.words_against ?? step.words;
  return trueMinus(step.words);
}

const nth = (n: number) => `${n}${n % 10 === 1 && n % 100 !== 11 ? 'st' : n % 10 === 2 && n % 100 !== 12 ? 'nd' : n % 10 === 3 && n % 100 !== 13 ? 'rd' : 'th'}`;

// "far right", so that nobody has to count.
function where(guide: string, held: { valves: { id: string; x_mm: number }[] } | undefined): string {
  const along = [...held?.valves ?? []].sort((a, b) => a.x_mm - b.x_mm);
  const i = along.findIndex((v) => v.id === guide);
  if (i < 0 || along.length < 3) return '';
  return i === 0 ? ', far left' : i === along.length - 1 ? ', far right' : `, ${nth(i + 1)} from the left`;
}

function drawn(head: string, held: ReturnType<typeof setups.peek>[number] | undefined, found: ReturnType<typeof foundHere>[number] | undefined, step: StepNow, steps: StepNow[]): MapData {
  const here = job.value;
  const units = here?.units ?? 'mm';
  const stands = seatsNow(head, steps);
  const all = state.value?.valves ?? [];
  if (!held || step.kind === 'measure' || step.kind === 'finished') {
    return planData(state.value?.results.hold, all, here?.tables, units, (v) => (stands(v) === 'measured' ? provedAs(head, v) ?? 'measured' : 'open'));
  }
  const data = mapData({ held, found, hold: state.value?.results.hold, valves: all, tables: here?.tables, units, sure: !(found && disagree(found)) });
  if (step.kind === 'touch' || step.kind === 'load') return data;
  return { ...data, guides: data.guides.map((g) => ({ ...g, standing: stands(g.id) !== 'open' || step.valves.length === 0 || step.valves.includes(g.id) ? stands(g.id) : 'idle' })) };
}

// The screen stays awake while a person stands at the machine: the hands are dirty, and a dark screen asks for a touch. Browsers
// let go of it when the page is hidden; then it is asked for again. Where they do not offer it (plain http) nothing happens.
function keepAwake(): () => void {
  let held: WakeLockSentinel | null = null;
  let over = false;
  const ask = async () => {
    if (over || document.visibilityState !== 'visible' || !('wakeLock' in navigator)) return;
    held = await navigator.wakeLock.request('screen').catch(() => null);
    if (over) void held?.release();
  };
  const again = () => void ask();
  document.addEventListener('visibilitychange', again);
  again();
  return () => {
    over = true;
    document.removeEventListener('visibilitychange', again);
    void held?.release();
  };
}

// A finger that bounces ends one step, not two: a tap that comes right behind another, or before anybody can have read the
// step that has just come, is no answer to it. Keys are typed as fast as one likes.
const bounces = 600; // ms

function useBounce(step: string): (event: MouseEvent) => void {
  const last = useRef({ step, at: -Infinity });
  if (last.current.step !== step) last.current = { step, at: performance.now() };
  return (event) => {
    if (event.detail === 0 || !(event.target instanceof Element) || event.target.closest('.keypad, .field, select')) return; // not a tap, or not a word
    const now = performance.now();
    if (now - last.current.at >= bounces) {
      last.current.at = now;
      return;
    }
    event.preventDefault();
    event.stopPropagation();
  };
}
