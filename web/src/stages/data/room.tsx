// The drawing data of the job: every key a field, the whole as text, its versions, and the file to take along.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ask, get, Refusal, sentenceOf } from '../../api/client';
import type { Fault, Job, Version } from '../../api/types';
import { change } from '../../entry/outbox';
import { PaperPages } from '../../parts/paper_pages';
import { TreeTable } from '../../parts/tree_table';
import { when } from '../../parts/when';
import { mayRecord } from '../../state/may';
import { job, refresh, state } from '../../state/open_job';
import { usePapers } from '../../state/papers';
import { drawingsOf, FramedDrawing } from '../room_parts';

export function DataRoom() {
  const here = job.value;
  if (!here) return null;
  const plan = state.value?.drawings.find((d) => d.name === 'plan') ?? drawingsOf('hold')[0];
  const base = `/api/jobs/${here.id}`;
  return (
    <>
      <header class="room-head"><h2>Drawing data</h2><p>As the job file says it; a change is a new version, and can be undone.</p></header>
      <div class="acts no-print">
        <a class="button" href={`${base}/export`} download={`${here.id}-${here.title}.toml`}>Take the job file</a>
        <a class="button" href={`#/ledger/${here.id}`}>Ledger of this job</a>
      </div>
      {state.value?.faults?.map((f) => <p class="sentence" key={f.key + f.text}>{f.key}: {f.text}</p>)}
      {plan && <FramedDrawing drawing={plan} />}
      {here.tables && (
        <TreeTable tree={here.tables} base="" onEdit={mayRecord() ? (edits, what) => void change(here, edits, what) : undefined} />
      )}
      <AsText here={here} />
      <PaperPages name="sheet.pdf" beside={usePapers().filter((p) => /^(map-|plan\.)/.test(p.name)).map((p) => p.name)} />
      <Versions id={here.id} version={here.version} />
    </>
  );
}

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
    <details class="no-print">
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
    <details class="no-print">
      <summary>Versions ({versions.value.length})</summary>
      <ul class="entries">{versions.value.map((v) => <li key={v.version}><span><b>{v.version}</b> {v.what}, {v.by}, {when(v.at)}</span></li>)}</ul>
    </details>
  );
}
