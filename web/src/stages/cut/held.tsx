// What goes into no program: why, and what would free it.

import type { HeldBack } from '../../api/types';
import { FirstOf } from '../../parts/first_of';
import { later } from '../../parts/later';
import { plain } from '../../parts/plain';
import { job } from '../../state/open_job';
import { after, gathered, lackingKey } from './held_words';

const Frees = later(() => import('./frees').then((m) => m.Frees));

// `part`: of files for some seats or a new blade, which are no step of the walk.
export function HeldBackList(props: { held: HeldBack[]; setups: number; most?: number; part?: boolean }) {
  if (props.held.length === 0) return null;
  return (
    <section aria-label="Held back">
      <h3>Held back: no program has these</h3>
      <FirstOf of={gathered(props.held)} most={props.most ?? every} what="reasons" class="warnings" row={(h) => (
          <li key={`${h.setups.join()}/${h.valves.join()}/${h.reason}`} class="warning-stop">
            <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M6 2.5 L14 2.5 L17.5 6 L17.5 14 L14 17.5 L6 17.5 L2.5 14 L2.5 6 Z M6 10 L14 10" class="mark-line" /></svg>
            <span>
              <b class="valve-name">{h.valves.length > 0 ? h.valves.join(', ') : setupsNamed(h.setups)}</b>{' '}
              {props.setups > 1 && h.valves.length > 0 ? `(${setupsNamed(h.setups).toLowerCase()}) ` : ''}
              {after(h)}
              {h.of.frees !== '' && <> What frees it: {plain(h.of.frees)}</>}
              {offers(h.of) && <Frees of={h.of} part={props.part === true} />}
            </span>
          </li>
        )} />
    </section>
  );
}

const every = Infinity;
const offers = (of: HeldBack) => Boolean(of.sure) || Boolean(of.allow) || lackingKey(of, job.value?.tables) !== null;

const setupsNamed = (setups: string[]) => `${setups.length > 1 ? 'Setups' : 'Setup'} ${setups.join(', ')}`;
