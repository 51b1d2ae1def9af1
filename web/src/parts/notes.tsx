// Notes and photographs of a head, of one of its seats, or about one reading: typed or taken here, listed under it. They wait
// like readings while the network is away.

import { useSignal } from '@preact/signals';
import { useId } from 'preact/hooks';
import { sentenceOf } from '../api/client';
import { draftOf } from '../entry/draft';
import { takeBack } from '../entry/outbox';
import { mayRecord } from '../state/may';
import { note, notesOf, type Note } from '../state/notes';
import { entries, job } from '../state/open_job';
import { base64, shrunk } from './shrink';
import { when } from './when';

const longestNote = 500;

interface Props { head: string; valve?: string; reading?: number; onKept?: () => void }

export function Notes(props: Props) {
  const { head, valve = '', reading } = props;
  const text = draftOf(job.value?.id ?? 0, head, 'note', valve, reading ?? '');
  const sentence = useSignal<string | null>(null);
  const busy = useSignal(false);
  const id = useId();
  const about = { ...(reading === undefined ? {} : { reading }) };
  const keep = async (picture?: File) => {
    const words = text.value.trim();
    if (words === '' && !picture) return;
    busy.value = true;
    sentence.value = null;
    try {
      await note(head, valve, { ...about, ...(words === '' ? {} : { words }), ...(picture ? { jpeg: await base64(await shrunk(picture)) } : {}) });
      text.value = '';
      props.onKept?.();
    } catch (fault) {
      sentence.value = sentenceOf(fault);
    } finally {
      busy.value = false;
    }
  };
  const here = notesOf(head).filter((n) => (reading === undefined ? n.valve === valve : n.reading === reading));
  return (
    <section class="notes" aria-label={`Notes on ${valve === '' ? '' : `${valve}, `}head ${head}`}>
      {mayRecord() && (
        <div class="notes-entry no-print">
          <label for={`${id}-words`}>A note on {valve === '' ? `head ${head}` : `${valve}, head ${head}`}</label>
          <textarea id={`${id}-words`} rows={2} maxLength={longestNote} value={text.value} onInput={(e) => { text.value = e.currentTarget.value; }} />
          <p class="acts">
            <button type="button" class="main-act" disabled={busy.value || text.value.trim() === ''} onClick={() => void keep()}>Keep the note</button>
            <label class="button file-button">
              Photograph
              <input type="file" accept="image/*" capture="environment" disabled={busy.value} onChange={(e) => {
                const picture = e.currentTarget.files?.[0];
                if (picture) void keep(picture);
                e.currentTarget.value = '';
              }} />
            </label>
          </p>
          {sentence.value && <p class="sentence" role="alert">{sentence.value}</p>}
          {busy.value && <p role="status">The photograph is being made small.</p>}
        </div>
      )}
      <ul class="notes-list">{here.map((n) => <One key={n.key} of={n} />)}</ul>
    </section>
  );
}

function One(props: { of: Note }) {
  const { of } = props;
  const id = job.value?.id ?? 0;
  const stored = entries.value.entries.find((e) => e.id === of.entry);
  const address = of.photograph === null ? null : `/api/jobs/${id}/photographs/${of.photograph}`;
  return (
    <li>
      {address && <a href={address} target="_blank" rel="noopener"><img src={address} alt={of.words === '' ? `Photograph${of.valve === '' ? '' : ` of ${of.valve}`}, ${of.by}` : of.words} loading="lazy" /></a>}
      <span>{of.valve !== '' && <b>{of.valve} </b>}{of.words}{of.words !== '' && ', '}{of.by} {when(of.at)}{of.unsent ? ', waiting to be sent' : ''}</span>
      {stored && mayRecord() && <button type="button" class="no-print" onClick={() => void takeBack(id, stored, `take back a note on head ${stored.head}`)}>Take back</button>}
    </li>
  );
}
