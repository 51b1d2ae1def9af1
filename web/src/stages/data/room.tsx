// The drawing data of the job: drawings whose dimensions are the fields, machine and fixture by their pictures, every key of
// the file as a field, the whole as text, its versions, and the file to take along.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ask, get, Refusal, sentenceOf } from '../../api/client';
import type { Fault, Job, Tree, TreeValue, Version } from '../../api/types';
import { change } from '../../entry/outbox';
import { PaperPages } from '../../parts/paper_pages';
import { Fold } from '../../parts/fold';
import { Issued } from '../../parts/issued';
import { WhoseItIs } from '../../parts/whose_it_is';
import { TreeTable, type OnEdit } from '../../parts/tree_table';
import { UndoRedo } from '../../parts/undo_redo';
import { when } from '../../parts/when';
import { kinds } from '../../state/keys';
import { madeUp } from '../../state/made_up';
import { mayLead, mayRecord } from '../../state/may';
import { job, refresh, state } from '../../state/open_job';
import { usePapers } from '../../state/papers';
import { MadeUp } from '../hold/made_up';
import { dimFault } from './dim';
import { FromShelf } from './from_shelf';
import { placedValves, PlanSheet } from './plan_sheet';
import { FacetSheet, ValveSheet } from './seat_sheet';
import { Lean, Repeats } from './small_pictures';

export function DataRoom() {
  const here = job.value;
  const picked = useSignal('');
  if (!here) return null;
  const valves = placedValves();
  const chosen = valves.find((v) => v.base === picked.value) ?? valves[0];
  const base = `/api/jobs/${here.id}`;
  return (
    <>
      <header class="room-head">
        <p class="next-step">{madeUp(here).length > 0 ? 'Some figures are made up: type them, or say that they are right.' : 'The head as its drawing has it.'}</p>
        <div class="room-said"><h2 tabIndex={-1}>Drawing data</h2><p class="stage-line">A change is a new version, and can be undone.</p></div>
        <div class="room-tools">
          <a class="button" href={`${base}/export`} download={`${here.id}-${here.title}.toml`}>Take the job file</a>
          <a class="button" href={`#/ledger/${here.id}`}>Ledger of this job</a>
          <UndoRedo />
        </div>
      </header>
      {state.value?.faults?.map((f) => <p class="sentence" key={f.key + f.text}>{f.key}: {f.text}</p>)}
      <MadeUp />
      {dimFault.value && <p class="sentence" role="alert">{dimFault.value}</p>}
      <div class="stage">
        <div class="hero">
          <figure class="sheet-frame" data-drawing="plan">
            <PlanSheet valves={valves} chosen={chosen} choose={(base) => { picked.value = base; }} />
            <figcaption><span>From above. A tap chooses a valve; a figure is typed over where it stands.</span></figcaption>
          </figure>
        </div>
        <div class="beside-hero">
          {chosen && <div class="small-pictures"><Lean of={chosen} way="incline" /><Lean of={chosen} way="cant" /></div>}
          <Repeats valves={valves} />
        </div>
      </div>
      <div class="two even">
        {kinds.filter((k) => valves.some((v) => v.kind === k)).map((k) => (
          <Fold key={k} title={`${k[0]!.toUpperCase()}${k.slice(1)} valve and seat`} note="their section" open={!narrow()} lazy>
            <figure class="sheet-frame" data-drawing={`valve-${k}`}><ValveSheet kind={k} /><FacetSheet kind={k} /></figure>
          </Fold>
        ))}
      </div>
      <FromShelf />
      {here.tables && (
        <Fold title="Every key of the file" note={Object.keys(here.tables).slice(0, 6).map((k) => k.replaceAll('_', ' ')).join(', ')} lazy>
          {mayRecord() && !mayLead() && <p class="quiet">Only a lead changes what is shown grey.</p>}
          <TreeFolds tree={here.tables} onEdit={mayRecord() ? (edits, what) => void change(here, edits, what) : undefined} />
        </Fold>
      )}
      <AsText here={here} />
      <PaperPages name="sheet.pdf" beside={usePapers().filter((p) => /^(map-|plan\.)/.test(p.name)).map((p) => p.name)} />
      <WhoseItIs />
      <Issued />
      <Versions id={here.id} version={here.version} />
    </>
  );
}

const narrow = () => innerWidth < 1081; // there the sections open where they are asked for
const isTable = (v: TreeValue) => v !== null && typeof v === 'object' && (!Array.isArray(v) || (v.length > 0 && v.every((i) => i !== null && typeof i === 'object' && !Array.isArray(i))));
const plainOnly = (tree: Tree): Tree => Object.fromEntries(Object.entries(tree).filter(([, v]) => !isTable(v)));
const tablesOnly = (tree: Tree): Tree => Object.fromEntries(Object.entries(tree).filter(([, v]) => isTable(v)));

// Each table of the file a line that opens.
function TreeFolds(props: { tree: Tree; onEdit: OnEdit | undefined }) {
  const plain = plainOnly(props.tree);
  return (
    <>
      {Object.keys(plain).length > 0 && <TreeTable tree={plain} base="" onEdit={props.onEdit} />}
      {Object.entries(tablesOnly(props.tree)).map(([name, value]) => (
        <Fold key={name} title={name.replaceAll('_', ' ')} note={noteOf(value)} lazy><TreeTable tree={{ [name]: value }} base="" onEdit={props.onEdit} /></Fold>
      ))}
    </>
  );
}

const noteOf = (value: TreeValue) => (Array.isArray(value) ? `${value.length} of them` : Object.keys(value as Tree).slice(0, 4).map((k) => k.replaceAll('_', ' ')).join(', '));

function AsText(props: { here: Job }) {
  const text = useSignal(props.here.text);
  const base = useSignal(props.here.version);
  const faults = useSignal<Fault[]>([]);
  const sentence = useSignal<string | null>(null);
  const untouched = useSignal(true);
  useEffect(() => {
    if (!untouched.value) return;
    text.value = props.here.text;
    base.value = props.here.version;
  }, [props.here.version]);
  const store = async () => {
    try {
      await ask<Job>('PUT', `/jobs/${props.here.id}`, { version: base.value, text: text.value, what: 'changed as text' });
      untouched.value = true;
      sentence.value = null;
      faults.value = [];
      await refresh();
    } catch (fault) {
      sentence.value = sentenceOf(fault);
      faults.value = fault instanceof Refusal ? fault.body.faults ?? [] : [];
    }
  };
  return (
    <details class="fold no-print">
      <summary>The whole as text</summary>
      <textarea aria-label="Job file" value={text.value} spellcheck={false} readOnly={!mayRecord()}
                onInput={(e) => { text.value = e.currentTarget.value; untouched.value = false; }} />
      {sentence.value && <p class="sentence" role="alert">{sentence.value}</p>}
      {faults.value.map((f) => <p class="sentence" key={`${f.line}${f.key}`}>line {f.line}, {f.key}: {f.text}</p>)}
      {mayRecord() && <p class="acts"><button type="button" class="main-act" disabled={untouched.value} onClick={() => void store()}>Store the text</button></p>}
    </details>
  );
}

function Versions(props: { id: number; version: number }) {
  const versions = useSignal<Version[]>([]);
  useEffect(() => {
    get<{ versions: Version[] }>(`/jobs/${props.id}/versions`).then((a) => { versions.value = a.versions; }).catch(() => undefined);
  }, [props.version]);
  return (
    <details class="fold no-print">
      <summary>Versions ({versions.value.length})</summary>
      <ul class="entries">{versions.value.map((v) => <li key={v.version}><span><b>{v.version}</b> {v.what}, {v.by}, {when(v.at)}</span></li>)}</ul>
    </details>
  );
}
