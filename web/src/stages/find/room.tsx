// find: where every guide is, how sure that is, and which one to touch next.

import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import type { FoundSetup, Setup } from '../../api/types';
import { begunAt } from '../../entry/draft';
import { inWords, showChance, showNumber } from '../../numbers/show';
import { EntryList } from '../../parts/entry_list';
import { NotesFold } from '../../parts/notes_later';
import { Fold } from '../../parts/fold';
import { Table } from '../../parts/table';
import { Assumptions } from '../../parts/warnings';
import { mayRecord } from '../../state/may';
import { headHere, setups, shown, state, job } from '../../state/open_job';
import { DoneWord, RoomHead, SetupChoice, StageWarnings } from '../room_parts';
import { mapData } from '../map/data';
import { GuideMap, MapLegend } from '../map/guide_map';
import { Learning } from './learning';
import { nextGuide, setupNow, Standing, wantsTouch } from './next';
import { Pilots } from './pilots';
import { SetAside, Unlabelled } from './suspects';
import { disagree, Summary } from './summary';
import { touchFields, TouchEntry } from './touch_entry';

export function FindRoom() {
  const chosen = useSignal('');
  const wanted = useSignal<string | null>(null); // the guide the person picked; null = the next to touch
  const standing = useMemo(() => new Standing(), []);
  const here = headHere.value;
  const found = state.value?.results.find?.heads.find((h) => h.head === here)?.setups ?? [];
  const held = setups.value.find((s) => s.id === chosen.value) ?? setupNow(setups.value, found);
  const setup = found.find((s) => s.id === held?.id);
  const pick = (valve: string) => { wanted.value = valve; };
  const id = job.value?.id ?? 0;
  const begun = useMemo(() => begunAt(setups.value.flatMap((s) => s.valves.map((v) => v.id)), (v) => touchFields(id, here, v)), [id, here]);
  useEffect(() => {
    wanted.value = begun ?? null; // what is half typed is gone on with
    chosen.value = begun === undefined ? '' : setups.value.find((s) => s.valves.some((v) => v.id === begun))?.id ?? '';
  }, [id, here]);
  const guide = wanted.value ?? standing.guide(nextGuide(held, setup), held?.id ?? '');
  const data = held ? mapData({ held, found: setup, hold: state.value?.results.hold, valves: state.value?.valves ?? [], tables: job.value?.tables, units: job.value?.units ?? 'mm', sure: !(setup && disagree(setup)) }) : null;
  const open = held !== undefined && wantsTouch(held, setup);
  const next = guide !== null && open && !(setup && disagree(setup)) ? `Touch ${guide === '?' ? 'a guide' : guide}${setups.value.length > 1 ? ` of setup ${held.id}` : ''}.` : undefined;
  return (
    <>
      <RoomHead stage="find" next={next}>
        <SetupChoice ids={setups.value.map((s) => s.id)} chosen={held?.id ?? ''} choose={(s) => { chosen.value = s; wanted.value = null; }} />
      </RoomHead>
      <div class="stage">
        <figure class="sheet-frame hero" data-drawing="map">
          {data && <GuideMap data={data} next={guide} title={`Guides of setup ${held?.id ?? ''}`} pick={pick} chances />}
          <figcaption><MapLegend enlarge="Circles: where the pilot’s tip may come down; ellipses: 95 % of where the guide is." /></figcaption>
        </figure>
        <div class="beside-hero">
          {mayRecord() && job.value && (
            <TouchEntry job={job.value.id} head={here} guide={guide} settled={wanted.value !== null || standing.settled} all={held?.valves.map((v) => v.id) ?? []}
                        datum={held?.datum ?? ''} pick={pick} moveOn={() => { wanted.value = null; }} />
          )}
        </div>
      </div>
      {setup && <SetAside setup={setup} head={here} pick={pick} />}
      {setup && <Unlabelled setup={setup} />}
      <StageWarnings stage="find" onPick={pick} />
      {setup && <Fold title="What the touches say" note={`setup ${setup.id}: ${setup.guides.filter((g) => g.touched).length} of ${setup.guides.length} touched`}><Summary setup={setup} /></Fold>}
      {held && <Fold title="Guides in numbers" note={`setup ${held.id}`}><GuideTable id={held.id} lines={setup ? foundLines(setup) : patternLines(held)} pick={pick} now={guide} /></Fold>}
      <EntryList kinds={['touch']} head={here} title="Touches" />
      <NotesFold head={here} />
      <Pilots head={here} />
      <Learning />
      <Assumptions lines={state.value?.results.find?.assumptions} />
      <DoneWord stage="find" />
    </>
  );
}

interface Line { id: string; x: number; y: number; sdX: number | null; sdY: number | null; chance: number | null; suspect: boolean; known: string }

// Two touches that accuse each other are both kept until a third says which is right.
const suspicion = (setup: FoundSetup, id: string) =>
  setup.set_aside?.some((a) => a.valve === id) ? 'suspect: set aside, decide' : 'suspect: touch another guide';
const foundLines = (setup: FoundSetup): Line[] => setup.guides.map((g) => ({
  id: g.id, x: g.program_x_mm, y: g.program_y_mm, sdX: g.sd_x_mm, sdY: g.sd_y_mm, chance: disagree(setup) ? null : g.enter_probability, suspect: g.suspect,
  known: g.suspect ? suspicion(setup, g.id) : g.touched ? 'touched' : 'from the pattern',
}));
// Before the first touch: where the drawing has them.
const patternLines = (held: Setup): Line[] => held.valves.map((v) => ({
  id: v.id, x: v.x_mm, y: v.y_mm, sdX: null, sdY: null, chance: null, suspect: false, known: 'from the drawing',
}));

function GuideTable(props: { id: string; lines: Line[]; pick: (valve: string) => void; now: string | null }) {
  const unit = shown.value;
  return (
    <Table
      caption={`Guides of setup ${props.id}, ${inWords(unit)}; standard deviations (sd) beside`}
      head={['Guide', 'X', 'Y', 'sd X', 'sd Y', 'chance to enter', 'how known']} words={[6]}
      rows={props.lines.map((g) => ({
        key: g.id, attention: g.suspect, now: g.id === props.now,
        cells: [
          <button type="button" onClick={() => props.pick(g.id)} aria-label={`Touch ${g.id}`}>{g.id}</button>,
          ...[g.x, g.y, g.sdX, g.sdY].map((n) => showNumber(n, 'length', unit)), showChance(g.chance), g.known,
        ],
      }))}
    />
  );
}
