// A scanned surface is sent piece by piece, so that a slow network only makes it slow and it can be stopped; then it is read.

import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import { ask, Away, get, post, Refusal, sentenceOf } from '../api/client';
import type { Scan, Task } from '../api/types';
import { TaskProgress } from '../parts/task_progress';
import { go } from '../state/route';
import { FileUnits } from './file_units';

const piece = 2 << 20; // bytes
const most = 1 << 30; // as the server takes
const tries = 20, betweenTries = 1_500; // ms: while the network is away

export function ScanBegin() {
  const trouble = useSignal<string | null>(null);
  const sending = useSignal<Scan | null>(null);
  const task = useSignal<{ scan: string; task: Task } | null>(null);
  const wanted = useRef(0); // which sending is still wanted

  const send = async (file: File, units: string) => {
    const mine = ++wanted.current;
    const begun = await post<Scan>('/scans', { file: file.name, bytes: file.size });
    let at = 0;
    for (let left = tries; at < file.size;) {
      sending.value = { ...begun, taken: at };
      try {
        at = (await ask<{ taken: number }>('POST', `/scans/${begun.id}/pieces?at=${at}`, file.slice(at, at + piece))).taken;
        left = tries;
      } catch (fault) {
        // Whether the piece came before the network went is not known: the server says where to go on.
        const goesOn = (fault instanceof Away || (fault instanceof Refusal && fault.status === 409)) && --left > 0;
        if (!goesOn) throw fault;
        if (fault instanceof Away) await new Promise((resolve) => setTimeout(resolve, betweenTries));
        at = (await get<Scan>(`/scans/${begun.id}`).catch(() => ({ taken: at }))).taken;
      }
      if (wanted.current !== mine) {
        await ask('DELETE', `/scans/${begun.id}`);
        return;
      }
    }
    sending.value = null;
    task.value = { scan: begun.id, task: await post<Task>(`/scans/${begun.id}/read`, units === '' ? {} : { units }) };
  };
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    trouble.value = null;
    task.value = null;
    const data = new FormData(event.currentTarget as HTMLFormElement);
    const file = data.get('scan') as File;
    if (file.size === 0) trouble.value = 'Choose a file of points first: STL, PLY, OBJ or lines of x y z.';
    else if (file.size > most) trouble.value = 'The file is larger than 1 GiB: thin its points.';
    else {
      try {
        await send(file, data.get('scan-units') as string);
      } catch (fault) {
        sending.value = null;
        trouble.value = sentenceOf(fault);
      }
    }
  };
  const now = sending.value;
  const under = task.value;
  return (
    <section aria-label="A scanned surface">
      <p>What a scanner or a measuring machine gives, in any pose: deck, guides, seats and holes are found in its points and shown to you before the job is made. Pins standing in the guides help where the scanner does not see into them.</p>
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      {now && (
        <section role="status">
          <p>Sending {now.file}: {(now.taken / 1e6).toFixed(0)} of {(now.bytes / 1e6).toFixed(0)} MB</p>
          <progress value={now.taken} max={now.bytes} aria-label="How much of it is sent" />
          <p class="acts"><button type="button" onClick={() => { wanted.current += 1; sending.value = null; }}>Stop it</button></p>
        </section>
      )}
      {under && <TaskProgress key={under.task.id} task={under.task} done={() => go(`#/scan/${under.scan}`)} />}
      {!now && (
        <form class="form" onSubmit={(e) => void submit(e)}>
          <div>
            <label for="scan-file">File of points</label>
            <input id="scan-file" name="scan" type="file" accept=".stl,.ply,.obj,.xyz,.txt,.csv,.asc" />
          </div>
          <FileUnits name="scan-units" legend="It is in" own="what its size says" />
          <button type="submit" class="main-act">Send and read it</button>
        </form>
      )}
    </section>
  );
}
