// The line on top, 56 px: on a job's pages which job and which head; elsewhere the places. Right of it the person, behind
// whose name stand units, light or dark sheet, help and the way out.

import { useEffect, useRef } from 'preact/hooks';
import { ask, get, session } from '../api/client';
import type { Session } from '../api/types';
import { forgetAnswers } from '../entry/disk';
import { forgetDrafts } from '../entry/draft';
import { headsKnown } from '../state/heads';
import { headWords } from '../state/notes';
import { chooseHead, headHere, job, state } from '../state/open_job';
import { mayLead, mayRecord } from '../state/may';
import { jobAddress, linkTo, route } from '../state/route';
import { chooseReader, readsHere } from '../entry/reads_here';
import { keys, sheet, units, type Sheet } from '../state/settings';
import { Fold } from './fold';
import { later } from './later';

const LinkHere = later<{ address: string; says: string }>(() => import('./link_here').then((m) => m.LinkHere));

const WhoReads = later<Record<string, never>>(() => import('./who_reads').then((m) => m.WhoReads));

const places = [
  { page: 'bench', address: '#/bench', name: 'Bench' },
  { page: 'shelf', address: '#/shelf', name: 'Shelf' },
  { page: 'ledger', address: '#/ledger', name: 'Ledger' },
] as const;

export function Bar() {
  const here = route.value;
  const at = here.page === 'job' ? job.value : null;
  return (
    <header class="bar">
      {at
        ? <nav class="bar-back" aria-label="Places"><a class="bar-name bar-short" href="#/bench" aria-label="Bench">‹ <span>Bench</span></a></nav>
        : <a class="bar-name" href="#/bench">Seatwright</a>}
      {at
        ? <><h1 class="bar-job">{at.title}</h1><HeadStepper /></>
        : (
          <nav aria-label="Places">
            {places.map((p) => <a key={p.page} href={p.address} aria-current={here.page === p.page ? 'page' : undefined}>{p.name}</a>)}
          </nav>
        )}
      {at && readsHere() !== '' && (
        <button type="button" class="bar-reads" title="Readings typed here are read by somebody else: touch to end it" onClick={() => chooseReader('')}>{readsHere()} reads ✕</button>
      )}
      {session.value?.by_pin && <button type="button" class="bar-leave" onClick={() => void signOut()}>Leave</button>}
      <Person />
    </header>
  );
}

function Person() {
  const name = session.value?.person?.name ?? 'Settings';
  const box = useRef<HTMLDetailsElement>(null);
  const here = route.value;
  // It closes when one goes elsewhere or touches beside it.
  useEffect(() => {
    if (box.current) box.current.open = false;
    const close = (e: Event) => {
      if (box.current && e.target instanceof Node && !box.current.contains(e.target)) box.current.open = false;
    };
    addEventListener('pointerdown', close);
    return () => removeEventListener('pointerdown', close);
  }, [here]);
  return (
    <details class="bar-more" ref={box}>
      <summary>{name}</summary>
      <div class="bar-menu">
        <label for="units-shown">Units shown</label>
        <select id="units-shown" value={units.value} onChange={(e) => { units.value = e.currentTarget.value as typeof units.value; }}>
          <option value="job">units of the job</option>
          <option value="in">inch</option>
          <option value="mm">mm</option>
        </select>
        <label for="sheet-shown">Sheet</label>
        <select id="sheet-shown" value={sheet.value} onChange={(e) => { sheet.value = e.currentTarget.value as Sheet; }}>
          <option value="as the device">as the device</option>
          <option value="light">light</option>
          <option value="dark">dark</option>
        </select>
        <label for="keys-shown">Keyboard shortcuts</label>
        <select id="keys-shown" value={keys.value} onChange={(e) => { keys.value = e.currentTarget.value as 'on'; }}>
          <option value="on">on</option>
          <option value="off">off</option>
        </select>
        {here.page === 'job' && mayRecord() && <Fold title="Somebody else reads" note={readsHere()} lazy><WhoReads /></Fold>}
        {here.page === 'job' && (
          <Fold title="Link to this head and stage" lazy>
            <LinkHere address={linkTo(here.id, here.room, headHere.value)} says={`Head ${headWords(headHere.value)}, ${here.room === 'machine' ? 'at the machine' : here.room}`} />
          </Fold>
        )}
        {here.page === 'job' && <a class="button" href={jobAddress(here.id, 'data')}>Drawing data</a>}
        {here.page === 'job' && places.slice(1).map((p) => <a key={p.page} class="button" href={p.address}>{p.name}</a>)}
        <a class="button" href="#/help">Help</a>
        <a class="button" href="#/people">Password and people</a>
        {mayLead() && <a class="button" href="#/administration">Data and backups</a>}
        <button type="button" onClick={() => void signOut()}>Sign out</button>
      </div>
    </details>
  );
}

async function signOut(): Promise<void> {
  await ask('DELETE', '/session').catch(() => undefined);
  await forgetAnswers();
  forgetDrafts();
  // Who may come in here by a PIN may have become another.
  const now = await get<Session>('/session').catch(() => session.value);
  if (now) session.value = { ...now, person: null, csrf: null };
}

// Which head of the batch is on the machine: those on record, and one more.
function HeadStepper() {
  const here = headHere.value;
  const known = state.value?.heads ?? [];
  const { all, next } = headsKnown();
  const at = all.indexOf(here);
  const step = (to: string | undefined, words: string, face: string) => (
    <button type="button" aria-label={to === undefined ? words : `${words}: ${to}`} disabled={to === undefined} onClick={() => { if (to !== undefined) chooseHead(to); }}>{face}</button>
  );
  return (
    <div class="stepper" role="group" aria-label="Which head">
      {step(all[at - 1], 'Head before', '‹')}
      <label for="head-choice">Head</label>
      <select id="head-choice" value={here} onChange={(e) => chooseHead(e.currentTarget.value)}>
        {all.map((h) => <option key={h} value={h}>{headWords(h)}{known.includes(h) ? '' : ', new'}</option>)}
        <option value={next}>{next}, a new one</option>
      </select>
      {step(all[at + 1] ?? (known.includes(here) ? next : undefined), 'Next head', '›')}
    </div>
  );
}
