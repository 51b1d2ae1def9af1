// A scan before a job is made of it: what was found over its points, as a drawing and as a view to turn, and a word of a person
// on each feature: it is right, it is called otherwise, it is none.

import { signal, useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { get, getBytes, post, sentenceOf } from '../api/client';
import type { Job, Scan, ScanHole, ScanHoleKind, ScanValve } from '../api/types';
import type { LengthUnit } from '../numbers/quantity';
import { showAngle, showLength } from '../numbers/show';
import { Drawing } from '../parts/drawing';
import { FirstOf, onPhone } from '../parts/first_of';
import { Fold } from '../parts/fold';
import { plain } from '../parts/plain';
import { Warnings } from '../parts/warnings';
import { go, jobAddress } from '../state/route';
import { units } from '../state/settings';
import { ScanScene } from './scan_view';

export function ScanPage(props: { id: string }) {
  const scan = useSignal<Scan | null>(null);
  const trouble = useSignal<string | null>(null);
  const turned = useSignal(false);
  const turns = useSignal(false); // the view to turn is shown
  const asked = `end_for_end=${turned.value ? 'yes' : 'no'}${units.value === 'job' ? '' : `&units=${units.value}`}`;
  useEffect(() => forget, [props.id]);
  useEffect(() => {
    get<Scan>(`/scans/${props.id}?${asked}`).then((now) => { scan.value = now; trouble.value = null; }).catch((fault: unknown) => { trouble.value = sentenceOf(fault); });
  }, [props.id, asked]);
  const here = scan.value;
  useEffect(() => { if (here) document.title = `${here.file}: scan`; }, [here?.file]);
  if (!here?.found) {
    return (
      <main class="page">
        <header><h1>Scan</h1></header>
        <p role="status" class={trouble.value ? 'sentence' : undefined}>{trouble.value ?? (here ? 'This file is not read yet.' : 'One moment.')}</p>
        <p class="acts"><a class="button" href="#/new">Back to a new job</a></p>
      </main>
    );
  }
  const unit: LengthUnit = units.value === 'job' ? here.found.units : units.value;
  const left = open(here, said.value);
  const make = async () => {
    trouble.value = null;
    try {
      const job = await post<Job>(`/scans/${here.id}/job`, { end_for_end: turned.value, said: said.value });
      go(jobAddress(job.id, 'hold'));
    } catch (fault) {
      trouble.value = sentenceOf(fault);
    }
  };
  const name = chosen.value;
  const valve = here.found.valves.find((v) => v.id === name);
  return (
    <main class="page">
      <header>
        <h1>{here.file}</h1>
        <span class="quiet">{counted(here.found.points)} points, {here.found.format}, {here.found.units === 'in' ? 'inches' : 'mm'} ({here.found.units_from === 'told' ? 'as you said' : 'by its size'})</span>
      </header>
      <div class="stage scan">
        <div>
          <fieldset class="choice">
            <legend class="unseen">Shown as</legend>
            <label><input type="radio" name="scan-shown" checked={!turns.value} onChange={() => { turns.value = false; }} />drawing</label>
            <label><input type="radio" name="scan-shown" checked={turns.value} onChange={() => { turns.value = true; }} />view to turn</label>
          </fieldset>
          {turns.value
            ? <View key={asked} scan={here} asked={asked} />
            : <figure class="sheet-frame" data-drawing="scan"><Drawing address={`/scans/${here.id}/drawing.svg?${asked}`} fresh={0} label="Plan" onPick={(id) => { chosen.value = id; }} /></figure>}
          {valve && !turns.value && <figure class="sheet-frame scan-section" data-drawing="scan-section"><Drawing address={`/scans/${here.id}/drawing.svg?${asked}&valve=${valve.id}`} fresh={0} label={`${valve.id} in section`} /></figure>}
          {here.found.warnings && <Warnings warnings={here.found.warnings} onPick={(id) => { chosen.value = id; }} />}
        </div>
        <div class="beside-hero">
          <p class="next-step" data-next>{left.length > 0 ? `Look at ${left.map(([id]) => id).join(', ')} first.` : 'Look at every feature over its points, then make the job.'}</p>
          {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
          <FirstOf of={here.found.valves} what="valves" class="entries scan-features" label="Valves" keep={(v) => v.id === name || left.some(([id]) => id === v.id)}
                   row={(v) => <ValveRow key={v.id} valve={v} unit={unit} doubt={here.in_doubt?.[v.id]} />} />
          {here.found.not_seen.length > 0 && (
            <FirstOf of={here.found.not_seen} what="not seen" class="entries scan-features" label="Not seen"
                     row={(n) => <li key={n.id} class="set-aside"><span><b>{n.id}</b>: {n.expected ? 'expected and not found' : 'too little of it is seen'}</span></li>} />
          )}
          <Fold title="Holes" note={`${here.found.holes.length}`} open={here.found.holes.some((h) => here.in_doubt?.[h.id] !== undefined)}>
            <FirstOf of={here.found.holes} what="holes" class="entries scan-features" keep={(h) => h.id === name || left.some(([id]) => id === h.id)}
                     row={(h) => <HoleRow key={h.id} hole={h} unit={unit} doubt={here.in_doubt?.[h.id]} />} />
          </Fold>
          <label class="scan-end"><input type="checkbox" checked={turned.value} onChange={() => { forget(); turned.value = !turned.value; }} /> Cylinder 1 is at the other end</label>
          <p class="acts"><button type="button" class="main-act" disabled={left.length > 0} onClick={() => void make()}>Make the job</button></p>
        </div>
      </div>
      <Fold title="Expected and not found, and what is asked" note={`${here.found.missing.length}`} open>
        <FirstOf of={here.found.missing} what="of them" most={onPhone() ? 4 : 10} row={(m) => <li key={m.what + m.why}><span><b>{m.what}</b>: {plain(m.why)} {plain(m.next)}</span></li>} />
      </Fold>
      <Fold title="What it stands on"><ul class="assumptions">{(here.found.assumptions ?? []).map((a) => <li key={a}>{a}</li>)}</ul></Fold>
    </main>
  );
}

// "75 000", "1.4 million".
const counted = (points: number) => (points >= 1e6 ? `${(points / 1e6).toPrecision(2)} million` : String(points).replace(/\B(?=(\d{3})+$)/g, '\u00a0'));

function View(props: { scan: Scan; asked: string }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const scene = useRef<ScanScene | null>(null);
  const state = useSignal<string | null>('One moment.');
  useEffect(() => {
    let gone = false;
    getBytes(`/scans/${props.scan.id}/points?${props.asked}`).then((bytes) => {
      if (gone || !canvas.current) return;
      scene.current = ScanScene.on(canvas.current, props.scan, bytes);
      state.value = scene.current ? null : 'This browser does not draw such views: the drawing shows the same.';
      if (scene.current) scene.current.onPick = (id) => { chosen.value = id; };
    }).catch((fault: unknown) => { state.value = sentenceOf(fault); });
    return () => {
      gone = true;
      scene.current?.stop();
    };
  }, []);
  const dropped = [...Object.entries(said.value.valves), ...Object.entries(said.value.holes)].filter(([, s]) => s.dropped).map(([id]) => id).join();
  useEffect(() => {
    if (!scene.current) return;
    scene.current.dropped = new Set(dropped.split(','));
    scene.current.goTo(chosen.value);
  }, [chosen.value, dropped]);
  useEffect(() => {
    const watch = new ResizeObserver(() => scene.current?.draw());
    if (canvas.current) watch.observe(canvas.current);
    return () => watch.disconnect();
  }, []);
  return (
    <div class="scan-view">
      <canvas ref={canvas} tabIndex={0} role="img" aria-label="Points of the scan and what was found in them; arrows turn it, plus and minus bring it nearer and further" data-ready={state.value === null} />
      {state.value && <p role="status">{state.value}</p>}
      <p class="acts">
        {(['above', 'front', 'end'] as const).map((from) => <button key={from} type="button" onClick={() => scene.current?.look(from)}>From {from === 'above' ? 'above' : `the ${from}`}</button>)}
        <button type="button" aria-label="Nearer" onClick={() => scene.current?.nearer(1.5)}>+</button>
        <button type="button" aria-label="Further" onClick={() => scene.current?.nearer(1 / 1.5)}>−</button>
      </p>
    </div>
  );
}

interface RowProps { id: string; of: 'valves' | 'holes'; words: string; doubt: string | undefined; children?: preact.ComponentChildren }

function Row(props: RowProps) {
  const now = said.value[props.of][props.id];
  const row = useRef<HTMLLIElement>(null);
  const here = chosen.value === props.id;
  useEffect(() => { if (here) row.current?.scrollIntoView({ block: 'nearest' }); }, [here]);
  const settled = now?.confirmed || now?.what !== undefined;
  return (
    <li ref={row} class={now?.dropped ? 'set-aside' : here ? 'now' : undefined} data-feature={props.id}>
      <button type="button" class="valve-name" aria-pressed={here} onClick={() => { chosen.value = here ? null : props.id; }}>{now?.id ?? props.id}</button>
      <span>{props.words}{props.doubt && !settled && !now?.dropped && <b class="sentence"> {props.doubt}</b>}{now?.confirmed && !now.dropped && <b> ✓ right</b>}{now?.dropped && <b> dropped</b>}</span>
      {here && (
        <div class="acts">
          {!now?.dropped && <button type="button" onClick={() => say(props.of, props.id, { confirmed: !now?.confirmed })}>{now?.confirmed ? 'Not confirmed' : 'It is right'}</button>}
          <button type="button" onClick={() => say(props.of, props.id, { dropped: !now?.dropped })}>{now?.dropped ? 'Take it back' : 'Drop it'}</button>
          {!now?.dropped && props.children}
        </div>
      )}
    </li>
  );
}

function ValveRow(props: { valve: ScanValve; unit: LengthUnit; doubt: string | undefined }) {
  const { valve: v, unit } = props;
  const wrong = useSignal<string | null>(null);
  const bore = v.pin_mm ?? v.bore_mm;
  const words = [
    v.kind ?? 'kind not known', `${v.pin_mm === null ? 'bore' : 'pin'} ${showLength(bore, unit)}`, v.gauge_mm === null ? 'seat not found' : `gauge ${showLength(v.gauge_mm, unit)} at ${showAngle(v.seat_angle_deg, 1)}`,
    `${showLength(v.seen_length_mm, unit)} and ${v.seen_arc_deg.toFixed(0)}° of the turn seen`,
  ].join(', ');
  const rename = (event: SubmitEvent) => {
    event.preventDefault();
    const name = (new FormData(event.currentTarget as HTMLFormElement).get('name') as string).trim();
    wrong.value = isValveName(name) ? null : 'A cylinder, I or E, and a letter where a cylinder has several: 2Ea.';
    if (wrong.value === null) say('valves', v.id, { id: name, confirmed: true });
  };
  return (
    <Row id={v.id} of="valves" words={words} doubt={props.doubt}>
      <form class="scan-rename" onSubmit={rename}>
        <label for={`name-${v.id}`}>It is</label>
        <input id={`name-${v.id}`} name="name" defaultValue={said.value.valves[v.id]?.id ?? v.id} autocomplete="off" size={4} />
        <button type="submit">Rename</button>
        {wrong.value && <p class="sentence" role="alert">{wrong.value}</p>}
      </form>
    </Row>
  );
}

const holeWords: Record<ScanHoleKind, string> = { bolt: 'a bolt’s', plug: 'a plug’s', other: 'something else' };

function HoleRow(props: { hole: ScanHole; unit: LengthUnit; doubt: string | undefined }) {
  const { hole: h, unit } = props;
  const what = said.value.holes[h.id]?.what ?? h.what;
  return (
    <Row id={h.id} of="holes" words={`${holeWords[what]}, ${showLength(h.diameter_mm, unit)}, at ${showLength(h.x_mm, unit)}, ${showLength(h.y_mm, unit)}`} doubt={props.doubt}>
      <label class="scan-rename">It is <select value={what} onChange={(e) => say('holes', h.id, { what: e.currentTarget.value as ScanHoleKind })}>{(Object.keys(holeWords) as ScanHoleKind[]).map((k) => <option key={k} value={k}>{holeWords[k]}</option>)}</select></label>
    </Row>
  );
}

// What a person says of the features found in a scan: kept by the page until the job is made of it.
interface Said { id?: string; what?: ScanHoleKind; dropped?: boolean; confirmed?: boolean }
interface AllSaid { valves: Record<string, Said>; holes: Record<string, Said> }

const said = signal<AllSaid>({ valves: {}, holes: {} });
const chosen = signal<string | null>(null); // a feature, by the id it was found under

function forget(): void {
  said.value = { valves: {}, holes: {} };
  chosen.value = null;
}

function say(of: 'valves' | 'holes', id: string, what: Said): void {
  const now = said.value;
  said.value = { ...now, [of]: { ...now[of], [id]: { ...now[of][id], ...what } } };
}

const isValveName = (name: string) => /^([1-9]|[12]\d|3[0-2])[IE][a-z]?$/.test(name);

// Features in doubt that nobody has settled, with the reason of each.
function open(scan: Scan, now: AllSaid): [string, string][] {
  const settled = (id: string) => {
    const one = now.valves[id] ?? now.holes[id];
    return one !== undefined && (one.dropped || one.confirmed || one.what !== undefined);
  };
  return Object.entries(scan.in_doubt ?? {}).filter(([id]) => !settled(id));
}
