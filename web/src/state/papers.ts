// The papers that can be made of the job as it stands, fetched anew with it; how a file is called when it is taken along.

import { signal, useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { get } from '../api/client';
import type { Paper } from '../api/types';
import { drawn, job, shown, state } from './open_job';

const papers = signal<Paper[]>([]);

export function usePapers(): Paper[] {
  const id = job.value?.id;
  const address = `/jobs/${id ?? 0}/papers?${paperQuery()}`;
  const fresh = drawn.value;
  const lacking = state.value?.lacking !== null; // no sheet of a head nothing is read of
  useEffect(() => {
    if (id === undefined) return;
    if (lacking) {
      papers.value = [];
      return;
    }
    get<{ papers: Paper[] }>(address).then((a) => { papers.value = a.papers; }).catch(() => { papers.value = []; });
  }, [address, fresh, lacking]);
  return papers.value;
}

// A page is fetched anew when what it shows has changed.
export const paperAddress = (file: string) =>
  `/api/jobs/${job.value?.id ?? 0}/papers/${encodeURIComponent(file)}?${paperQuery()}&at=${job.value?.version ?? 0}.${job.value?.sequence ?? 0}`;

const paperQuery = () => `units=${shown.value}&head=${encodeURIComponent(state.value?.head ?? '')}`;

// A file that leaves for a machine or a folder has the job's number in front, so that two jobs with a head 7 are told apart.
export const takenAs = (file: string, here = job.value?.id ?? 0): string => `${here}-${file}`;

// The plan's mark, as it stands in its files and on its sheet; of a part of the head where one is given.
export function useDigest(part: Record<string, string> = {}): string {
  const digest = useSignal('');
  const id = job.value?.id ?? 0;
  const address = `/jobs/${id}/papers?${paperQuery()}&${new URLSearchParams(part)}`;
  const fresh = drawn.value;
  useEffect(() => {
    let mine = true;
    get<{ papers: Paper[] }>(address).then((a) => { if (mine) digest.value = a.papers.find((p) => p.digest)?.digest ?? ''; })
      .catch(() => { if (mine) digest.value = ''; });
    return () => { mine = false; };
  }, [address, fresh]);
  return digest.value;
}
