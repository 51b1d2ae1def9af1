// What a feed offers, at the fields it is for. It is put into them when a person takes it, and stored by them like anything
// typed; taking it stores nothing.

import { useEffect, useId, useRef } from 'preact/hooks';
import type { LiveReading as Reading, Offered } from '../api/feeds';
import { noteTaken } from '../entry/taken';
import type { LengthUnit } from '../numbers/quantity';
import { showLength, trueMinus } from '../numbers/show';
import { asTyped, choose, feeds, fetchFeeds, filled, fits, readerOf, recordWords, takeNow, used, watchFeed, type Filled, type LiveField } from '../state/feed';
import { mayRecord } from '../state/may';
import { machineHere } from '../state/shelf';
import { active } from './active_field';

interface Props {
  entry: string; // what is read, as the choice of a feed is kept: "touch", "guide"
  fields: LiveField[];
  unit: LengthUnit;
  anyMachine?: boolean; // of no job: whichever machine it stands at
  onTaken?: (keys: string[]) => void;
}

export function LiveReading(props: Props) {
  const { fields, unit } = props;
  const id = useId();
  const box = useRef<HTMLDivElement>(null);
  const saidIn = useRef(unit);
  saidIn.current = unit;
  const reader = readerOf(props.entry);
  useEffect(() => {
    void fetchFeeds();
    return watchFeed(reader, () => box.current?.checkVisibility() ?? false, () => saidIn.current);
  }, [props.entry]);
  const machine = props.anyMachine ? null : machineHere();
  const fitting = feeds.value.filter((f) => fits(f, fields) && (f.settings.at === '' || machine === null || f.settings.at === machine));
  if (fitting.length === 0 || !mayRecord()) return null;
  const chosen = fitting.some((f) => f.id === reader.chosen.value) ? reader.chosen.value : null;
  const now = chosen === null ? null : reader.now.value;
  const figure = (r: Reading) => (r.value_deg !== undefined ? trueMinus(`${Number(r.value_deg.toFixed(5))}°`) : showLength(r.value_mm ?? 0, unit));
  const said = ({ field, reading }: Filled) => (fields.length > 1 ? `${field.label} ` : '') + figure(reading);
  const into = (readings: Reading[]) => filled(readings, fields, active.value?.text);
  const take = (of: Offered) => {
    const all = into(of.readings);
    for (const { field, reading } of all) {
      field.text.value = asTyped(reading, unit);
      noteTaken(field.text, recordWords(of));
    }
    if (chosen !== null) used.value = { ...used.value, [chosen]: of.at };
    props.onTaken?.(all.map((f) => f.field.key));
  };
  const offered = now?.offered && used.value[now.id] !== now.offered.at ? now.offered : null;
  const byButton = fitting.find((f) => f.id === chosen)?.settings.decides === 'each';
  const comes = offered ? into(offered.readings) : [];
  const stands = into(now?.values ?? []);
  const stay = (e: Event) => e.preventDefault(); // the field somebody stands in keeps the word
  return (
    <div class="live-reading" data-live ref={box}>
      <div>
        <label for={id}>Read from</label>
        <select id={id} value={String(chosen ?? '')} onChange={(e) => choose(reader, Number(e.currentTarget.value) || null)}>
          <option value="">nothing: it is typed</option>
          {fitting.map((f) => <option key={f.id} value={String(f.id)}>{f.name}</option>)}
        </select>
      </div>
      {now && <p class={now.stale ? 'quiet' : undefined} data-live-values>{now.stale ? (byButton ? 'Press its button to read.' : 'Nothing is heard of it.') : stands.length > 0 ? stands.map(said).join(', ') : 'No value yet.'}</p>}
      {now && [...now.refused, ...(now.trouble ? [now.trouble] : []), ...(now.remark ? [now.remark] : [])].map((w) => <p key={w} class="sentence" role="status">{w}</p>)}
      {chosen !== null && reader.trouble.value && <p class="sentence" role="alert">{reader.trouble.value}</p>}
      {now && (
        <p class="acts">
          {offered && comes.length > 0 && <button type="button" class="main-act" data-offered={offered.id} onPointerDown={stay} onMouseDown={stay} onClick={() => take(offered)}>Use {comes.map(said).join(', ')} ({offered.by})</button>}
          {!byButton && <button type="button" onPointerDown={stay} onMouseDown={stay} onClick={() => void takeNow(reader, unit).then((o) => { if (o) take(o); })}>Use what stands now</button>}
        </p>
      )}
    </div>
  );
}
