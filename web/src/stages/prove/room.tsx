// prove in three questions: what the gauge says of each seat, whether this head is right, whether the batch stays right.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { ProvedSeat } from '../../api/types';
import { begunAt } from '../../entry/draft';
import { EntryList } from '../../parts/entry_list';
import { Fold } from '../../parts/fold';
import { later } from '../../parts/later';
import { VerdictMark } from '../../parts/mark';
import { NotesFold } from '../../parts/notes_later';
import { PaperPages } from '../../parts/paper_pages';
import { Assumptions } from '../../parts/warnings';
import { mayRecord } from '../../state/may';
import { entries, headHere, job, state } from '../../state/open_job';
import { jobAddress, route } from '../../state/route';
import { planData } from '../map/data';
import { GuideMap } from '../map/guide_map';
import { DoneWord, drawingsOf, FramedDrawing, RoomHead, StageWarnings } from '../room_parts';
import { fails, standingOf } from './against';
import { Limits } from './limits';
import { ProofEntry, proofFields } from './proof_entry';
import { SeatRows } from './seat_rows';
import { VerdictTable } from './verdicts';
import { unmeasured, walkingOrder } from './walk';

const TheBatch = later(() => import('./batch').then((m) => m.TheBatch));

const views = [{ view: 'measure', words: 'Measure' }, { view: 'head', words: 'This head' }, { view: 'batch', words: 'The batch' }] as const;
type View = (typeof views)[number]['view'];

export function ProveRoom() {
  const wanted = useSignal<string | null>(null);
  const here = headHere.value;
  const result = state.value?.results.prove;
  const id = job.value?.id ?? 0;
  useEffect(() => { wanted.value = begunAt(walkingOrder(), (v) => proofFields(id, here, v)) ?? null; }, [id, here]);
  const seats = result?.seats.filter((s) => s.head === here) ?? [];
  const spreads = result?.stem_spreads?.filter((s) => s.head === here) ?? []; // a head is held to these beside its seats
  const notJudged = seats.length === 0 ? [] : result?.not_judged?.map((l) => (l.kind ? `${l.what} (${l.kind})` : l.what)) ?? [];
  const asked = route.value.page === 'job' ? route.value.view : undefined;
  const view: View = views.find((v) => v.view === asked)?.view ?? 'measure';
  const at = wanted.value ?? unmeasured(here);
  const pick = (valve: string) => { wanted.value = valve; };
  const failed = fails(here);
  const open = result?.unmeasured?.filter((u) => u.head === here).map((u) => u.id) ?? [];
  return (
    <>
      <RoomHead stage="prove" next={view === 'measure' && at !== null && open.length + (seats.length === 0 ? 1 : 0) > 0 ? `Measure ${at}.` : undefined}>
        <nav class="choice no-print" aria-label="Prove">
          {views.map((v) => <a key={v.view} class="button" href={`${jobAddress(id, 'prove')}/${v.view}`} aria-current={v.view === view ? 'page' : undefined}>{v.words}</a>)}
        </nav>
        {result && seats.length > 0 && <p>Head {here}: <VerdictMark verdict={verdictOf([...seats, ...spreads])} /></p>}
        {notJudged.length > 0 && <p>No reading after cutting was held against these limits: {notJudged.join(', ')}.</p>}
      </RoomHead>
      {view === 'measure' && <Measure head={here} at={at} pick={pick} moveOn={() => { wanted.value = null; }} />}
      {view === 'head' && <ThisHead head={here} seats={seats} chosen={wanted.value} pick={pick} open={open} />}
      {view === 'batch' && <TheBatch />}
      <Assumptions lines={result?.assumptions} />
      <DoneWord stage="prove" not={failed.length > 0 ? `${failed.join(', ')} ${failed.length > 1 ? 'fail' : 'fails'}` : null} />
    </>
  );
}

function Measure(props: { head: string; at: string | null; pick: (valve: string) => void; moveOn: () => void }) {
  const { head, at, pick } = props;
  const measured = new Set(entries.value.entries.filter((e) => e.live && e.kind === 'proof' && e.head === head).map((e) => e.valve));
  const data = planData(state.value?.results.hold, state.value?.valves ?? [], job.value?.tables, job.value?.units ?? 'mm', (v) => (measured.has(v) ? 'measured' : 'open'));
  return (
    <>
      <div class="stage">
        <figure class="sheet-frame hero" data-drawing="seats">
          <GuideMap data={data} next={at} title="Seats in walking order" pick={pick} />
          <figcaption><span>{measured.size} of {data.guides.length} seats of head {head} measured; a tap chooses</span></figcaption>
        </figure>
        <div class="beside-hero">
          {mayRecord() && at && job.value && <ProofEntry job={job.value.id} head={head} valve={at} pick={pick} moveOn={props.moveOn} />}
        </div>
      </div>
      <EntryList kinds={['proof']} head={head} title="Measured after cutting" />
      <NotesFold head={head} />
      {at && <NotesFold head={head} valve={at} />}
    </>
  );
}

function ThisHead(props: { head: string; seats: ProvedSeat[]; chosen: string | null; pick: (valve: string) => void; open: string[] }) {
  const { head, seats, pick, open } = props;
  const seat = seats.find((s) => s.id === props.chosen) ?? seats.filter((s) => s.tir_mm !== null).at(-1) ?? seats[0];
  const traced = (seat?.harmonics_mm.length ?? 0) > 0; // one number has no shape to draw
  const drawings = drawingsOf('prove');
  if (!seat) {
    return (
      <>
        <p class="sentence">Nothing is measured on head {head} yet.</p>
        <div class="stage"><div class="hero"><VerdictMap head={head} seats={[]} chosen="" pick={pick} /></div></div>
        <PaperPages name="certificate.pdf" beside={['results.csv', 'proof.json']} />
      </>
    );
  }
  return (
    <>
      <div class="stage">
        <div class="hero">
          <VerdictMap head={head} seats={seats} chosen={seat.id} pick={pick} />
          {traced && <SeatRows seat={seat} id={job.value?.id ?? 0} />}
        </div>
        <div class="beside-hero">
          {traced ? drawings.filter((d) => d.name === 'trace').map((d) => <FramedDrawing key={d.name} drawing={d} query={{ valve: seat.id }} />) : <SeatRows seat={seat} id={job.value?.id ?? 0} />}
        </div>
      </div>
      <StageWarnings stage="prove" onPick={pick} />
      {open.length > 0 && <p class="sentence">Not measured on this head: {open.join(', ')}. What is not measured is never a pass.</p>}
      <Fold title="Verdicts in numbers" note={`${seats.length} seats`}><VerdictTable seats={seats} overrides={state.value?.overrides ?? []} pick={pick} /></Fold>
      <Limits />
      {traced && <Fold title="What the trace is made of" note={`seat ${seat.id}`} lazy>{drawings.filter((d) => d.takes?.includes('valve') && d.name !== 'trace').map((d) => <FramedDrawing key={d.name} drawing={d} query={{ valve: seat.id }} />)}</Fold>}
      <PaperPages name="certificate.pdf" beside={['results.csv', 'proof.json']} />
    </>
  );
}

// The worst of them.
function verdictOf(judged: { verdict: ProvedSeat['verdict'] }[]): ProvedSeat['verdict'] {
  const all = judged.map((s) => s.verdict);
  return (['fail', 'undecided', 'not measured'] as const).find((v) => all.includes(v)) ?? 'pass';
}

// The head from above, the verdict of every seat as a shape and a word; a tap chooses the seat whose trace stands beside.
const few = 16; // seats: of more, only those that need somebody have their word

function VerdictMap(props: { head: string; seats: ProvedSeat[]; chosen: string; pick: (valve: string) => void }) {
  const of = (valve: string): ProvedSeat['verdict'] => props.seats.find((s) => s.id === valve)?.verdict ?? 'not measured';
  const data = planData(state.value?.results.hold, state.value?.valves ?? [], job.value?.tables, job.value?.units ?? 'mm', (v) => standingOf(of(v)));
  const roomy = data.guides.length <= few;
  const guides = data.guides.map((g) => ({ ...g, words: of(g.id) === 'not measured' ? '–' : roomy || of(g.id) !== 'pass' ? of(g.id) : '–' }));
  const count = (v: ProvedSeat['verdict']) => guides.filter((g) => of(g.id) === v).length;
  return (
    <figure class="sheet-frame" data-drawing="verdicts">
      <GuideMap data={{ ...data, guides }} next={props.chosen} title={`Verdicts on head ${props.head}`} open="not measured" pick={props.pick} />
      <figcaption>
        <p class="map-legend">
          <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M3 10.5 L8 15.5 L17 4.5" class="map-key" /></svg>pass: {count('pass')}
          <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M4 4 L16 16 M16 4 L4 16" class="map-key-warn" /></svg>fail: {count('fail')}
          <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M2 8 Q6 3 10 8 T18 8 M2 14 Q6 9 10 14 T18 14" class="map-key-warn" /></svg>undecided: {count('undecided')}
          <svg viewBox="0 0 20 20" aria-hidden="true"><circle cx="10" cy="10" r="4.5" class="map-key" /></svg>not measured: {count('not measured')}
        </p>
      </figcaption>
    </figure>
  );
}
