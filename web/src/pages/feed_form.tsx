// One feed as a form: where it is, what it sends, which of that is for which field, and when a reading is offered.

import { useSignal, type Signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { post, sentenceOf } from '../api/client';
import type { Channel, Decides, Feed, FeedKind, Tried } from '../api/feeds';
import type { Typed } from '../numbers/parse';
import { showNumber } from '../numbers/show';
import { Field } from '../parts/field';
import { shown } from '../state/open_job';
import { decides, forGauges, kinds, nameOf } from './feed_words';
import { LineFields, lineIn } from './line_fields';

const forMachines = ['x', 'y', 'z', 'tilt', 'swing'];
const angles = ['tilt', 'swing'];
const emptyChannel = (what: string): Channel => ({ what, key: '', part: 0, unit: angles.includes(what) ? 'deg' : 'mm', sign: 1, low: null, high: null });
const usualStill = 0.005; // mm, and degrees of an angle
const isMachine = (kind: FeedKind) => kind === 'agent' || kind === 'adapter';

interface Props { id: string; at: string; machines: string[]; was?: Feed; say: string; give: (body: Record<string, unknown>) => Promise<void> }

export function FeedForm(props: Props) {
  const { id, was } = props;
  const before = was?.settings;
  const kind = useSignal<FeedKind>(before?.kind ?? (props.at === '' ? 'line' : 'agent'));
  const tried = useSignal<Tried | null>(null);
  const trouble = useSignal<string | null>(null);
  const waiting = useSignal(false);
  const channels = useSignal<Channel[]>(before?.channels ?? (isMachine(kind.value) ? [emptyChannel('x'), emptyChannel('y')] : [emptyChannel('any')]));
  const decided = useSignal<Decides>(before?.decides ?? 'stillness');
  const still = useSignal(before?.still ?? usualStill), stillDeg = useSignal(before?.still_deg ?? usualStill);
  const machine = isMachine(kind.value);
  const source = (form: HTMLFormElement): Record<string, unknown> => {
    const given = new FormData(form);
    const text = (key: string) => String(given.get(key) ?? '');
    const where = kind.value === 'line' ? lineIn(given) : { host: text('host'), port: Number(text('port')), machine: text('of') };
    return { kind: kind.value, ...where, ask: text('ask') };
  };
  const look = async (form: HTMLFormElement | null) => {
    if (!form) return;
    [waiting.value, trouble.value, tried.value] = [true, null, null];
    try {
      tried.value = await post<Tried>('/feeds/try', source(form));
    } catch (fault) {
      trouble.value = sentenceOf(fault);
    } finally {
      waiting.value = false;
    }
  };
  const choose = (to: FeedKind) => {
    if (isMachine(to) !== machine) channels.value = isMachine(to) ? [emptyChannel('x'), emptyChannel('y')] : [emptyChannel('any')];
    kind.value = to;
    tried.value = null;
  };
  const submit = (event: Event) => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    const wrong = form.querySelector<HTMLInputElement>('[aria-invalid=true]');
    if (wrong) {
      wrong.focus();
      return;
    }
    const given = new FormData(form);
    const text = (key: string) => String(given.get(key) ?? '');
    const number = (key: string, usual: number) => (given.get(key) === null || Number.isNaN(Number(text(key))) ? usual : Number(text(key)));
    const { dwell_ms = 800, stale_ms = 3000, pedal_key = '' } = before ?? {};
    void props.give({
      ...source(form), name: text('name'), at: text('at'), channels: channels.value, decides: decided.value, stale_ms,
      still: still.value, still_deg: stillDeg.value, dwell_ms: Math.round(1000 * number('dwell', dwell_ms / 1000)), pedal_key: given.get('pedal_key') === null ? pedal_key : text('pedal_key'),
    });
  };
  const more = forMachines.filter((what) => !channels.value.some((c) => c.what === what));
  return (
    <form class="place-form" onSubmit={submit}>
      <div><label for={`${id}-name`}>What you call it</label><input id={`${id}-name`} name="name" required maxLength={100} defaultValue={was?.name ?? ''} /></div>
      <div><label for={`${id}-at`}>It is of</label><select id={`${id}-at`} name="at"><option value="" selected={props.at === ''}>no machine: it goes round</option>{props.machines.map((m) => <option key={m} selected={m === props.at}>{m}</option>)}</select></div>
      <div><label for={`${id}-kind`}>It is</label><select id={`${id}-kind`} value={kind.value} onChange={(e) => choose(e.currentTarget.value as FeedKind)}>{kinds.map(([k, words]) => <option key={k} value={k}>{words}</option>)}</select></div>
      {kind.value === 'line' ? <LineFields id={id} was={before ?? {}} /> : (
        <>
          <div><label for={`${id}-host`}>Name or address on the network</label><input id={`${id}-host`} name="host" required placeholder="192.168.1.20" defaultValue={before?.host ?? ''} /></div>
          <div><label for={`${id}-port`}>Port</label><input id={`${id}-port`} name="port" inputMode="numeric" required defaultValue={String(before?.port ?? (kind.value === 'agent' ? 5000 : 7878))} key={kind.value} /></div>
        </>
      )}
      {kind.value === 'agent' && <div><label for={`${id}-of`}>Its name there, where the agent has several machines</label><input id={`${id}-of`} name="of" defaultValue={before?.machine ?? ''} /></div>}
      {!machine && <div><label for={`${id}-ask`}>Asked with (empty: it sends by itself)</label><input id={`${id}-ask`} name="ask" maxLength={16} placeholder="R" defaultValue={before?.ask ?? ''} /></div>}
      <p class="acts"><button type="button" disabled={waiting.value} onClick={(e) => void look(e.currentTarget.form)}>{waiting.value ? 'Listening' : 'Look what it sends'}</button></p>
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      {tried.value && <Sends tried={tried.value} />}
      {channels.value.map((c, i) => <ChannelFields key={c.what} id={`${id}-${c.what}`} at={i} channels={channels} one={c} keys={tried.value?.observed.map((o) => o.key) ?? []} keyed={machine} />)}
      {machine && more.length > 0 && (
        <p class="acts">{more.map((what) => <button key={what} type="button" onClick={() => { channels.value = [...channels.value, emptyChannel(what)]; }}>It sends {nameOf(what)} too</button>)}</p>
      )}
      <div><label for={`${id}-decides`}>A reading is offered when</label><select id={`${id}-decides`} value={decided.value} onChange={(e) => { decided.value = e.currentTarget.value as Decides; }}>{decides.map(([d, words]) => <option key={d} value={d}>{words}</option>)}</select></div>
      {decided.value === 'stillness' && (
        <>
          {channels.value.some((c) => c.unit !== 'deg') && <Figure label="Still is within" quantity="length" value={still.value} keep={(v) => { still.value = v ?? usualStill; }} />}
          {channels.value.some((c) => c.unit === 'deg') && <Figure label="An angle is still within" quantity="angle" value={stillDeg.value} keep={(v) => { stillDeg.value = v ?? usualStill; }} />}
          <div><label for={`${id}-dwell`}>for so many seconds</label><input id={`${id}-dwell`} name="dwell" inputMode="decimal" defaultValue={String((before?.dwell_ms ?? 800) / 1000)} /></div>
        </>
      )}
      {decided.value === 'pedal' && <div><label for={`${id}-pedal`}>Which of what it sends is the pedal</label><input id={`${id}-pedal`} name="pedal_key" required defaultValue={before?.pedal_key ?? ''} /></div>}
      <p class="acts"><button type="submit" class="main-act">{props.say}</button></p>
    </form>
  );
}

function Sends(props: { tried: Tried }) {
  const { observed, said } = props.tried;
  return (
    <div data-sends class="wide">
      {said.map((w) => <p class="sentence" role="status" key={w}>{w}</p>)}
      {observed.length === 0 ? <p>Nothing came within two and a half seconds.</p> : (
        <table>
          <thead><tr><th scope="col">Name</th><th scope="col">As it came</th><th scope="col">It is</th></tr></thead>
          <tbody>{observed.map((o) => <tr key={o.key}><td>{o.key || 'the gauge'}</td><td>{o.raw}</td><td>{o.is || o.unit}</td></tr>)}</tbody>
        </table>
      )}
    </div>
  );
}

function ChannelFields(props: { id: string; at: number; channels: Signal<Channel[]>; one: Channel; keys: string[]; keyed: boolean }) {
  const { id, at, one, channels } = props;
  const set = (change: Partial<Channel>) => { channels.value = channels.value.map((c, i) => (i === at ? { ...c, ...change } : c)); };
  const quantity = one.unit === 'deg' ? 'angle' : 'length';
  return (
    <fieldset>
      <legend>{nameOf(one.what)}</legend>
      {!props.keyed && <div><label for={`${id}-what`}>For</label><select id={`${id}-what`} value={one.what} onChange={(e) => set({ what: e.currentTarget.value })}>{forGauges.map(([w, words]) => <option key={w} value={w}>{words}</option>)}</select></div>}
      {props.keyed && <div><label for={`${id}-key`}>{nameOf(one.what)} is what it sends as</label><input id={`${id}-key`} required list={`${id}-keys`} value={one.key} onInput={(e) => set({ key: e.currentTarget.value })} /><datalist id={`${id}-keys`}>{props.keys.map((k) => <option key={k} value={k} />)}</datalist></div>}
      <div><label for={`${id}-unit`}>Its numbers are in</label><select id={`${id}-unit`} value={one.unit} onChange={(e) => set({ unit: e.currentTarget.value as Channel['unit'] })}><option>mm</option><option>in</option><option>um</option><option>deg</option></select></div>
      {props.keyed && <div><label for={`${id}-sign`}>It counts</label><select id={`${id}-sign`} value={String(one.sign)} onChange={(e) => set({ sign: Number(e.currentTarget.value) })}><option value="1">as the readout</option><option value="-1">the other way round</option></select></div>}
      <Figure label="From" quantity={quantity} value={one.low} keep={(low) => set({ low })} />
      <Figure label="to" quantity={quantity} value={one.high} keep={(high) => set({ high })} />
      {props.keyed && channels.value.length > 1 && <p class="acts"><button type="button" onClick={() => { channels.value = channels.value.filter((_, i) => i !== at); }}>Without {nameOf(one.what)}</button></p>}
    </fieldset>
  );
}

// A figure of the feed, mm or degrees, in the unit shown; one left as it is shown stays as it is stored.
function Figure(props: { label: string; quantity: 'length' | 'angle'; value: number | null; keep: (value: number | null) => void }) {
  const unit = shown.value;
  const now = props.value === null ? '' : showNumber(props.value, props.quantity, unit);
  const text = useSignal(now);
  useEffect(() => { text.value = now; }, [unit, props.quantity]);
  const keep = (typed: Typed | null) => { if (text.value.trim() !== now) props.keep(typed?.value ?? null); };
  return <Field label={props.label} text={text} quantity={props.quantity} unit={unit} optional onLeave={keep} />;
}
