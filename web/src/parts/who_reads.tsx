// Whose readings are typed here: one's own, or those somebody else calls out.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { get, session } from '../api/client';
import { chooseReader, readsHere } from '../entry/reads_here';

export function WhoReads() {
  const names = useSignal<string[]>([]);
  useEffect(() => { void get<{ names: string[] }>('/people/names').then((answer) => { names.value = answer.names; }, () => undefined); }, []);
  const me = session.value?.person?.name ?? '';
  const others = names.value.filter((n) => n !== me);
  const now = readsHere();
  return (
    <>
      <label for="who-reads">Readings typed here are read by</label>
      <select id="who-reads" value={now} onChange={(e) => chooseReader(e.currentTarget.value)}>
        <option value="">{me}, who types them</option>
        {[...new Set(now === '' ? others : [now, ...others])].map((n) => <option key={n} value={n}>{n}</option>)}
      </select>
      <p class="quiet">Papers then name both: who read, and who entered it.</p>
    </>
  );
}
