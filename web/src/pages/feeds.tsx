// Sources of readings, on the Shelf: a lead sets one up while looking at what it sends.

import { useSignal, type Signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ask, get, post, sentenceOf } from '../api/client';
import type { Channel, Feed, FeedKind, Tried } from '../api/feeds';
import { mayLead } from '../state/may';
import { LineFields } from './places';

const kinds: [FeedKind, string][] = [['agent', 'a machine: agent (MTConnect over http)'], ['adapter', 'a machine: its adapter (lines over the network)'], ['line', 'a gauge on a serial line'], ['network', 'a gauge on the network']];
const decides: [string, string][] = [['stillness', 'its values stand still'], ['person', 'a person says so'], ['pedal', 'a pedal says so'], ['each', 'the gauge’s own button is pressed']];

export function Feeds() {
  const all = useSignal<Feed[]>([]);
  const trouble = useSignal<string | null>(null);
  const fetchAll = () => get<{ feeds: Feed[] }>('/feeds').then((a) => { all.value = a.feeds; });
  const attempt = async (act: () => Promise<unknown>) => {
    trouble.value = null;
    await act().then(fetchAll).catch((fault: unknown) => { trouble.value = sentenceOf(fault); });
  };
  useEffect(() => { void attempt(() => Promise.resolve()); }, []);
  return (
    <section aria-label="Readings that come by themselves">
      <h2>Readings that come by themselves</h2>
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      {all.value.length === 0 && <p class="quiet">None set up: readings are typed, by hand or by a gauge that types.</p>}
      <div class="cards shelf-cards">
        {all.value.map((f) => (
          <article class="shelf-item" key={f.id} data-feed={f.name}>
            <h3>{f.name}</h3>
            <p class="quiet">{kinds.find(([k]) => k === f.settings.kind)?.[1]}, {f.settings.host ? `${f.settings.host}:${f.settings.port}` : f.settings.device}: {f.settings.channels.map((c) => `${c.what} in ${c.unit}`).join(', ')}; offered when {decides.find(([d]) => d === f.settings.decides)?.[1]}</p>
            {mayLead() && <p class="acts no-print"><button type="button" onClick={() => void attempt(() => ask('DELETE', `/feeds/${f.id}`))}>Put it away</button></p>}
          </article>
        ))}
      </div>
      {mayLead() && <NewFeed make={(body) => attempt(() => post('/feeds', body))} />}
    </section>
  );
}

const emptyChannel = (what: string): Channel => ({ what, key: '', part: 0, unit: 'mm', sign: 1, low: null, high: null });

function NewFeed(props: { make: (body: Record<string, unknown>) => Promise<void> }) {
  const kind = useSignal<FeedKind>('agent');
  const tried = useSignal<Tried | null>(null);
  const trouble = useSignal<string | null>(null);
  const waiting = useSignal(false);
  const channels = useSignal<Channel[]>([emptyChannel('x'), emptyChannel('y')]);
  const decided = useSignal('stillness');
  const source = (form: HTMLFormElement): Record<string, unknown> => {
    const given = new FormData(form);
    const text = (key: string) => String(given.get(key) ?? '');
    const where = kind.value === 'line'
      ? { device: text('device'), baud: Number(text('baud')), bits: Number(text('bits')), parity: text('parity'), stop_bits: 1, handshake: text('handshake') }
      : { host: text('host'), port: Number(text('port')) };
    return { kind: kind.value, ...where, ...(text('ask') === '' ? {} : { ask: text('ask') }), ...(text('pedal_key') === '' ? {} : { pedal_key: text('pedal_key') }) };
  };
  const look = async (form: HTMLFormElement | null) => {
    if (!form) return;
    [waiting.value, trouble.value, tried.value] = [true, null, null];
    try {
      const { pedal_key: _, ...from } = source(form);
      tried.value = await post<Tried>('/feeds/try', from);
    } catch (fault) {
      trouble.value = sentenceOf(fault);
    } finally {
      waiting.value = false;
    }
  };
  const choose = (to: FeedKind) => {
    kind.value = to;
    tried.value = null;
    channels.value = to === 'agent' || to === 'adapter' ? [emptyChannel('x'), emptyChannel('y')] : [emptyChannel('depth')];
  };
  const submit = (event: Event) => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    const name = String(new FormData(form).get('name') ?? '');
    void props.make({ ...source(form), name, channels: channels.value, decides: decided.value });
  };
  const gauge = kind.value === 'line' || kind.value === 'network';
  return (
    <details class="no-print">
      <summary>Set up a feed</summary>
      <form class="place-form" onSubmit={submit}>
        <div><label for="feed-name">What you call it</label><input id="feed-name" name="name" required maxLength={100} /></div>
        <div><label for="feed-kind">It is</label><select id="feed-kind" value={kind.value} onChange={(e) => choose(e.currentTarget.value as FeedKind)}>{kinds.map(([k, words]) => <option key={k} value={k}>{words}</option>)}</select></div>
        {kind.value === 'line' ? <LineFields /> : (
          <>
            <div><label for="feed-host">Name or address on the network</label><input id="feed-host" name="host" required placeholder="192.168.1.20" /></div>
            <div><label for="feed-port">Port</label><input id="feed-port" name="port" inputMode="numeric" required defaultValue={kind.value === 'agent' ? '5000' : '7878'} key={kind.value} /></div>
          </>
        )}
        {gauge && <div><label for="feed-ask">Asked with (empty: it sends by itself)</label><input id="feed-ask" name="ask" maxLength={16} placeholder="R" /></div>}
        <p class="acts"><button type="button" disabled={waiting.value} onClick={(e) => void look(e.currentTarget.form)}>{waiting.value ? 'Listening' : 'Look what it sends'}</button></p>
        {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
        {tried.value && <Sends tried={tried.value} />}
        {channels.value.map((c, i) => <ChannelFields key={i} at={i} channels={channels} one={c} keys={tried.value?.observed.map((o) => o.key) ?? []} keyed={!gauge} />)}
        <div><label for="feed-decides">A reading is offered when</label><select id="feed-decides" value={decided.value} onChange={(e) => { decided.value = e.currentTarget.value; }}>{decides.map(([d, words]) => <option key={d} value={d}>{words}</option>)}</select></div>
        {decided.value === 'pedal' && <div><label for="feed-pedal">Which of what it sends is the pedal</label><input id="feed-pedal" name="pedal_key" required /></div>}
        <p class="acts"><button type="submit" class="main-act">Set it up</button></p>
      </form>
    </details>
  );
}

function Sends(props: { tried: Tried }) {
  const { observed, said } = props.tried;
  return (
    <div data-sends>
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

function ChannelFields(props: { at: number; channels: Signal<Channel[]>; one: Channel; keys: string[]; keyed: boolean }) {
  const { at, one, channels } = props;
  const set = (change: Partial<Channel>) => { channels.value = channels.value.map((c, i) => (i === at ? { ...c, ...change } : c)); };
  const number = (text: string) => (text.trim() === '' || Number.isNaN(Number(text)) ? null : Number(text));
  const id = `channel-${at}`;
  return (
    <fieldset>
      <legend>{one.what.toUpperCase()}</legend>
      {!props.keyed && <div><label for={`${id}-what`}>For</label><select id={`${id}-what`} value={one.what} onChange={(e) => set({ what: e.currentTarget.value })}><option>depth</option><option value="stem_height">stem height</option><option value="below_deck">below the deck</option></select></div>}
      {props.keyed && <div><label for={`${id}-key`}>{one.what.toUpperCase()} is what it sends as</label><input id={`${id}-key`} required list={`${id}-keys`} value={one.key} onInput={(e) => set({ key: e.currentTarget.value })} /><datalist id={`${id}-keys`}>{props.keys.map((k) => <option key={k} value={k} />)}</datalist></div>}
      <div><label for={`${id}-unit`}>Its numbers are in</label><select id={`${id}-unit`} value={one.unit} onChange={(e) => set({ unit: e.currentTarget.value as Channel['unit'] })}><option>mm</option><option>in</option><option>um</option><option>deg</option></select></div>
      {props.keyed && <div><label for={`${id}-sign`}>It counts</label><select id={`${id}-sign`} value={String(one.sign)} onChange={(e) => set({ sign: Number(e.currentTarget.value) })}><option value="1">as the readout</option><option value="-1">the other way round</option></select></div>}
      <div><label for={`${id}-low`}>From, mm</label><input id={`${id}-low`} inputMode="decimal" onInput={(e) => set({ low: number(e.currentTarget.value) })} /></div>
      <div><label for={`${id}-high`}>to, mm</label><input id={`${id}-high`} inputMode="decimal" onInput={(e) => set({ high: number(e.currentTarget.value) })} /></div>
    </fieldset>
  );
}
