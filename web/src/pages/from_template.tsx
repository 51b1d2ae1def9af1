// Jobs that somebody kept as templates: a new job begins with all that was described and set of one at that moment, and with
// none of its readings.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { get, sentenceOf } from '../api/client';
import type { JobCard } from '../api/types';
import { go, jobAddress } from '../state/route';
import { copied } from './copied';

export function FromTemplate() {
  const all = useSignal<JobCard[]>([]);
  const trouble = useSignal<string | null>(null);
  useEffect(() => {
    get<{ jobs: JobCard[] }>('/jobs?archived=yes').then((answer) => { all.value = answer.jobs; }).catch((fault: unknown) => { trouble.value = sentenceOf(fault); });
  }, []);
  const begin = async (card: JobCard, name: string, version: number) => {
    trouble.value = null;
    try {
      go(jobAddress(await copied(card, name, version), 'hold'));
    } catch (fault) {
      trouble.value = sentenceOf(fault);
    }
  };
  const templates = all.value.flatMap((card) => (card.template ? [{ card, ...card.template }] : [])).sort((a, b) => a.name.localeCompare(b.name));
  return (
    <section aria-label="Templates">
      <h2>A template</h2>
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      {templates.length === 0
        ? <p class="quiet">None yet. “Keep as template”, on a job’s card on the Bench, keeps what is described and set in it for jobs to come.</p>
        : <p>The job begins with the drawing data, fixture, limits and ways of working of the template, and with no reading.</p>}
      <ul class="entries">
        {templates.map(({ card, name, version }) => (
          <li key={card.id} data-template={name}>
            <span><b>{name}</b>: {card.head || card.title}, {card.valves} valves</span>
            <button type="button" onClick={() => void begin(card, name, version)}>Begin with it</button>
          </li>
        ))}
      </ul>
    </section>
  );
}
