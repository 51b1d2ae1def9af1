// What the control may hold of this head: said on every page of it while it is old, and asked for a word.

import { useEffect } from 'preact/hooks';
import { saidWords, type Place, type SentFile } from '../api/sent';
import { mayRecord } from '../state/may';
import { drawn, headHere, job } from '../state/open_job';
import { machineHere } from '../state/shelf';
import { fetchSent, readBack, sayOf, sending, sendFiles, sendTrouble, sent } from '../state/sent';

// Kept fresh while a job is open: with every change of it, and with what is sent from other screens.
export function useSent(): void {
  const [at, head, id] = [drawn.value, headHere.value, job.value?.id];
  useEffect(() => {
    if (sent.peek()?.head !== head) sent.value = null;
    void fetchSent();
  }, [at, head, id]);
}

const placeOf = (file: SentFile): Place | undefined => sent.value?.places.find((p) => p.id === file.place);

// A triangle with a bar: stop. The word stands beside it; the colour says nothing alone.
const StopShape = () => (
  <svg class="stop-shape" viewBox="0 0 32 28" width="40" height="35" role="img" aria-label="stop"><path d="M16 2 L30 26 L2 26 Z M16 10 V18 M16 21 V23" class="mark-line" fill="none" /></svg>
);

export function OldProgram() {
  const now = sent.value;
  if (!now?.old) return null;
  return (
    <section class="old-program" role="alert" data-old-program>
      <StopShape />
      <div>
        <p class="old-words"><strong>Stop.</strong> {now.old}</p>
        {now.sent.filter((f) => f.may_run && f.stands === 'stale').map((f) => <Word key={f.id} file={f} />)}
      </div>
    </section>
  );
}

function Word(props: { file: SentFile }) {
  const { file } = props;
  return (
    <p class="acts">
      <span>{file.name}{placeOf(file) ? `, at ${placeOf(file)?.name}` : ''}: what became of it?</span>
      {mayRecord() && saidWords.map((w) => <button key={w} type="button" onClick={() => void sayOf(file.id, w)}>{w}</button>)}
    </p>
  );
}

interface SendProps {
  file: string;
  query?: Record<string, string>; // the part of the head it is for
  ahead?: boolean; // it may also be sent before it is to be run
  onSent?: () => void;
}

// Beside the file to take: the places of the job's machine, and what was sent there. A job whose machine has no name may go
// to any, which is then named.
export function SendTo(props: SendProps) {
  const now = sent.value;
  if (!now) return null;
  const machine = machineHere();
  const places = now.places.filter((p) => machine === null || p.machine === machine);
  const files = now.sent.filter((f) => f.file === props.file && (f.may_run || f.may_stand));
  if (places.length === 0 && files.length === 0) return null;
  const send = async (place: Place, ahead: boolean) => {
    if (await sendFiles({ place: place.id, files: [props.file], ahead, ...(props.query ? { query: props.query } : {}) })) props.onSent?.();
  };
  const to = (p: Place) => (machine !== null ? p.name : `${p.name} of ${p.machine}`);
  return (
    <div class="send-to">
      {mayRecord() && places.map((p) => (
        <p class="acts" key={p.id}>
          <button type="button" class="main-act" disabled={sending.value !== null} onClick={() => void send(p, false)}>Send it to {to(p)}</button>
          {props.ahead && p.kind === 'folder' && <button type="button" disabled={sending.value !== null} onClick={() => void send(p, true)}>Send it ahead: it is not run yet</button>}
          {p.kind === 'line' && <span>The control waits to receive into its memory. Never run it while it is sent.</span>}
        </p>
      ))}
      {sending.value !== null && <p role="status">{sending.value}</p>}
      {sendTrouble.value !== null && <p class="sentence" role="alert">{sendTrouble.value}</p>}
      {files.map((f) => (
        <div key={f.id} data-sent={f.name}>
          <p>{f.name}: {f.words}</p>
          {f.may_run && f.stands !== 'stale' && <Word file={f} />}
          {placeOf(f)?.kind === 'line' && mayRecord() && <p class="acts"><button type="button" disabled={sending.value !== null} onClick={() => void readBack(f.id)}>Let the control send it out again, and compare</button></p>}
        </div>
      ))}
    </div>
  );
}
