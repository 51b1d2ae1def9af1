// A new job: from readings at the machine, a scanned surface, a drawing, an example, a head the shop has had, a job file, or
// six questions.

import { useSignal, type Signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { get, post, sentenceOf } from '../api/client';
import type { Casting, Job, JobCard, Task } from '../api/types';
import { draftOf } from '../entry/draft';
import { go, jobAddress } from '../state/route';
import { fitting, inALine } from './casting_words';
import { copied } from './copied';
import { FromDrawing } from './from_drawing';
import { FromFile, type Begin } from './from_file';
import { FromTemplate } from './from_template';
import { ScanBegin } from './scan_begin';
import { SixQuestions } from './six_questions';
import { SurveyBegin } from './survey_begin';
import { TaskProgress } from '../parts/task_progress';

type Way = 'survey' | 'scan' | 'drawing' | 'example' | 'file' | 'questions' | 'known';
const ways: { way: Way; words: string }[] = [
  { way: 'survey', words: 'readings at the machine' },
  { way: 'scan', words: 'a scanned surface' },
  { way: 'drawing', words: 'a drawing' },
  { way: 'example', words: 'an example' },
  { way: 'known', words: 'a head the shop has had' },
  { way: 'file', words: 'a job file' },
  { way: 'questions', words: 'six questions' },
];

export function NewJobPage() {
  const chosen = draftOf('new job', 'way') as Signal<Way | ''>;
  const way = chosen.value === '' ? 'survey' : chosen.value;
  const trouble = useSignal<string | null>(null);
  const task = useSignal<Task | null>(null);
  const busy = useSignal(false);
  const begin: Begin = async (body) => {
    if (busy.peek()) return false; // a finger that bounces makes one job
    [busy.value, trouble.value] = [true, null];
    try {
      const answer = await post<Job | Task>('/jobs', body);
      if ('state' in answer) task.value = answer;
      else go(jobAddress(answer.id, 'hold'));
      return true;
    } catch (fault) {
      trouble.value = sentenceOf(fault);
      return false;
    } finally {
      busy.value = false;
    }
  };
  return (
    <main class="page">
      <header><h1>New job</h1></header>
      <fieldset class="choice">
        <legend>Begin from</legend>
        {ways.map((w) => (
          <label key={w.way}>
            <input type="radio" name="way" checked={way === w.way} onChange={() => { chosen.value = w.way; }} />
            {w.words}
          </label>
        ))}
      </fieldset>
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      {task.value && <TaskProgress task={task.value} done={(now) => { if (now.job) go(jobAddress(now.job, 'hold')); }} />}
      {way === 'survey' && <SurveyBegin />}
      {way === 'scan' && <ScanBegin />}
      {way === 'drawing' && <FromDrawing begin={begin} />}
      {way === 'example' && <FromExample begin={begin} />}
      {way === 'file' && <FromFile begin={begin} />}
      {way === 'known' && <><FromTemplate /><FromCasting begin={begin} /><FromKnown /></>}
      {way === 'questions' && <SixQuestions begin={begin} />}
    </main>
  );
}

function FromExample(props: { begin: Begin }) {
  const examples = useSignal<{ name: string; title: string }[]>([]);
  const trouble = useSignal<string | null>(null);
  useEffect(() => {
    get<{ examples: { name: string; title: string }[] }>('/examples')
      .then((answer) => { examples.value = answer.examples; })
      .catch((fault: unknown) => { trouble.value = sentenceOf(fault); });
  }, []);
  return (
    <section>
      <p>The examples are invented; they show each stage with readings already in it.</p>
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      <ul class="entries">
        {examples.value.map((e) => (
          <li key={e.name}>
            <span><b>{e.name.replaceAll('-', ' ')}</b>: {e.title}</span>
            <button type="button" onClick={() => void props.begin({ from: 'example', example: e.name })}>Begin with it</button>
          </li>
        ))}
      </ul>
    </section>
  );
}

// Castings first: a job of one begins with all that its heads have taught.
function FromCasting(props: { begin: Begin }) {
  const all = useSignal<Casting[]>([]);
  const trouble = useSignal<string | null>(null);
  const search = useSignal('');
  useEffect(() => { get<{ castings: Casting[] }>('/castings').then((a) => { all.value = a.castings; }).catch((fault: unknown) => { trouble.value = sentenceOf(fault); }); }, []);
  if (trouble.value) return <p class="sentence" role="alert">{trouble.value}</p>;
  if (all.value.length === 0) return null;
  return (
    <section aria-label="Castings">
      <h2>A casting</h2>
      <p>The job begins with its description, its fixture and what its heads have taught.</p>
      {all.value.length > 6 && <div><label for="casting-find">Search by name, number cast on it, valves, spacing</label><input id="casting-find" type="search" value={search.value} onInput={(e) => { search.value = e.currentTarget.value; }} /></div>}
      <ul class="entries">
        {fitting(all.value, search.value).map((c) => (
          <li key={c.id}>
            <span><b>{c.name}</b>, {inALine(c)}</span>
            <button type="button" onClick={() => void props.begin({ from: 'casting', casting: c.name })}>Begin with it</button>
          </li>
        ))}
      </ul>
    </section>
  );
}

// The heads of earlier jobs, each once, the newest data of it: what is drawn and set of it is taken, no reading.
function FromKnown() {
  const cards = useSignal<JobCard[] | null>(null);
  const trouble = useSignal<string | null>(null);
  const search = useSignal('');
  useEffect(() => {
    get<{ jobs: JobCard[] }>('/jobs?archived=yes').then((answer) => { cards.value = answer.jobs; }).catch((fault: unknown) => { trouble.value = sentenceOf(fault); });
  }, []);
  const begin = async (card: JobCard) => {
    trouble.value = null;
    try {
      go(jobAddress(await copied(card, card.head || card.title), 'hold'));
    } catch (fault) {
      trouble.value = sentenceOf(fault);
    }
  };
  const newest = [...cards.value ?? []].sort((a, b) => b.changed_at.localeCompare(a.changed_at));
  const once = newest.filter((c, i) => newest.findIndex((d) => d.head === c.head && d.valves === c.valves) === i);
  const fits = once.filter((c) => `${c.head} ${c.title}`.toLowerCase().includes(search.value.trim().toLowerCase()));
  return (
    <section aria-label="Earlier jobs">
      <h2>A head of an earlier job</h2>
      <p>This takes the drawing data, fixture and limits of a head that was on the bench before, and none of its readings.</p>
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      {cards.value?.length === 0 && <p role="status">No job was made yet.</p>}
      {once.length > 6 && <div><label for="known-search">Search</label><input id="known-search" type="search" value={search.value} onInput={(e) => { search.value = e.currentTarget.value; }} /></div>}
      <ul class="entries">
        {fits.map((c) => (
          <li key={c.id}>
            <span><b>{c.head || c.title}</b>, {c.valves} valves, last in “{c.title}”</span>
            <button type="button" onClick={() => void begin(c)}>Begin with it</button>
          </li>
        ))}
      </ul>
    </section>
  );
}
