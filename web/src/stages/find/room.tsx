// find: where every guide is, how sure that is, and which one to touch next.

import { useSignal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import type { FoundSetup, Setup } from '../../api/types';
import { showAngle, showChance, showLength, showNumber } from '../../numbers/show';
import { EntryList } from '../../parts/entry_list';
import { Row, Rows } from '../../parts/numbers';
import { Assumptions } from '../../parts/warnings';
import { mayRecord } from '../../state/may';
import { headHere, setups, shown, state, job } from '../../state/open_job';
import { DoneWord, drawingsOf, FramedDrawing, RoomHead, SetupChoice, StageWarnings } from '../room_parts';
import { GuideEntry } from './guide_entry';
import { nextGuide, Standing } from './next';
import { TouchEntry } from './touch_entry';
import { Wide } from '../../parts/wide';

export function FindRoom() {
  const chosen = useSignal('');
  const wanted = useSignal<string | null>(null); // the guide the person picked; null = the next to touch
  const standing = useMemo(() => new Standing(), []);
  const here = headHere.value;
  const found = state.value?.results.find?.heads.find((h) => h.head === here)?.setups ?? [];
  const held = setups.value.find((s) => s.id === chosen.value) ?? setups.value[0];
  const setup = found.find((s) => s.id === held?.id);
  const pick = (valve: string) => { wanted.value = valve; };
  const guide = wanted.value ?? standing.guide(nextGuide(held, setup), held?.id ?? '');
  return (
    <>
      <RoomHead stage="find">
        <SetupChoice ids={setups.value.map((s) => s.id)} chosen={held?.id ?? ''} choose={(s) => { chosen.value = s; wanted.value = null; }} />
      </RoomHead>
      <div class="two">
        <div>
          {(setup ? drawingsOf('find') : planOnly()).map((d) => <FramedDrawing key={d.name} drawing={d} query={{ setup: held?.id }} onPick={pick} />)}
          <StageWarnings stage="find" onPick={pick} />
          <EntryList kinds={['touch']} head={here} title="Touches" />
        </div>
        <div>
          {mayRecord() && job.value && (
            <TouchEntry job={job.value.id} head={here} guide={guide} all={held?.valves.map((v) => v.id) ?? []} pick={pick} moveOn={() => { wanted.value = null; }} />
          )}
          {setup && <Summary setup={setup} />}
          <DoneWord stage="find" />
        </div>
      </div>
      {held && <GuideTable id={held.id} lines={setup ? foundLines(setup) : patternLines(held)} pick={pick} now={guide} />}
      <Pilots head={here} />
      <Assumptions lines={state.value?.results.find?.assumptions} />
    </>
  );
}

const planOnly = () => state.value?.drawings.filter((d) => d.name === 'plan') ?? [];

function Summary(props: { setup: FoundSetup }) {
  const { setup } = props;
  const unit = shown.value;
  const id = job.value?.id ?? 0;
  const why = (key: string) => ({ job: id, stage: 'find' as const, key });
  const touched = setup.guides.filter((g) => g.touched).length;
  const blind = state.value?.results.find?.blind_run;
  return (
    <Rows title={`Setup ${setup.id}: ${touched} of ${setup.guides.length} guides touched`}>
      <Row label="Head is turned by" why={why('yaw_deg')}>
        {showAngle(setup.yaw_deg, 3)} ± {showAngle(setup.yaw_sd_deg, 3)}
      </Row>
      <Row label="Least chance to enter" why={why('least_enter_probability')}>{showChance(setup.least_enter_probability)}</Row>
      <Row label="Next to touch" why={why('next_touch')}>{setup.next_touch ?? 'none needed'}</Row>
      <Row label="Touches still to make" why={why('touches_to_target')}>{setup.touches_to_target ?? '–'}</Row>
      <Row label="Fits the pattern (p)" why={why('p_value')} attention={setup.p_value !== null && setup.p_value < 0.001}>
        {setup.p_value === null ? 'cannot be told yet' : setup.p_value.toFixed(3)}
      </Row>
      {setup.pattern !== 'as declared' && <p class="sentence">The touches fit the head {setup.pattern}.</p>}
      {setup.square && (
        <p>To run the row true, shift post {setup.square.post} by {showLength(setup.square.move_mm, unit)}.</p>
      )}
      {blind && (
        <Row label="Without any touch, every pilot enters" why={why('blind_run')}>{showChance(blind.head_enter_probability)}</Row>
      )}
    </Rows>
  );
}

interface Line { id: string; x: number; y: number; sdX: number | null; sdY: number | null; chance: number | null; suspect: boolean; known: string }

const foundLines = (setup: FoundSetup): Line[] => setup.guides.map((g) => ({
  id: g.id, x: g.program_x_mm, y: g.program_y_mm, sdX: g.sd_x_mm, sdY: g.sd_y_mm, chance: g.enter_probability, suspect: g.suspect,
  known: g.suspect ? 'suspect: set aside, decide' : g.touched ? 'touched' : 'from the pattern',
}));
// Before the first touch: where the drawing has them.
const patternLines = (held: Setup): Line[] => held.valves.map((v) => ({
  id: v.id, x: v.x_mm, y: v.y_mm, sdX: null, sdY: null, chance: null, suspect: false, known: 'from the drawing',
}));

function GuideTable(props: { id: string; lines: Line[]; pick: (valve: string) => void; now: string | null }) {
  const unit = shown.value;
  return (
    <Wide name="Guides of setup">
      <table>
        <caption>Guides of setup {props.id}, {unit}; standard deviations beside</caption>
        <thead>
          <tr><th>Guide</th><th>X</th><th>Y</th><th>sd X</th><th>sd Y</th><th>chance to enter</th><th class="words">how known</th></tr>
        </thead>
        <tbody>
          {props.lines.map((g) => (
            <tr key={g.id} class={g.suspect ? 'attention' : g.id === props.now ? 'now' : undefined}>
              <th scope="row"><button type="button" onClick={() => props.pick(g.id)} aria-label={`Touch ${g.id}`}>{g.id}</button></th>
              {[g.x, g.y, g.sdX, g.sdY].map((n, i) => <td key={i}>{showNumber(n, 'length', unit)}</td>)}
              <td>{showChance(g.chance)}</td>
              <td class="words">{g.known}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Wide>
  );
}

function Pilots(props: { head: string }) {
  const pilots = state.value?.results.find?.pilots ?? [];
  return (
    <>
      {mayRecord() && job.value && <GuideEntry job={job.value.id} head={props.head} />}
      <EntryList kinds={['guide']} head={props.head} title="Guide bores" />
      {pilots.length > 0 && (
        <Wide name="Pilots">
          <table>
            <caption>Pilots</caption>
            <thead><tr><th>Guide</th><th class="words">Pilot</th><th>play at the seat</th><th class="words">Guide is</th></tr></thead>
            <tbody>
              {pilots.map((p) => (
                <tr key={p.valve} class={p.guide === 'repair' ? 'attention' : undefined}>
                  <th scope="row">{p.valve}</th><td class="words">{p.pilot ?? 'none on the shelf'}</td>
                  <td>{showLength(p.play_mm, shown.value)}</td>
                  <td class="words">{p.guide === 'repair' ? 'to be repaired first' : 'sound'}{p.reason ? `: ${p.reason}` : ''}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </Wide>
      )}
    </>
  );
}
