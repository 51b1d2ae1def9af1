// The line on top: the three places, units, light or dark sheet, the person.

import { ask, session } from '../api/client';
import { useNarrow } from './narrow';
import { forgetAnswers } from '../entry/disk';
import { forgetDrafts } from '../entry/draft';
import { route } from '../state/route';
import { sheet, units, type Sheet } from '../state/settings';

const places = [
  { page: 'bench', address: '#/bench', name: 'Bench' },
  { page: 'shelf', address: '#/shelf', name: 'Shelf' },
  { page: 'ledger', address: '#/ledger', name: 'Ledger' },
] as const;

export function Bar() {
  const who = session.value?.person;
  const here = route.value.page;
  return (
    <header class="bar">
      <a class="bar-name" href="#/bench">Seatwright</a>
      <nav aria-label="Places">
        {places.map((p) => (
          <a key={p.page} href={p.address} aria-current={here === p.page ? 'page' : undefined}>{p.name}</a>
        ))}
      </nav>
      {useNarrow() ? (
        <details class="bar-more">
          <summary>{who?.name ?? 'Settings'}</summary>
          <Settings name={who?.name ?? ''} />
        </details>
      ) : <Settings name={who?.name ?? ''} />}
    </header>
  );
}

function Settings(props: { name: string }) {
  return (
    <div class="bar-right">
      <select aria-label="Units shown" value={units.value} onChange={(e) => { units.value = e.currentTarget.value as typeof units.value; }}>
        <option value="job">units of the job</option>
        <option value="in">inch</option>
        <option value="mm">mm</option>
      </select>
      <select aria-label="Sheet" value={sheet.value} onChange={(e) => { sheet.value = e.currentTarget.value as Sheet; }}>
        <option value="as the device">sheet as the device</option>
        <option value="light">light sheet</option>
        <option value="dark">dark sheet</option>
      </select>
      <a class="button" href="#/people">{props.name}</a>
      <button type="button" onClick={() => void signOut()}>Sign out</button>
    </div>
  );
}

async function signOut(): Promise<void> {
  await ask('DELETE', '/session').catch(() => undefined);
  await forgetAnswers();
  forgetDrafts();
  if (session.value) session.value = { ...session.value, person: null, csrf: null };
}
