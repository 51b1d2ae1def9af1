// Entries of one kind, newest first: waiting ones, live ones, and those set aside by a correction. Each can be
// taken back; none is erased.

import { useSignal } from '@preact/signals';
import type { Entry, EntryKind } from '../api/types';
import { outbox, takeBack } from '../entry/outbox';
import { entries, job, waitingHere } from '../state/open_job';
import { mayRecord } from '../state/may';
import { notesOf } from '../state/notes';
import { Notes } from './notes_later';
import { valuesInWords, waitingInWords, whose } from './entry_words';
import { when } from './when';

export function EntryList(props: { kinds: EntryKind[]; head?: string; valve?: string; title: string }) {
  const id = job.value?.id;
  if (id === undefined) return null;
  const fits = (kind: unknown, head: unknown, valve: unknown) => props.kinds.includes(kind as EntryKind)
    && (props.head === undefined || head === props.head) && (props.valve === undefined || valve === props.valve);
  const unsent = waitingHere.value.filter((w) => fits(w.body['kind'], w.body['head'], w.body['valve'])).reverse();
  const stored = entries.value.entries.filter((e) => fits(e.kind, e.head, e.valve) && !e.withdrawn).reverse();
  if (unsent.length + stored.length === 0) return null;
  return (
    <details class="fold no-print">
      <summary>{props.title} ({unsent.length + stored.length})</summary>
      <ul class="entries">
        {unsent.map((w) => (
          <li key={w.key} class={w.state === 'waiting' ? 'is-waiting' : 'is-stuck'}>
            <span><b>{String(w.body['valve'] ?? '')}</b> {waitingInWords(w)}, {w.state === 'waiting' ? 'waiting to be sent' : w.sentence}</span>
            <button type="button" onClick={() => void outbox.letGo(w.key)}>Take back</button>
          </li>
        ))}
        {stored.map((e) => <Stored key={e.id} entry={e} job={id} />)}
      </ul>
    </details>
  );
}

function Stored(props: { entry: Entry; job: number }) {
  const { entry } = props;
  const aside = !entry.live;
  const noting = useSignal(false);
  const notes = notesOf(entry.head).filter((n) => n.reading === entry.id).length;
  return (
    <li class={aside ? 'set-aside' : undefined}>
      <span><b>{entry.valve}</b> {valuesInWords(entry)}, {whose(entry)}, {when(entry.at)}{madeBefore(entry)}</span>
      {!aside && (mayRecord() || notes > 0) && <button type="button" aria-expanded={noting.value} onClick={() => { noting.value = !noting.value; }}>{notes === 0 ? 'Note' : `Notes (${notes})`}</button>}
      {!aside && mayRecord() && (
        <button type="button" onClick={() => void takeBack(props.job, entry, `take back ${entry.kind} ${entry.valve}`)}>
          Take back
        </button>
      )}
      {noting.value && <Notes head={entry.head} valve={entry.valve === '?' ? '' : entry.valve} reading={entry.id} />}
    </li>
  );
}

const sentLate = 120_000; // ms between making and storing that are worth a word

// An entry that waited on its screen: the order is the server's, the moment it was made by that screen's own clock.
function madeBefore(entry: Entry): string {
  const made = Date.parse(entry.made_at ?? '');
  return Number.isFinite(made) && Math.abs(Date.parse(entry.at) - made) > sentLate ? ` (made ${when(entry.made_at)} by its screen’s clock)` : '';
}
