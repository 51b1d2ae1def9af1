// Customers: a name corrected everywhere, and all that is on record of one in one file.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ask, get, sentenceOf } from '../api/client';
import { Wide } from '../parts/table';

interface Customer { id: number; name: string; jobs: number }

export function Customers() {
  const all = useSignal<Customer[]>([]);
  const said = useSignal<string | null>(null);
  const attempt = async (act: () => Promise<unknown>) => {
    said.value = null;
    try {
      await act();
    } catch (fault) {
      said.value = sentenceOf(fault);
    }
    all.value = (await get<{ customers: Customer[] }>('/customers').catch(() => ({ customers: all.value }))).customers;
  };
  useEffect(() => void attempt(async () => undefined), []);
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
                  <input aria-label={`Name of ${one.name}`} defaultValue={one.name} onChange={(e) => void attempt(() => ask('PATCH', `/customers/${one.id}`, { name: e.currentTarget.value.trim() }))} />
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
