// Two different values for one place: both are kept, both are shown, the person chooses.

import type { Conflict, Entry } from '../api/types';
import { choose } from '../entry/outbox';
import { chooseHead, entries, headHere, job } from '../state/open_job';
import { valuesInWords, whose } from './entry_words';
import { when } from './when';

export function Conflicts() {
  const { conflicts, entries: all } = entries.value;
  if (conflicts.length === 0 || !job.value) return null;
  const id = job.value.id;
  const own = conflicts.filter((c) => c.head === headHere.value);
  const heads = [...new Set(conflicts.map((c) => c.head).filter((h) => h !== headHere.value))];
  return (
    <>
      {heads.map((h) => (
        <p key={h} class="acts no-print">
          <span>Two different values were typed for one place of head {h}.</span>
          <button type="button" onClick={() => chooseHead(h)}>Go to head {h}</button>
        </p>
      ))}
      {own.map((c) => (
        <section class="differ" key={c.place} aria-label={`Two values for ${c.place}`}>
          <h3>Two different values were typed for the {placeInWords(c)}: which one is right?</h3>
          <ul class="entries">
            {c.entries.map((entryId) => all.find((e) => e.id === entryId)).filter((e): e is Entry => e !== undefined).map((e) => (
              <li key={e.id}>
                <span>{valuesInWords(e)}, {whose(e)}, {when(e.at)}{e.id === c.used ? ' (used until you choose)' : ''}</span>
                <button type="button" onClick={() => void choose(id, e, `choose for ${c.place}`)}>This one</button>
              </li>
            ))}
          </ul>
        </section>
      ))}
    </>
  );
}

export function placeInWords(place: Pick<Conflict, 'kind' | 'head' | 'valve' | 'quantity'>): string {
  const quantity = place.quantity.replaceAll('/', ' ').replaceAll('_', ' ');
  return [place.kind, quantity, 'of', place.valve, place.head && place.head !== '1' ? `on head ${place.head}` : '']
    .filter((w) => w !== '').join(' ');
}
