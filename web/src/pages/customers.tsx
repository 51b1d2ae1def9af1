// Customers: a name corrected everywhere, and all that is on record of one in one file.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ask, get } from '../api/client';
import { useAttempt } from '../parts/attempt';
import { Wide } from '../parts/table';

interface Customer { id: number; name: string; jobs: number }

export function Customers() {
  const all = useSignal<Customer[]>([]);
  const { said, attempt } = useAttempt();
  const fetchAll = async () => {
    all.value = (await get<{ customers: Customer[] }>('/customers').catch(() => ({ customers: all.value }))).customers;
  };
  useEffect(() => void fetchAll(), []);
  if (all.value.length === 0) return null;
  return (
    <section>
      <h2>Customers</h2>
      <Wide name="Customers">
        <table>
          <thead><tr><th class="words">Name</th><th>Jobs</th><th class="words" /></tr></thead>
          <tbody>
            {all.value.map((one) => (
              <tr key={`${one.id} ${one.name}`}>
                <th class="words" scope="row">
                  <input data-kept-left aria-label={`Name of ${one.name}`} defaultValue={one.name} onChange={(e) => void attempt(() => ask('PATCH', `/customers/${one.id}`, { name: e.currentTarget.value.trim() })).then(fetchAll)} />
                </th>
                <td>{one.jobs}</td>
                <td class="words"><a class="button" href={`/api/customers/${one.id}/everything`} download={`customer-${one.id}.tar`}>Take all that is on record</a></td>
              </tr>
            ))}
          </tbody>
        </table>
      </Wide>
      {said.value && <p class="sentence" role="alert">{said.value}</p>}
    </section>
  );
}
