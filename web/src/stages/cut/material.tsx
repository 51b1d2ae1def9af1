// What the seats are made of, asked where it is first needed: without it no speed and no feed can be told.

import { useEffect } from 'preact/hooks';
import { valueAt } from '../../api/tree';
import type { Kind } from '../../api/types';
import { change } from '../../entry/outbox';
import { mayRecord } from '../../state/may';
import { job } from '../../state/open_job';
import { fetchShelf, shelf } from '../../state/shelf';
import { cuttable } from './materials';

const kinds: Kind[] = ['intake', 'exhaust'];

export function Material() {
  useEffect(() => void fetchShelf(), []);
  const here = job.value;
  const names = cuttable(shelf.value?.['material']);
  const said = (key: string) => valueAt(here?.tables, key) !== undefined;
  const kind = kinds.find((k) => said(`seat.${k}`) && !said(`seat.${k}.material`));
  if (!here || !mayRecord() || said('head.material') || !kind || names.length === 0) return null;
  const choose = (name: string) => void change(here, [{ key: `seat.${kind}.material`, value: name }], `${kind} seats: ${name}`);
  return (
    <section class="entry no-print" aria-label="Material">
      <h3>What are the {kind} seats made of?</h3>
      <p>Speed, feed and forces depend on it. Without inserts, choose the iron of the head itself.</p>
      <div class="acts">
        {names.map((name) => <button key={name} type="button" onClick={() => choose(name)}>{name}</button>)}
      </div>
    </section>
  );
}
