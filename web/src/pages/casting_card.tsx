// One casting: what is known of it, what worked, what people noted, what does not belong and what a lead is to decide.

import { useSignal } from '@preact/signals';
import { useId } from 'preact/hooks';
import { sentenceOf } from '../api/client';
import type { Casting } from '../api/types';
import { showLength } from '../numbers/show';
import { Fold } from '../parts/fold';
import { base64, shrunk } from '../parts/shrink';
import { when } from '../parts/when';
import { mayLead, mayRecord } from '../state/may';
import { inALine, unit } from './casting_words';

type Tell = (path: string, body: Record<string, unknown>) => Promise<void>;

export function CastingCard(props: { casting: Casting; begin: () => void; tell: Tell }) {
  const { casting: c, tell } = props;
  const known = c.worked.length + c.depths + c.times;
  return (
    <article class="shelf-item" data-casting={c.name}>
      <h3>{c.name}</h3>
      <p class="quiet">{inALine(c)}</p>
      <p class="quiet">{[c.source !== '' && `described by ${c.source}`, c.changed_by === '' ? `${c.what} ${when(c.changed_at)}` : `${c.what}, ${c.changed_by} ${when(c.changed_at)}`].filter(Boolean).join('; ')}</p>
      {c.fault && <p class="sentence">{c.fault}</p>}
      {c.strangers.map((s) => <p class="sentence" key={s.job} data-stranger>Job {s.job}: {s.words}</p>)}
      {c.offers.map((o) => (
        <details key={o.id}>
          <summary>Job {o.job} describes it otherwise</summary>
          <pre>{o.text}</pre>
          {mayLead() && <p class="acts"><button type="button" onClick={() => void tell(`offers/${o.id}`, { accepted: true })}>Accept it</button><button type="button" onClick={() => void tell(`offers/${o.id}`, { accepted: false })}>Leave it as it was</button></p>}
        </details>
      ))}
      <p class="acts">
        {mayRecord() && <button type="button" class="main-act" onClick={props.begin}>New job</button>}
        <a class="button" href={`/api/castings/${c.id}/file`} download>Take its file</a>
      </p>
      {known > 0 && <Fold title="What worked before" note={`${c.worked.length === 0 ? 'depths and times' : `${c.worked.reduce((n, w) => n + (w.seats ?? 0), 0)} seats passed`}`}><Worked casting={c} /></Fold>}
      <Fold title="Notes and photographs" note={c.notes.length === 0 ? 'none yet' : String(c.notes.length)}><Notes casting={c} tell={tell} /></Fold>
    </article>
  );
}

function Worked(props: { casting: Casting }) {
  const { casting: c } = props;
  return (
    <>
      {c.worked.length > 0 && (
        <div class="wide">
          <table>
            <caption>What cut the seats that passed</caption>
            <thead><tr><th scope="col">Seats</th><th scope="col">Pilot</th><th scope="col">Cutter</th><th scope="col">Speed</th><th scope="col">Feed a turn</th><th scope="col">Job</th></tr></thead>
            <tbody>{c.worked.map((w, i) => (
              <tr key={i}><th scope="row">{w.seats ?? '–'} {w.kind}</th><td>{w.pilot ?? '–'}</td><td>{w.cutter ?? '–'}</td><td>{w.rpm === null ? '–' : `${w.rpm} rpm`}</td><td>{showLength(w.feed_mm, unit())}</td><td>{w.from ?? '–'}</td></tr>
            ))}</tbody>
          </table>
        </div>
      )}
      {c.depths > 0 && <p>Of {c.depths} seats the depth cut is known: {showLength(c.depth_mm, unit())} in the middle, {showLength(c.deepest_mm, unit())} at most.</p>}
      {c.times > 0 && <p>Half of {c.times === 1 ? 'one head' : `${c.times} heads`} took {c.minutes_head} minutes or less, from the first reading to the last, pauses left out.</p>}
    </>
  );
}

function Notes(props: { casting: Casting; tell: Tell }) {
  const { casting: c, tell } = props;
  const words = useSignal(''), number = useSignal(c.number);
  const trouble = useSignal<string | null>(null);
  const id = useId();
  const keep = async (picture?: File) => {
    trouble.value = null;
    try {
      const said = words.value.trim();
      await tell('notes', { ...(said === '' ? {} : { words: said }), ...(picture ? { jpeg: await base64(await shrunk(picture)) } : {}) });
      words.value = '';
    } catch (fault) {
      trouble.value = sentenceOf(fault);
    }
  };
  return (
    <div class="notes">
      {mayRecord() && (
        <div class="notes-entry no-print">
          <label for={`${id}-number`}>Number cast on it</label>
          <input id={`${id}-number`} data-kept-left value={number.value} maxLength={60} autocomplete="off" onInput={(e) => { number.value = e.currentTarget.value; }}
                 onChange={() => { if (number.value.trim() !== c.number) void tell('notes', { number: number.value.trim() }); }} />
          <label for={`${id}-words`}>A note on this casting</label>
          <textarea id={`${id}-words`} rows={2} maxLength={500} value={words.value} onInput={(e) => { words.value = e.currentTarget.value; }} />
          <p class="acts">
            <button type="button" disabled={words.value.trim() === ''} onClick={() => void keep()}>Keep the note</button>
            <label class="button file-button">Photograph<input type="file" accept="image/*" capture="environment" onChange={(e) => {
              const picture = e.currentTarget.files?.[0];
              if (picture) void keep(picture);
              e.currentTarget.value = '';
            }} /></label>
          </p>
          {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
        </div>
      )}
      <ul class="notes-list">
        {c.notes.map((n, i) => {
          const address = n.photograph === null ? null : `/api/castings/${c.id}/photographs/${n.photograph}`;
          return (
            <li key={i}>
              {address && <a href={address} target="_blank" rel="noopener"><img src={address} alt={n.words === '' ? `Photograph of the casting, ${n.by}` : n.words} loading="lazy" /></a>}
              <span>{[n.words, [n.by, n.at !== '' && when(n.at)].filter(Boolean).join(' ')].filter((t) => t !== '').join(', ')}</span>
            </li>
          );
        })}
      </ul>
    </div>
  );
}
