// Castings on the Shelf: what is known of all heads from one mould; a new job of one, one as a file, and what a job says
// of its head that its casting does not.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { get, post, sentenceOf } from '../api/client';
import { listen } from '../api/events';
import type { Casting, Job, JobCard } from '../api/types';
import { FirstOf, onPhone } from '../parts/first_of';
import { mayLead, mayRecord } from '../state/may';
import { go, jobAddress } from '../state/route';
import { CastingCard } from './casting_card';
import { fitting } from './casting_words';

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
  const tell = (c: Casting, path: string, body: Record<string, unknown>) => attempt(async () => { await post(`/castings/${c.id}/${path}`, body); await fetchAll(); });
  const shown = fitting(all.value ?? [], search.value);
  return (
    <section aria-label="Castings">
      <h2>Castings</h2>
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      {all.value?.length === 0 && <p class="quiet">None yet. Keep a head of the shop as a casting, and each head that is finished adds to what is known of it.</p>}
      {(all.value?.length ?? 0) > 0 && shown.length === 0 && <p role="status">No casting fits what you search for.</p>}
      {(all.value?.length ?? 0) > 0 && <div><label for="casting-search">Search by name, number cast on it, valves, spacing</label><input id="casting-search" type="search" value={search.value} onInput={(e) => { search.value = e.currentTarget.value; }} /></div>}
      <FirstOf of={shown} what="castings" class="cards" most={onPhone() ? 4 : 10} row={(c) => <CastingCard key={c.id} casting={c} begin={() => void begin(c)} tell={(path, body) => tell(c, path, body)} />} />
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
          {mayLead() ? <label class="button file-button">Bring in a casting's file<input type="file" accept=".toml,text/plain" onChange={(e) => { const file = e.currentTarget.files?.[0]; if (file) void takeIn(file); }} /></label> : <p class="quiet">A casting's file from elsewhere brings limits with it: a lead brings it in.</p>}
        </div>
      )}
    </section>
  );
}
