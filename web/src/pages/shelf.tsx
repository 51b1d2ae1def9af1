// The Shelf: what the shop owns; a lead may change it.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ask, get, post, Refusal, sentenceOf } from '../api/client';
import { listen } from '../api/events';
import type { Edit, Fault, Shelf, Tree, TreeValue } from '../api/types';
import { TreeTable } from '../parts/tree_table';
import { when } from '../parts/when';
import { mayLead } from '../state/may';

const groups = [
  { key: 'machine', name: 'Machines' }, { key: 'fixture', name: 'Fixtures' }, { key: 'pilot', name: 'Pilots' },
  { key: 'cutter', name: 'Cutters' }, { key: 'material', name: 'Materials' },
];

export function ShelfPage() {
  const shelf = useSignal<Shelf | null>(null);
  const sentence = useSignal<string | null>(null);
  const faults = useSignal<Fault[]>([]);
  const attempt = async (act: () => Promise<Shelf>) => {
    try {
      shelf.value = await act();
      sentence.value = null;
      faults.value = [];
    } catch (fault) {
      sentence.value = sentenceOf(fault);
      faults.value = fault instanceof Refusal ? fault.body.faults ?? [] : [];
      if (fault instanceof Refusal && fault.status === 409) shelf.value = await get<Shelf>('/shelf').catch(() => shelf.value);
    }
  };
  useEffect(() => {
    void attempt(() => get<Shelf>('/shelf'));
    const listening = listen('/events', ['shelf'], () => void attempt(() => get<Shelf>('/shelf')), () => undefined);
    return () => listening.close();
  }, []);
  const now = shelf.value;
  const edit = (edits: Edit[], what: string) => void attempt(() => post<Shelf>('/shelf/edits', { version: now?.version ?? 0, edits, what }));
  const tables: Tree = now?.tables ?? {};
  const rest = Object.fromEntries(Object.entries(tables).filter(([k]) => !groups.some((g) => g.key === k)));
  return (
    <main class="page">
      <header>
        <h1>Shelf</h1>
        {now?.tables?.['units'] && <p>A length without a unit is in {now.tables['units'] === 'in' ? 'inch' : 'mm'}.</p>}
        {now && <p class="quiet">state {now.version}{now.by ? `, by ${now.by}, ${when(now.at)}` : ''}</p>}
      </header>
      {!mayLead() && <p>Only a lead changes the shelf.</p>}
      {sentence.value && <p class="sentence" role="alert">{sentence.value}</p>}
      {faults.value.map((f) => <p class="sentence" key={`${f.line}${f.key}`}>line {f.line}, {f.key}: {f.text}</p>)}
      {groups.map((g) => <Group key={g.key} table={g.key} name={g.name} value={tables[g.key]} onEdit={mayLead() ? edit : undefined} />)}
      {Object.keys(rest).length > 0 && <section><h2>Other tables</h2><TreeTable tree={rest} base="" onEdit={mayLead() ? edit : undefined} /></section>}
      {now && <AsText shelf={now} store={(text) => attempt(() => ask<Shelf>('PUT', '/shelf', { version: now.version, text, what: 'changed as text' }))} />}
    </main>
  );
}

type OnEdit = ((edits: Edit[], what: string) => void) | undefined;

function Group(props: { table: string; name: string; value: TreeValue | undefined; onEdit: OnEdit }) {
  const { table, value } = props;
  const listed = Array.isArray(value);
  const items = (listed ? value : value ? [value] : []) as Tree[];
  return (
    <section>
      <h2>{props.name}</h2>
      {items.length === 0 && <p class="quiet">None on the shelf.</p>}
      <div class="cards">
        {items.map((item, i) => (
          <article class="shelf-item" key={i}>
            <h3>{typeof item['name'] === 'string' ? item['name'] : `${i + 1}`}</h3>
            <Glance item={item} />
            <details>
              <summary>Every number of it</summary>
              <TreeTable tree={item} base={listed ? `${table}[${i}]` : table} onEdit={props.onEdit} />
            </details>
          </article>
        ))}
      </div>
    </section>
  );
}

// The few numbers one knows a thing by.
const tellingFirst = ['travel_x', 'travel_y', 'rpm_min', 'rpm_max', 'tilt', 'swing', 'post_span', 'style', 'diameter', 'facets', 'gauge_diameter', 'speed', 'feed'];

function Glance(props: { item: Tree }) {
  const rank = (key: string) => (tellingFirst.includes(key) ? tellingFirst.indexOf(key) : tellingFirst.length);
  const plain = Object.entries(props.item)
    .filter(([k, v]) => k !== 'name' && (typeof v !== 'object' || Array.isArray(v)) && !JSON.stringify(v).includes('{'))
    .sort(([a], [b]) => rank(a) - rank(b));
  const said = (v: TreeValue) => (Array.isArray(v) ? v.join(' to ') : String(v));
  return <p class="quiet">{plain.slice(0, 4).map(([k, v]) => `${k.replaceAll('_', ' ')} ${said(v)}`).join(', ')}</p>;
}

function AsText(props: { shelf: Shelf; store: (text: string) => Promise<void> }) {
  const text = useSignal(props.shelf.text);
  useEffect(() => { text.value = props.shelf.text; }, [props.shelf.version]);
  return (
    <details class="no-print">
      <summary>The whole as text (things are added and taken off here)</summary>
      <textarea aria-label="Shop file" value={text.value} spellcheck={false} readOnly={!mayLead()} onInput={(e) => { text.value = e.currentTarget.value; }} />
      {mayLead() && <p class="acts"><button type="button" class="main-act" onClick={() => void props.store(text.value)}>Store the text</button></p>}
    </details>
  );
}
