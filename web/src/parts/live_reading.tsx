// What a feed offers, at the field it is for. It is put into the field when a person takes it, and stored by them like
// anything typed; taking it stores nothing.

import type { Signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { LiveReading as Reading, Offered } from '../api/feeds';
import { showLength } from '../numbers/show';
import { chooseFeed, chosenFeed, feedNow, feeds, feedTrouble, fetchFeeds, recordWords, takeNow, watchFeed } from '../state/feed';
import { mayRecord } from '../state/may';
import { shown } from '../state/open_job';

interface Props {
  fields: [what: string, text: Signal<string>][];
  onTaken: (words: string) => void; // for the record, with what is stored of it
}

const typed = (r: Reading) => (r.value_deg !== undefined ? `${Number(r.value_deg.toFixed(5))}°` : `${Number((r.value_mm ?? 0).toFixed(5))} mm`);
const seen = (r: Reading) => `${r.what.toUpperCase()} ${r.value_deg !== undefined ? `${r.value_deg}°` : showLength(r.value_mm ?? 0, shown.value)}`;

export function LiveReading(props: Props) {
  useEffect(() => {
    void fetchFeeds();
    return watchFeed();
  }, []);
  const wanted = props.fields.map(([what]) => what);
  const fitting = feeds.value.filter((f) => wanted.every((w) => f.settings.channels.some((c) => c.what === w)));
  if (fitting.length === 0 || !mayRecord()) return null;
  const now = fitting.some((f) => f.id === chosenFeed.value) ? feedNow.value : null;
  const take = (of: Offered) => {
    for (const [what, text] of props.fields) {
      const reading = of.readings.find((r) => r.what === what);
      if (reading) text.value = typed(reading);
    }
    props.onTaken(recordWords(of));
  };
  const values = (now?.values ?? []).filter((r) => wanted.includes(r.what));
  const offered = now?.offered ?? null;
  return (
    <div class="live-reading" data-live>
      <div>
        <label for="live-feed">Read from</label>
        <select id="live-feed" value={String(chosenFeed.value ?? '')} onChange={(e) => chooseFeed(Number(e.currentTarget.value) || null)}>
          <option value="">nothing: it is typed</option>
          {fitting.map((f) => <option key={f.id} value={String(f.id)}>{f.name}</option>)}
        </select>
      </div>
      {now && <p class={now.stale ? 'quiet' : undefined} data-live-values>{now.stale ? 'Nothing is heard of it.' : values.length > 0 ? values.map(seen).join(', ') : 'No value yet.'}</p>}
      {now && [...now.refused, ...(now.trouble ? [now.trouble] : []), ...(now.remark ? [now.remark] : [])].map((w) => <p key={w} class="sentence" role="status">{w}</p>)}
      {feedTrouble.value && <p class="sentence" role="alert">{feedTrouble.value}</p>}
      {now && (
        <p class="acts">
          {offered && <button type="button" class="main-act" data-offered={offered.id} onClick={() => take(offered)}>Use {offered.readings.filter((r) => wanted.includes(r.what)).map(seen).join(', ')} ({offered.by})</button>}
          <button type="button" onClick={() => void takeNow().then((o) => { if (o) take(o); })}>Use what stands now</button>
        </p>
      )}
    </div>
  );
}
