// Castings on the Shelf: what is known of all heads from one mould; a new job of one, one as a file, and what a job says
// of its head that its casting does not.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { get, post, sentenceOf } from '../api/client';
import { listen } from '../api/events';
import type { Casting, Job, JobCard } from '../api/types';
import { showLength } from '../numbers/show';
import { when } from '../parts/when';
import { mayLead, mayRecord } from '../state/may';
import { go, jobAddress } from '../state/route';
import { units } from '../state/settings';

const unit = () => (units.value === 'in' ? 'in' : 'mm') as 'in' | 'mm';
const words = (c: Casting) => `${c.name} ${c.number} ${c.notes} ${c.valves} valves ${showLength(c.spacing_mm, unit())}`.toLowerCase();

export function Castings() {
  const all = useSignal<Casting[] | null>(null);
  const trouble = useSignal<string | null>(null);
  const search = useSignal('');
  const jobs = useSignal<JobCard[]>([]);
  const kept = useSignal('');
  const fetchAll = () => get<{ castings: Casting[] }>('/castings').then((a) => { all.value = a.castings; });
  const attempt = async (act: () => Promise<unknown>) => {
    trouble.value = null;
    await act().catch((fault: unknown) => { trouble.value = sentenceOf(fault); });
  };
  useEffect(() => {
    void attempt(fetchAll);
    void attempt(() => get<{ jobs: JobCard[] }>('/jobs?archived=yes').then((a) => { jobs.value = a.jobs; }));
    const listening = listen('/events', ['castings'], () => void attempt(fetchAll), () => undefined);
    return () => listening.close();
  }, []);
  const begin = (c: Casting) => attempt(async () => go(jobAddress((await post<Job>('/jobs', { from: 'casting', casting: c.name })).id, 'hold')));
  const takeIn = (file: File) => attempt(async () => { await post('/castings', { text: await file.text() }); await fetchAll(); });
  const keep = () => attempt(async () => { await post('/castings', { job: Number(kept.value) }); await fetchAll(); });
  const decide = (c: Casting, offer: number, accepted: boolean) => attempt(async () => { await post(`/castings/${c.id}/offers/${offer}`, { accepted }); await fetchAll(); });
  const asked = search.value.trim().toLowerCase().split(/\s+/);
  const shown = (all.value ?? []).filter((c) => asked.every((w) => words(c).includes(w)));
  return (
    <section aria-label="Castings">
      <h2>Castings</h2>
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      {all.value?.length === 0 && <p class="quiet">None yet.</p>}
      {(all.value?.length ?? 0) > 0 && <div><label for="casting-search">Search by name, number cast on it, valves, spacing</label><input id="casting-search" type="search" value={search.value} onInput={(e) => { search.value = e.currentTarget.value; }} /></div>}
      <div class="cards">
        {shown.map((c) => (
          <article class="shelf-item" key={c.id} data-casting={c.name}>
            <h3>{c.name}</h3>
            <p class="quiet">{[c.number && `cast on it ${c.number}`, `${c.valves} valves`, c.spacing_mm !== null && `${showLength(c.spacing_mm, unit())} apart`, `${c.heads} ${c.heads === 1 ? 'head has' : 'heads have'} taught`, c.depths > 0 && `depths of ${c.depths} seats`].filter(Boolean).join(', ')}</p>
            <p class="quiet">{c.what}, {c.changed_by} {when(c.changed_at)}</p>
            {c.fault && <p class="sentence">{c.fault}</p>}
            {c.strangers.map((s) => <p class="sentence" key={s.job}>Job {s.job}: {s.words}</p>)}
            {c.offers.map((o) => (
              <details key={o.id}>
                <summary>Job {o.job} describes it otherwise</summary>
                <pre>{o.text}</pre>
                {mayLead() && <p class="acts"><button type="button" onClick={() => void decide(c, o.id, true)}>Accept it</button><button type="button" onClick={() => void decide(c, o.id, false)}>Leave it as it was</button></p>}
              </details>
            ))}
            <p class="acts">
              {mayRecord() && <button type="button" class="main-act" onClick={() => void begin(c)}>New job</button>}
              <a class="button" href={`/api/castings/${c.id}/file`} download>Take its file</a>
            </p>
          </article>
        ))}
      </div>
      {mayRecord() && (
        <div class="acts no-print">
          <div>
            <label for="casting-job">A head of the shop</label>
            <select id="casting-job" value={kept.value} onChange={(e) => { kept.value = e.currentTarget.value; }}>
              <option value="">–</option>
              {jobs.value.map((j) => <option key={j.id} value={j.id}>{j.head || j.title}: {j.title}</option>)}
            </select>
          </div>
          <button type="button" disabled={kept.value === ''} onClick={() => void keep()}>Keep it as a casting</button>
          <label class="button file-button">Bring in a casting's file<input type="file" accept=".toml,text/plain" onChange={(e) => { const file = e.currentTarget.files?.[0]; if (file) void takeIn(file); }} /></label>
        </div>
      )}
    </section>
  );
}
