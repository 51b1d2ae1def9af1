// A job that came in with limits that are not the shop's says so until a lead accepts them.

import { useSignal } from '@preact/signals';
import { post, sentenceOf } from '../api/client';
import { mayLead } from '../state/may';
import { job, refresh } from '../state/open_job';

export function OpenLimits() {
  const said = useSignal<string | null>(null);
  const open = job.value?.open_limits;
  if (!job.value || !open) return null;
  const id = job.value.id;
  const accept = async () => {
    try {
      await post(`/jobs/${id}/limits`);
      await refresh();
    } catch (fault) {
      said.value = sentenceOf(fault);
    }
  };
  return (
    <p class="acts no-print">
      <span>This job came in with limits that are not the shop’s ({open}); no lead has accepted them yet, and its papers say so.</span>
      {mayLead() && <button type="button" onClick={() => void accept()}>Accept them</button>}
      {said.value && <span role="alert">{said.value}</span>}
    </p>
  );
}
