// Machine and fixture chosen by their pictures, each with what planning says of it.

import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import { valueAt } from '../../api/tree';
import type { Tree } from '../../api/types';
import type { LengthUnit } from '../../numbers/quantity';
import { Fold } from '../../parts/fold';
import { plain } from '../../parts/plain';
import { FixturePicture, MachinePicture } from '../../parts/shelf_pictures';
import { mayChange, whyNot } from '../../state/may';
import { job, shown, state } from '../../state/open_job';
import { fetchShelf, shelf } from '../../state/shelf';
import { figureAt, store } from './dim';

export function FromShelf() {
  useEffect(() => void fetchShelf(), []);
  const units: LengthUnit = shelf.value?.['units'] === 'in' ? 'in' : 'mm';
  const list = (sort: string) => (Array.isArray(shelf.value?.[sort]) ? (shelf.value[sort] as Tree[]) : []);
  const now = (sort: string) => { const v = valueAt(job.value?.tables, sort); return typeof v === 'string' ? v : v === undefined ? 'none yet' : 'this job’s own'; };
  const span = state.value?.results.hold?.posts?.span_mm, hole = figureAt('head.bolt_hole_diameter');
  const head = span != null && hole !== null ? { hole, apart: span } : undefined;
  const verdict = (name: string) => { const f = state.value?.results.hold?.fixtures.find((x) => x.name === name); return f && (f.fits ? (f.best ? 'Fits, and suits best.' : 'Fits.') : plain(f.why)); };
  return (
    <Fold title="Machine and fixture" note={`${now('machine')}; ${now('fixture')}`} lazy>
      {whyNot('machine') && <p class="quiet">Only a lead changes these.</p>}
      <fieldset class="choice picture-choice">
        <legend>Machine</legend>
        {list('machine').map((m) => <OfShelf key={String(m['name'])} sort="machine" name={String(m['name'])} chosen={now('machine')}><MachinePicture item={m} units={units} shown={shown.value} /></OfShelf>)}
      </fieldset>
      <fieldset class="choice picture-choice">
        <legend>Fixture</legend>
        {list('fixture').map((f) => <OfShelf key={String(f['name'])} sort="fixture" name={String(f['name'])} chosen={now('fixture')} says={verdict(String(f['name']))}><FixturePicture item={f} units={units} shown={shown.value} head={head} /></OfShelf>)}
      </fieldset>
    </Fold>
  );
}

function OfShelf(props: { sort: string; name: string; chosen: string; says?: string | undefined; children: ComponentChildren }) {
  return (
    <label>
      <input type="radio" name={`of-${props.sort}`} checked={props.name === props.chosen} disabled={!mayChange(props.sort)} onChange={() => store(props.sort, props.name, props.name)} />
      <span><b>{props.name}</b>{props.children}{props.says && <span class="quiet">{props.says}</span>}</span>
    </label>
  );
}
