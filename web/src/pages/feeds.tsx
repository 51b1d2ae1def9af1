// Where readings come from by themselves: a card inside a machine's own on the Shelf, and one for the gauges that go round.
// A lead sets a feed up, and changes it, while looking at what it sends.

import { ask, post } from '../api/client';
import type { Feed } from '../api/feeds';
import { useAttempt } from '../parts/attempt';
import { feeds, fetchFeeds } from '../state/feed';
import { mayLead } from '../state/may';
import { FeedForm } from './feed_form';
import { decides, kinds, nameOf } from './feed_words';
import { Folded } from './places';


// `machine`: empty for gauges that go round.
export function FeedsOf(props: { machine: string; machines: string[] }) {
  const { said: trouble, attempt } = useAttempt(fetchFeeds);
  const { machine } = props;
  const here = feeds.value.filter((f) => (machine === '' ? !props.machines.includes(f.settings.at) : f.settings.at === machine));
  return (
    <section class="of-machine" aria-label={machine === '' ? 'Gauges that go round' : `Readings of ${machine} come from`}>
      {machine === '' ? <h2>Gauges that go round</h2> : <h4>Readings come from</h4>}
      {here.length === 0 && <p class="quiet">None is set up: readings are typed, by hand or by a gauge that types.</p>}
      {here.map((f) => (
        <div key={f.id} data-feed={f.name}>
          <p><b>{f.name}</b>: <span class="quiet">{whereabouts(f)}</span></p>
          {mayLead() && (
            <Folded title="Change it" key={f.version}>{(close) => (
              <>
                <FeedForm id={`feed-${f.id}`} was={f} at={f.settings.at} machines={props.machines} say="Store it"
                          give={async (body) => { if (await attempt(() => ask('PUT', `/feeds/${f.id}`, { ...body, version: f.version }))) close(); }} />
                <p class="acts"><button type="button" onClick={() => void attempt(() => ask('DELETE', `/feeds/${f.id}`))}>Put it away</button></p>
              </>
            )}</Folded>
          )}
        </div>
      ))}
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      {mayLead() && <Folded title="Set up a feed">{(close) => <FeedForm id={`feed-of-${machine}`} at={machine} machines={props.machines} say="Set it up" give={async (body) => { if (await attempt(() => post('/feeds', body))) close(); }} />}</Folded>}
    </section>
  );
}

const whereabouts = ({ settings: s }: Feed) =>
  `${kinds.find(([k]) => k === s.kind)?.[1]}, ${s.host ? `${s.host}:${s.port}` : s.device}: ${s.channels.map((c) => `${nameOf(c.what)} in ${c.unit}`).join(', ')}; offered when ${decides.find(([d]) => d === s.decides)?.[1]}`;
