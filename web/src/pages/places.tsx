// Places of the shop's machines, on the Shelf: where programs are sent, set up by a lead.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ask, get, post, sentenceOf } from '../api/client';
import { listen } from '../api/events';
import type { Place } from '../api/sent';
import { mayLead, mayRecord } from '../state/may';

export function Places(props: { machines: string[] }) {
  const all = useSignal<Place[]>([]);
  const trouble = useSignal<string | null>(null);
  const notes = useSignal<string[]>([]);
  const fetchAll = () => get<{ places: Place[] }>('/places').then((a) => { all.value = a.places; });
  const attempt = async (act: () => Promise<unknown>) => {
    trouble.value = null;
    await act().then(fetchAll).catch((fault: unknown) => { trouble.value = sentenceOf(fault); });
  };
  useEffect(() => {
    void attempt(() => Promise.resolve());
    const listening = listen('/events', ['places'], () => void fetchAll().catch(() => undefined), () => undefined);
    return () => listening.close();
  }, []);
  const visit = (p: Place, how: 'look' | 'clear') => attempt(async () => {
    const seen = await post<{ notes: string[] }>(`/places/${p.id}/${how}`, {});
    notes.value = seen.notes.length > 0 ? seen.notes : [how === 'look' ? 'Everything on record was looked at.' : 'Nothing that is old is left there but what may be running.'];
  });
  return (
    <section aria-label="Places programs are sent to">
      <h2>Places programs are sent to</h2>
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      {notes.value.map((n) => <p key={n} role="status">{n}</p>)}
      {all.value.length === 0 && <p class="quiet">None set up: programs are taken by hand.</p>}
      <div class="cards shelf-cards">
        {all.value.map((p) => (
          <article class="shelf-item" key={p.id} data-place={p.name}>
            <h3>{p.name}</h3>
            <p class="quiet">{p.machine}: {p.kind === 'folder' ? `folder ${p.settings.path}${p.settings.mount ? `, mounted on ${p.settings.mount}` : ''}` : `line ${p.settings.device}, ${p.settings.baud} baud, ${p.settings.bits} bits, parity ${p.settings.parity}, ${p.settings.handshake}`}</p>
            {(p.running ?? []).map((r) => <p key={r.id}>{r.name} may be running (<a href={`#/job/${r.job}/machine`}>head {r.head}</a>)</p>)}
            <p class="acts no-print">
              {p.kind === 'folder' && mayRecord() && <button type="button" onClick={() => void visit(p, 'look')}>Look what is there</button>}
              {p.kind === 'folder' && mayRecord() && <button type="button" onClick={() => void visit(p, 'clear')}>Take away what is old</button>}
              {mayLead() && <button type="button" onClick={() => void attempt(() => ask('DELETE', `/places/${p.id}`))}>Put it away</button>}
            </p>
          </article>
        ))}
      </div>
      {mayLead() && <NewPlace machines={props.machines} make={(body) => attempt(() => post('/places', body))} />}
    </section>
  );
}

function NewPlace(props: { machines: string[]; make: (body: Record<string, unknown>) => Promise<void> }) {
  const kind = useSignal<'folder' | 'line'>('folder');
  const submit = (event: Event) => {
    event.preventDefault();
    const given = new FormData(event.currentTarget as HTMLFormElement);
    const text = (key: string) => String(given.get(key) ?? '');
    const common = { machine: text('machine'), name: text('name'), kind: kind.value };
    void props.make(kind.value === 'folder' ? { ...common, path: text('path') } : {
      ...common, device: text('device'), baud: Number(text('baud')), bits: Number(text('bits')), parity: text('parity'), stop_bits: 1,
      handshake: text('handshake'), wait_for_go: given.get('wait_for_go') !== null,
    });
  };
  return (
    <details class="no-print">
      <summary>Set up a place</summary>
      <form class="place-form" onSubmit={submit}>
        <div><label for="place-machine">Machine</label><select id="place-machine" name="machine">{props.machines.map((m) => <option key={m}>{m}</option>)}</select></div>
        <div><label for="place-name">What you call it</label><input id="place-name" name="name" required maxLength={100} /></div>
        <div>
          <label for="place-kind">It is</label>
          <select id="place-kind" value={kind.value} onChange={(e) => { kind.value = e.currentTarget.value as 'folder' | 'line'; }}>
            <option value="folder">a folder: disk, share or stick</option><option value="line">a serial line into the control</option>
          </select>
        </div>
        {kind.value === 'folder'
          ? <div><label for="place-path">Folder on the server</label><input id="place-path" name="path" required placeholder="/media/stick" /></div>
          : <LineFields />}
        <p class="acts"><button type="submit" class="main-act">Set it up</button></p>
      </form>
    </details>
  );
}

export function LineFields() {
  return (
    <>
      <div><label for="line-device">Line of the server</label><input id="line-device" name="device" required placeholder="/dev/ttyUSB0" /></div>
      <div><label for="line-baud">Baud</label><select id="line-baud" name="baud" defaultValue="9600">{[1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200].map((b) => <option key={b} selected={b === 9600}>{b}</option>)}</select></div>
      <div><label for="line-bits">Bits</label><select id="line-bits" name="bits"><option selected>8</option><option>7</option></select></div>
      <div><label for="line-parity">Parity</label><select id="line-parity" name="parity"><option>none</option><option>even</option><option>odd</option></select></div>
      <div><label for="line-handshake">Held by</label><select id="line-handshake" name="handshake"><option value="xon/xoff">XON/XOFF</option><option value="rts/cts">the wire clear to send</option><option value="none">nothing</option></select></div>
      <div><label for="line-go"><input id="line-go" name="wait_for_go" type="checkbox" /> begin when the control asks (XON)</label></div>
    </>
  );
}
