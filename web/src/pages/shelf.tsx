// The Shelf: what the shop owns, in pictures to scale, searched, and asked which of it fits a job's seat; a lead may change it.

import { useSignal, type Signal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import { ask, get, post, Refusal, sentenceOf } from '../api/client';
import { listen } from '../api/events';
import type { Edit, Fault, JobCard, Kind, Shelf, Tree, TreeValue } from '../api/types';
import type { LengthUnit } from '../numbers/quantity';
import { FirstOf, onPhone } from '../parts/first_of';
import { plain } from '../parts/plain';
import { CutterPicture, FixturePicture, MachinePicture, PilotPicture } from '../parts/shelf_pictures';
import { TreeTable } from '../parts/tree_table';
import { when } from '../parts/when';
import { fetchFeeds } from '../state/feed';
import { kinds } from '../state/keys';
import { mayLead } from '../state/may';
import { fetchPlaces, places } from '../state/places';
import { units as chosenUnits } from '../state/settings';
import { Castings } from './castings';
import { FeedsOf } from './feeds';
import { PlacesOf } from './places';
import { askJob, type Asked } from './shelf_fit';

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
    const wires = () => { void fetchPlaces().catch(() => undefined); void fetchFeeds(); };
    wires();
    const listening = listen('/events', ['shelf', 'places', 'feeds'], (what) => { if (what === 'shelf') void attempt(() => get<Shelf>('/shelf')); else wires(); }, wires);
    return () => listening.close();
  }, []);
  const now = shelf.value;
  const edit = (edits: Edit[], what: string) => void attempt(() => post<Shelf>('/shelf/edits', { version: now?.version ?? 0, edits, what }));
  const tables: Tree = now?.tables ?? {};
  const search = useSignal('');
  const asked = useSignal<Asked | null>(null);
  const units: LengthUnit = tables['units'] === 'in' ? 'in' : 'mm';
  const machines = namesOf(tables['machine']);
  const rest = Object.fromEntries(Object.entries(tables).filter(([k]) => !groups.some((g) => g.key === k)));
  return (
    <main class="page">
      <header>
        <h1>Shelf</h1>
        {now?.tables?.['units'] && <p>A length without a unit is in {now.tables['units'] === 'in' ? 'inch' : 'mm'}.</p>}
        {now && <p class="quiet">state {now.version}{now.by ? `, by ${now.by}, ${when(now.at)}` : ''}</p>}
      </header>
      <WhatIsHere />
      <Castings />
      {!mayLead() && <p>Only a lead changes the shelf.</p>}
      {sentence.value && <p class="sentence" role="alert">{sentence.value}</p>}
      {faults.value.map((f) => <p class="sentence" key={`${f.line}${f.key}`}>line {f.line}, {f.key}: {f.text}</p>)}
      <div class="bench-tools no-print">
        <div><label for="shelf-search">Search</label><input id="shelf-search" type="search" value={search.value} onInput={(e) => { search.value = e.currentTarget.value; }} /></div>
        <WhichFits asked={asked} />
      </div>
      {groups.map((g) => <Group key={g.key} table={g.key} machines={machines} name={g.name} value={tables[g.key]} units={units} search={search.value} asked={asked.value} onEdit={mayLead() ? edit : undefined} />)}
      {now && <OfNoMachine machines={machines} />}
      {Object.keys(rest).length > 0 && <section><Part name="Other tables" open={!onPhone()}><TreeTable tree={rest} base="" onEdit={mayLead() ? edit : undefined} /></Part></section>}
      {now && <AsText shelf={now} store={(text) => attempt(() => ask<Shelf>('PUT', '/shelf', { version: now.version, text, what: 'changed as text' }))} />}
    </main>
  );
}

// The page is long: a tap goes to the part one wants.
function WhatIsHere() {
  const parts = ['Castings', ...groups.map((g) => g.name), 'Gauges that go round', 'Other tables'];
  const to = (name: string) => {
    const heading = [...document.querySelectorAll<HTMLElement>('main h2')].find((h) => h.textContent?.startsWith(name));
    if (!heading) return;
    heading.closest('details')?.setAttribute('open', '');
    heading.tabIndex = -1;
    heading.scrollIntoView({ block: 'start' });
    heading.focus({ preventScroll: true });
  };
  return <nav class="choice no-print" aria-label="On the Shelf">{parts.map((p) => <button key={p} type="button" onClick={() => to(p)}>{p}</button>)}</nav>;
}

const namesOf = (value: TreeValue | undefined): string[] =>
  ((Array.isArray(value) ? value : value ? [value] : []) as Tree[]).flatMap((m) => (typeof m['name'] === 'string' ? [m['name']] : []));

// Gauges that go round, and what is of a machine that is no longer on the Shelf.
function OfNoMachine(props: { machines: string[] }) {
  const lost = [...new Set(places.value.map((p) => p.machine))].filter((m) => !props.machines.includes(m));
  return (
    <>
      {lost.map((m) => <section key={m}><h2>{m} is no longer on the shelf</h2><PlacesOf machine={m} machines={props.machines} /></section>)}
      <FeedsOf machine="" machines={props.machines} />
    </>
  );
}

type OnEdit = ((edits: Edit[], what: string) => void) | undefined;

// Asked of a job and a kind of its seats; what fits comes first, the rest says why not.
function WhichFits(props: { asked: Signal<Asked | null> }) {
  const jobs = useSignal<JobCard[]>([]);
  const id = useSignal('');
  const kind = useSignal<Kind>('intake');
  const trouble = useSignal<string | null>(null);
  useEffect(() => { get<{ jobs: JobCard[] }>('/jobs').then((a) => { jobs.value = a.jobs; }).catch(() => undefined); }, []);
  useEffect(() => {
    trouble.value = null;
    if (id.value === '') { props.asked.value = null; return; }
    const [now, of] = [id.value, kind.value];
    askJob(Number(now), of).then((a) => { if (id.peek() === now && kind.peek() === of) props.asked.value = a; }).catch((why: unknown) => { trouble.value = sentenceOf(why); });
  }, [id.value, kind.value]);
  return (
    <>
      <div>
        <label for="fits-job">Which fits the seats of</label>
        <select id="fits-job" value={id.value} onChange={(e) => { id.value = e.currentTarget.value; }}>
          <option value="">no job chosen</option>
          {jobs.value.map((j) => <option key={j.id} value={String(j.id)}>{j.title}</option>)}
        </select>
        {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      </div>
      <div>
        <label for="fits-kind">Its seats</label>
        <select id="fits-kind" value={kind.value} disabled={id.value === ''} onChange={(e) => { kind.value = e.currentTarget.value as Kind; }}>{kinds.map((k) => <option key={k}>{k}</option>)}</select>
      </div>
    </>
  );
}

interface GroupProps { table: string; machines: string[]; name: string; value: TreeValue | undefined; units: LengthUnit; search: string; asked: Asked | null; onEdit: OnEdit }

function Group(props: GroupProps) {
  const { table, value, asked } = props;
  const listed = Array.isArray(value);
  const nameOf = (item: Tree, i: number) => (typeof item['name'] === 'string' ? item['name'] : `${i + 1}`);
  const all = ((listed ? value : value ? [value] : []) as Tree[]).map((item, i) => ({ item, i, name: nameOf(item, i), fit: asked?.of(table, nameOf(item, i)) ?? null }));
  const found = all.filter((x) => `${x.name} ${JSON.stringify(x.item)}`.toLowerCase().includes(props.search.trim().toLowerCase()));
  const items = [...found].sort((a, b) => Number(b.fit?.fits ?? false) - Number(a.fit?.fits ?? false));
  return (
    <section aria-label={props.name}>
      <Part name={props.name} note={all.length === 0 ? 'none on the shelf' : `${all.length}`} open={!onPhone() || props.search.trim() !== '' || asked !== null}>
        {all.length > 0 && items.length === 0 && <p class="quiet">None of this name.</p>}
        <FirstOf of={items} what={props.name.toLowerCase()} class="cards shelf-cards" most={onPhone() ? 4 : Infinity} row={({ item, i, name, fit }) => (
          <article class="shelf-item" key={i} data-fits={fit ? String(fit.fits) : undefined}>
            <h3>{name}</h3>
            <PictureOf table={table} item={item} units={props.units} asked={asked} />
            {fit && <p class={fit.fits ? 'fits' : 'quiet'}><Fitting fits={fit.fits} />{plain(fit.words)}</p>}
            <Glance item={item} />
            <details>
              <summary>All its numbers</summary>
              <TreeTable tree={item} base={listed ? `${table}[${i}]` : table} onEdit={props.onEdit} />
            </details>
            {table === 'machine' && props.machines.includes(name) && <><PlacesOf machine={name} machines={props.machines} /><FeedsOf machine={name} machines={props.machines} /></>}
          </article>
        )} />
      </Part>
    </section>
  );
}

// A part of the page under its heading, which opens and closes it.
const Part = (props: { name: string; note?: string; open: boolean; children: ComponentChildren }) => (
  <details class="fold shelf-part" open={props.open}>
    <summary><h2>{props.name}</h2>{props.note && <span class="quiet">{props.note}</span>}</summary>
    <div class="fold-in">{props.children}</div>
  </details>
);

const Fitting = (props: { fits: boolean }) => (
  <svg class="fitting" viewBox="0 0 20 20" aria-hidden="true">{props.fits ? <path d="M3 10.5 L8 15.5 L17 4.5" class="mark-line" /> : <path d="M4 4 L16 16 M16 4 L4 16" class="mark-line" />}</svg>
);

function PictureOf(props: { table: string; item: Tree; units: LengthUnit; asked: Asked | null }) {
  const { item, units, asked } = props;
  const shown = chosenUnits.value === 'job' ? units : chosenUnits.value;
  switch (props.table) {
    case 'cutter': return <CutterPicture item={item} units={units} shown={shown} over={asked?.seat} />;
    case 'pilot': return <PilotPicture item={item} units={units} shown={shown} guide={asked?.guide} />;
    case 'fixture': return <FixturePicture item={item} units={units} shown={shown} head={asked?.head} />;
    case 'machine': return <MachinePicture item={item} units={units} shown={shown} />;
    default: return null;
  }
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
      <summary>The whole as text (add and remove things here)</summary>
      <textarea aria-label="Shop file" value={text.value} spellcheck={false} readOnly={!mayLead()} onInput={(e) => { text.value = e.currentTarget.value; }} />
      {mayLead() && <p class="acts"><button type="button" class="main-act" onClick={() => void props.store(text.value)}>Store the text</button></p>}
    </details>
  );
}
