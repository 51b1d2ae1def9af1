// The Bench: the shop's board. Every job as a card with its head in small, its five marks, how many heads are finished and
// what is next; searched, filtered, sorted, copied and put away.

import { effect, signal, useSignal, type Signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ask, Away, get, sentenceOf, session } from '../api/client';
import { listen } from '../api/events';
import { stages, type JobCard } from '../api/types';
import { keepAnswer, keptAnswer } from '../entry/disk';
import { record } from '../entry/outbox';
import { Drawing } from '../parts/drawing';
import { StageMark } from '../parts/mark';
import { headline } from '../parts/plain';
import { when } from '../parts/when';
import { mayRecord } from '../state/may';
import { go, jobAddress } from '../state/route';
import { tour } from '../state/tour';
import { copied } from './copied';
import { arranged, filters, sorts, type Filter, type Sort } from './bench_order';

const cards = signal<JobCard[] | null>(null);
const trouble = signal<string | null>(null);
const search = signal('');
const filter = signal<Filter>('on the bench');
const sort = signal<Sort>('last changed');

async function refresh(): Promise<void> {
  const path = '/jobs?archived=yes';
  try {
    cards.value = (await get<{ jobs: JobCard[] }>(path)).jobs;
    trouble.value = null;
    keepAnswer(path, cards.value);
  } catch (fault) {
    const old = fault instanceof Away ? await keptAnswer<JobCard[]>(path) : undefined;
    if (old) cards.value = old;
    else trouble.value = sentenceOf(fault);
  }
}

// Signed out: what was on the bench is not kept for whoever comes next.
effect(() => {
  if (!session.value?.person) cards.value = null;
});

export function BenchPage() {
  useEffect(() => {
    void refresh();
    const listening = listen('/events', ['job', 'resync'], () => void refresh(), () => undefined);
    return () => listening.close();
  }, []);
  const all = cards.value;
  const shown = arranged(all ?? [], search.value, filter.value, sort.value);
  return (
    <main class="page">
      <header>
        <h1>Bench</h1>
        <a class="button main-act" href="#/new">New job</a>
      </header>
      {tour.value === null && (
        <p class="tour-offer" role="note">
          New here? <button type="button" onClick={() => { tour.value = 0; }}>Show me round</button> <button type="button" onClick={() => { tour.value = 'left'; }}>Not now</button>
        </p>
      )}
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      {all?.length === 0 && <p>The bench is empty. Begin with New job: readings at the machine, a scan, a drawing, an example, a job file, or six questions. <a href="#/help">Help</a> explains the whole in five minutes.</p>}
      {all && all.length > 0 && (
        <div class="bench-tools">
          <div>
            <label for="bench-search">Search</label>
            <input id="bench-search" type="search" value={search.value} autocomplete="off" onInput={(e) => { search.value = e.currentTarget.value; }} />
          </div>
          <div>
            <label for="bench-filter">Show</label>
            <select id="bench-filter" value={filter.value} onChange={(e) => { filter.value = e.currentTarget.value as Filter; }}>
              {filters.map((f) => <option key={f} value={f}>{f}</option>)}
            </select>
          </div>
          <div>
            <label for="bench-sort">Order</label>
            <select id="bench-sort" value={sort.value} onChange={(e) => { sort.value = e.currentTarget.value as Sort; }}>
              {sorts.map((s) => <option key={s} value={s}>{s}</option>)}
            </select>
          </div>
        </div>
      )}
      {all && all.length > 0 && shown.length === 0 && <p role="status">No job matches that.</p>}
      <ul class="cards">{shown.map((card) => <Card key={card.id} card={card} />)}</ul>
    </main>
  );
}

function Card(props: { card: JobCard }) {
  const { card } = props;
  const first = stages.find((s) => card.marks[s] === 'needs you') ?? stages.find((s) => card.marks[s] !== 'done') ?? 'hold';
  const template = useSignal<string | null>(null); // what it is to be called; null: not asked for
  const shelve = async () => {
    await ask('PATCH', `/jobs/${card.id}`, { archived: !card.archived }).catch((f: unknown) => { trouble.value = sentenceOf(f); });
    await refresh();
  };
  return (
    <li class="card">
      <h2><a href={jobAddress(card.id, first)}>{card.title}</a></h2>
      <Drawing address={`/jobs/${card.id}/drawings/plan.svg`} fresh={card.version} />
      <ol class="card-marks" aria-label="Stages">
        {stages.map((s) => <li key={s}><b>{s}</b><StageMark mark={card.marks[s]} /></li>)}
      </ol>
      {card.heads && card.heads.all > 0 && <p class="card-heads">{card.heads.finished} of {card.heads.all} {card.heads.all === 1 ? 'head' : 'heads'} measured through</p>}
      <p class="card-next">{headline(card.next, card.frees)}</p>
      <Promised card={card} />
      {(card.number || card.customer) && <p>{[card.number && `Order ${card.number}`, card.customer].filter(Boolean).join(', ')}</p>}
      <AsTemplate card={card} name={template} />
      <p class="quiet card-said">No. {card.id}, {card.valves} valves, changed {when(card.changed_at)} by {card.changed_by}</p>
      <p class="card-foot">
        <a class="button" href={jobAddress(card.id, 'machine')}>At the machine</a>
        <button type="button" onClick={() => void copyOf(card)}>Copy</button>
        {mayRecord() && !card.template && <button type="button" onClick={() => { template.value = (card.head || card.title).slice(0, 40); }}>Keep as template</button>}
        <button type="button" onClick={() => void shelve()}>{card.archived ? 'Take out' : 'Put away'}</button>
      </p>
    </li>
  );
}

// The day the job is promised for; typed by whoever promised it.
function Promised(props: { card: JobCard }) {
  const { card } = props;
  if (!mayRecord()) return card.promised ? <p>Promised for {card.promised}</p> : null;
  const promise = (day: string) => void record(card.id, { kind: 'note', head: '1', valve: '', values: { promised: day }, units: card.units }, `${card.title}: promised for ${day || 'no day'}`).then(refresh);
  return (
    <p class="promised">
      <label for={`promised-${card.id}`}>Promised for</label>
      <input id={`promised-${card.id}`} data-kept-left type="date" value={card.promised ?? ''} onChange={(e) => promise(e.currentTarget.value)} />
    </p>
  );
}

// What is described and set in it, kept under a name for jobs to come; later changes of this job leave it as it is.
function AsTemplate(props: { card: JobCard; name: Signal<string | null> }) {
  const { card, name } = props;
  const keep = (called: string) => {
    const said = called === '' ? `${card.title}: no template any more` : `${card.title}: template “${called}”`;
    const values = called === '' ? { template: '' } : { template: called, version: card.version };
    void record(card.id, { kind: 'note', head: '1', valve: '', values, units: card.units }, said).then(() => { name.value = null; return refresh(); });
  };
  if (name.value === null) {
    return card.template
      ? <p class="promised as-template"><span>Template “{card.template.name}”</span> {mayRecord() && <button type="button" onClick={() => keep('')}>Keep it no more</button>}</p>
      : null;
  }
  const id = `template-${card.id}`;
  return (
    <form class="promised as-template" onSubmit={(e) => { e.preventDefault(); keep(name.value?.trim() ?? ''); }}>
      <label for={id}>Call the template</label>
      <input id={id} value={name.value} maxLength={40} required autocomplete="off" onInput={(e) => { name.value = e.currentTarget.value; }} />
      <button type="submit" disabled={name.value.trim() === ''}>Keep it</button>
      <button type="button" onClick={() => { name.value = null; }}>Leave it</button>
    </form>
  );
}

async function copyOf(card: JobCard): Promise<void> {
  try {
    go(jobAddress(await copied(card, `${card.title}, copy`), 'hold'));
  } catch (fault) {
    trouble.value = sentenceOf(fault);
  }
}
