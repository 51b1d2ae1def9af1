// Where a machine's programs are sent: a card inside the machine's own on the Shelf. Set up and changed by a lead.

import { useSignal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { ask, post } from '../api/client';
import type { Place } from '../api/sent';
import { useAttempt } from '../parts/attempt';
import { mayLead, mayRecord } from '../state/may';
import { fetchPlaces, places } from '../state/places';
import { LineFields, lineIn } from './line_fields';

// `machines`: those of the Shelf, for a place whose machine is no longer on it.
export function PlacesOf(props: { machine: string; machines: string[] }) {
  const { said: trouble, attempt } = useAttempt(fetchPlaces);
  const notes = useSignal<string[]>([]);
  const here = places.value.filter((p) => p.machine === props.machine);
  const visit = (p: Place, how: 'look' | 'clear') => attempt(async () => {
    const seen = await post<{ notes: string[] }>(`/places/${p.id}/${how}`, {});
    notes.value = seen.notes.length > 0 ? seen.notes : [how === 'look' ? 'Everything on record was looked at.' : 'Nothing that is old is left there but what may be running.'];
  });
  return (
    <section class="of-machine" aria-label={`Programs of ${props.machine} go to`}>
      <h4>Programs go to</h4>
      {here.length === 0 && <p class="quiet">No place is set up: they are taken by hand.</p>}
      {here.map((p) => (
        <div key={p.id} data-place={p.name}>
          <p><b>{p.name}</b>: <span class="quiet">{whereabouts(p)}</span></p>
          {(p.running ?? []).map((r) => <p key={r.id}>{r.name} may be running (<a href={`#/job/${r.job}/machine`}>head {r.head}</a>)</p>)}
          {p.kind === 'folder' && mayRecord() && (
            <p class="acts no-print">
              <button type="button" onClick={() => void visit(p, 'look')}>Look what is there</button>
              <button type="button" onClick={() => void visit(p, 'clear')}>Take away what is old</button>
            </p>
          )}
          {mayLead() && (
            <Folded title="Change it" key={p.version}>{(close) => (
              <>
                <PlaceForm id={`place-${p.id}`} was={p} machines={props.machines} say="Store it"
                           give={async (body) => { if (await attempt(() => ask('PUT', `/places/${p.id}`, { ...body, version: p.version }))) close(); }} />
                <p class="acts"><button type="button" onClick={() => void attempt(() => ask('DELETE', `/places/${p.id}`))}>Put it away</button></p>
              </>
            )}</Folded>
          )}
        </div>
      ))}
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      {notes.value.map((n) => <p key={n} role="status">{n}</p>)}
      {mayLead() && props.machines.includes(props.machine) && (
        <Folded title="Set up a place">{(close) => <PlaceForm id={`place-of-${props.machine}`} machine={props.machine} machines={props.machines} say="Set it up" give={async (body) => { if (await attempt(() => post('/places', body))) close(); }} />}</Folded>
      )}
    </section>
  );
}

const whereabouts = (p: Place) => p.kind === 'folder'
  ? `folder ${p.settings.path}${p.settings.mount ? `, mounted on ${p.settings.mount}` : ''}`
  : `line ${p.settings.device}, ${p.settings.baud} baud, ${p.settings.bits} bits, parity ${p.settings.parity}, ${p.settings.handshake}`;

// A form that is made when it is opened, and gone when it is done.
export function Folded(props: { title: string; children: (close: () => void) => ComponentChildren }) {
  const open = useSignal(false);
  return (
    <details class="no-print" open={open.value} onToggle={(e) => { open.value = e.currentTarget.open; }}>
      <summary>{props.title}</summary>
      {open.value && props.children(() => { open.value = false; })}
    </details>
  );
}

interface FormProps { id: string; machine?: string; machines: string[]; was?: Place; say: string; give: (body: Record<string, unknown>) => Promise<void> }

function PlaceForm(props: FormProps) {
  const { id, was } = props;
  const kind = useSignal<'folder' | 'line'>(was?.kind ?? 'folder');
  const submit = (event: Event) => {
    event.preventDefault();
    const given = new FormData(event.currentTarget as HTMLFormElement);
    const text = (key: string) => String(given.get(key) ?? '');
    const common = { ...was?.settings, machine: props.machine ?? text('machine'), name: text('name'), kind: kind.value };
    void props.give(kind.value === 'folder' ? { ...common, path: text('path') } : { ...common, ...lineIn(given) });
  };
  return (
    <form class="place-form" onSubmit={submit}>
      {props.machine === undefined && <div><label for={`${id}-machine`}>Machine</label><select id={`${id}-machine`} name="machine">{props.machines.map((m) => <option key={m} selected={m === was?.machine}>{m}</option>)}</select></div>}
      <div><label for={`${id}-name`}>What you call it</label><input id={`${id}-name`} name="name" required maxLength={100} defaultValue={was?.name ?? ''} /></div>
      <div>
        <label for={`${id}-kind`}>It is</label>
        <select id={`${id}-kind`} value={kind.value} onChange={(e) => { kind.value = e.currentTarget.value as 'folder' | 'line'; }}>
          <option value="folder">a folder: disk, share or stick</option><option value="line">a serial line into the control</option>
        </select>
      </div>
      {kind.value === 'folder'
        ? <div><label for={`${id}-path`}>Folder on the server</label><input id={`${id}-path`} name="path" required placeholder="/media/stick" defaultValue={was?.settings.path ?? ''} /></div>
        : <LineFields id={id} was={was?.settings ?? {}} asks />}
      <p class="acts"><button type="submit" class="main-act">{props.say}</button></p>
    </form>
  );
}
