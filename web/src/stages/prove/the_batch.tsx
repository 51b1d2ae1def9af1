// The batch as one page: is it staying right, what shows over its heads, and how far each head is.

import { Fold } from '../../parts/fold';
import { headsKnown } from '../../state/heads';
import { state } from '../../state/open_job';
import { Batch } from './batch';
import { Heads } from './heads';
import { useCharts, useMeasured } from './measured';
import { Trends } from './trends';

export function TheBatch() {
  const result = state.value?.results.prove;
  const rows = useMeasured(), points = useCharts();
  const measured = result && result.batch.length > 0;
  return (
    <>
      {measured
        ? <Batch result={result} measured={rows} points={points} />
        : <p class="sentence">No head of this job has been measured yet: there is no batch to look at.</p>}
      <Trends measured={rows} />
      <Fold title="Heads of this job" note={`${headsKnown().all.length}`} open={!measured}><Heads /></Fold>
    </>
  );
}
