// The papers that can be made of the job as it stands, fetched anew with it.

import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { get } from '../api/client';
import type { Paper } from '../api/types';
import { drawn, job, shown, state } from './open_job';

const papers = signal<Paper[]>([]);

export function usePapers(): Paper[] {
  const id = job.value?.id;
  const address = `/jobs/${id ?? 0}/papers?${paperQuery()}`;
  const fresh = drawn.value;
  useEffect(() => {
    if (id === undefined) return;
    get<{ papers: Paper[] }>(address).then((a) => { papers.value = a.papers; }).catch(() => { papers.value = []; });
  }, [address, fresh]);
  return papers.value;
}

// A page is fetched anew when what it shows has changed.
export const paperAddress = (file: string) =>
  `/api/jobs/${job.value?.id ?? 0}/papers/${encodeURIComponent(file)}?${paperQuery()}&at=${job.value?.version ?? 0}.${job.value?.sequence ?? 0}`;

const paperQuery = () => `units=${shown.value}&head=${encodeURIComponent(state.value?.head ?? '')}`;
