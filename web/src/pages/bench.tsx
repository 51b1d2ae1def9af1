// The Bench: every job as a card with its head in small, its five marks and what is next.

import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ask, Away, get, sentenceOf } from '../api/client';
import { listen } from '../api/events';
import { stages, type JobCard } from '../api/types';
import { keepAnswer, keptAnswer } from '../entry/disk';
import { Drawing } from '../parts/drawing';
import { StageMark } from '../parts/mark';
import { when } from '../parts/when';
import { jobAddress } from '../state/route';

const cards = signal<JobCard[] | null>(null);
const trouble = signal<string | null>(null);
const putAway = signal(false);

async function refresh(): Promise<void> {
  const path = `/jobs?archived=${putAway.value ? 'yes' : 'no'}`;
  try {
    cards.value = (await get<{ jobs: JobCard[] }>(path)).jobs;
    trouble.value = null;
    void keepAnswer(path, cards.value);
  } catch (fault) {
    const old = fault instanceof Away ? await keptAnswer<JobCard[]>(path) : undefined;
    if (old) cards.value = old;
    else trouble.value = sentenceOf(fault);
  }
}

export function BenchPage() {
  useEffect(() => {
    void refresh();
    const listening = listen('/events', ['job', 'resync'], () => void refresh(), () => undefined);
    return () => listening.close();
  }, []);
  return (
    <main class="page">
      <header>
        <h1>Bench</h1>
        <a class="button main-act" href="#/new">New job</a>
        <label class="choice">
          <span class="acts">
            <input type="checkbox" checked={putAway.value} onChange={(e) => { putAway.value = e.currentTarget.checked; void refresh(); }} />
            also jobs put away
          </span>
        </label>
      </header>
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      {cards.value?.length === 0 && <p>The bench is empty. Begin with an example, a job file, or six questions.</p>}
      <ul class="cards">{cards.value?.map((card) => <Card key={card.id} card={card} />)}</ul>
    </main>
  );
}

function Card(props: { card: JobCard }) {
  const { card } = props;
  const first = stages.find((s) => card.marks[s] === 'needs you') ?? stages.find((s) => card.marks[s] !== 'done') ?? 'hold';
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
      <p class="card-next">{card.next}</p>
      <p class="card-foot quiet">
        <span>{card.valves} valves, changed {when(card.changed_at)} by {card.changed_by}</span>
        <button type="button" onClick={() => void shelve()}>{card.archived ? 'Take out' : 'Put away'}</button>
      </p>
    </li>
  );
}
