// What of the job has left: every paper and program that was taken, who took it and when, as it left.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { get, sentenceOf } from '../api/client';
import { job } from '../state/open_job';
import { Fold } from './fold';
import { Wide } from './table';
import { when } from './when';

interface Issue { id: number; name: string; head: string; part: string; form: string; number: number; newest: boolean; replaces: number | null; sha256: string; by: string; at: string }

export function Issued() {
  return <Fold title="Papers and files that were taken" note="kept as they left" lazy><List /></Fold>;
}

function List() {
  const all = useSignal<Issue[] | null>(null);
  const said = useSignal<string | null>(null);
  const id = job.value?.id ?? 0;
  const sequence = job.value?.sequence;
  useEffect(() => {
    get<{ issues: Issue[] }>(`/jobs/${id}/issues`).then((a) => { all.value = a.issues; }, (fault: unknown) => { said.value = sentenceOf(fault); });
  }, [id, sequence]);
  if (said.value) return <p class="sentence" role="alert">{said.value}</p>;
  if (!all.value) return null;
  if (all.value.length === 0) return <p>Nothing has been taken yet.</p>;
  return (
    <Wide name="Papers and files that were taken">
      <table>
        <thead><tr><th class="words">Paper</th><th>Issue</th><th class="words">Head</th><th class="words">Taken</th><th class="words">By</th><th class="words">Mark</th></tr></thead>
        <tbody>
          {all.value.map((i) => (
            <tr key={i.id}>
              <th class="words" scope="row"><a href={`/api/jobs/${id}/issues/${i.id}`} download>{i.name}</a></th>
              <td>{i.number}</td>
              <td class="words">{[i.head || 'all', partWords(i.part), i.form.split(' ')[0]].filter((w) => w).join(', ')}</td>
              <td class="words">{when(i.at)}{i.newest ? '' : ', replaced since'}</td>
              <td class="words">{i.by}</td>
              <td class="words"><code>{i.sha256.slice(0, 16)}</code></td>
            </tr>
          ))}
        </tbody>
      </table>
    </Wide>
  );
}

// "\nfrom\n3I", "\nonly\n3I\n4I".
function partWords(part: string): string {
  const [, word, ...seats] = part.split('\n');
  return word === undefined ? '' : `${word} ${seats.join(', ')}`;
}
