// Whose the job is: the shop's own number of it, the customer, serial numbers of heads. Papers print them; the job file and
// programs never have them.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ask, get, sentenceOf } from '../api/client';
import { headWords } from '../state/notes';
import { mayRecord } from '../state/may';
import { job, state } from '../state/open_job';
import { Fold } from './fold';

interface Order { number: string; customer: string; serials: Record<string, string> }

export function WhoseItIs() {
  return <Fold title="Whose it is" note="number, customer, serial numbers" lazy><Fields /></Fold>;
}

function Fields() {
  const order = useSignal<Order | null>(null);
  const customers = useSignal<string[]>([]);
  const said = useSignal<string | null>(null);
  const id = job.value?.id ?? 0;
  useEffect(() => {
    get<Order>(`/jobs/${id}/order`).then((a) => { order.value = a; }, (fault: unknown) => { said.value = sentenceOf(fault); });
    get<{ customers: { name: string }[] }>('/customers').then((a) => { customers.value = a.customers.map((c) => c.name); }, () => undefined);
  }, [id]);
  const now = order.value;
  if (!now) return said.value ? <p class="sentence" role="alert">{said.value}</p> : null;
  const change = async (body: object) => {
    said.value = null;
    try {
      order.value = await ask<Order>('PATCH', `/jobs/${id}/order`, body);
    } catch (fault) {
      said.value = sentenceOf(fault);
    }
  };
  const fixed = !mayRecord();
  const heads = [...new Set([...(state.value?.heads ?? []), ...Object.keys(now.serials)])];
  return (
    <div class="form">
      <div><label for="order-number">Job number</label><input id="order-number" data-kept-left defaultValue={now.number} disabled={fixed} autocomplete="off" maxLength={40} onChange={(e) => void change({ number: e.currentTarget.value.trim() })} /></div>
      <div>
        <label for="order-customer">Customer</label>
        <input id="order-customer" data-kept-left list="customers-known" defaultValue={now.customer} disabled={fixed} autocomplete="off" maxLength={120} onChange={(e) => void change({ customer: e.currentTarget.value.trim() })} />
        <datalist id="customers-known">{customers.value.map((c) => <option key={c} value={c} />)}</datalist>
      </div>
      {heads.map((head) => (
        <div key={head}>
          <label for={`serial-${head}`}>Serial number of head {headWords(head)}</label>
          <input id={`serial-${head}`} data-kept-left defaultValue={now.serials[head] ?? ''} disabled={fixed} autocomplete="off" maxLength={60} onChange={(e) => void change({ serials: { [head]: e.currentTarget.value.trim() } })} />
        </div>
      ))}
      <p class="quiet">Sheet and certificate print them. The job file and the programs never have them.</p>
      {said.value && <p class="sentence" role="alert">{said.value}</p>}
    </div>
  );
}
