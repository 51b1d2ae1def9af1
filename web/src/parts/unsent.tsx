// What this screen still holds: entries waiting for the network, refused, or differing from what stands there.

import { serverAway, session } from '../api/client';
import { isMine, outbox } from '../entry/outbox';
import type { Waiting } from '../entry/waiting';
import type { Edit } from '../api/types';
import { clockOff, clockWords } from '../state/clock';
import { labelOf } from './plain';
import { mayLead } from '../state/may';
import { renewed } from '../state/renewed';
import { useSignal } from '@preact/signals';

export function Unsent() {
  const entries = outbox.entries.value.filter(isMine);
  const others = othersWaiting();
  const away = serverAway.value || outbox.away.value;
  const waiting = entries.filter((e) => e.state === 'waiting');
  const stuck = entries.filter((e) => e.state !== 'waiting');
  const clock = clockWords(clockOff.value);
  const warning = session.value?.warning;
  return (
    <>
      {clock && <div class="strip no-print" role="note">{clock}</div>}
      {warning && <div class="strip no-print" role="note">{warning}</div>}
      {renewed.value && <div class="strip no-print" role="status" data-renewed>The workbench was renewed. This page reloads when nothing is being typed.</div>}
      {away && (
        <div class="strip no-print" role="status" data-away>
          <h2>The network is away</h2>
          {waiting.length === 0
            ? 'You can go on: what you enter is kept on this screen and sent when the network is back.'
            : `${waiting.length} ${waiting.length === 1 ? 'entry waits' : 'entries wait'} on this screen and will be sent in order.`}
        </div>
      )}
      {others.map((o) => <OfAnother key={o.name} {...o} />)}
      {stuck.length > 0 && (
        <div class="strip no-print" role="alert">
          <h2>Not stored yet: please decide</h2>
          <ul>{stuck.map((e) => <Stuck key={e.key} entry={e} />)}</ul>
        </div>
      )}
    </>
  );
}

// What somebody else made on this screen and has not sent: a number and a name, nothing more.
function othersWaiting(): { name: string; keys: string[] }[] {
  const byName = new Map<string, string[]>();
  for (const e of outbox.entries.value.filter((w) => !isMine(w))) byName.set(e.by?.name ?? '', [...byName.get(e.by?.name ?? '') ?? [], e.key]);
  return [...byName].map(([name, keys]) => ({ name, keys }));
}

export const WaitsFor = () => (
  <>{othersWaiting().map((o) => <p key={o.name} role="status">{howMany(o.keys.length)} of {o.name} {o.keys.length === 1 ? 'waits' : 'wait'} on this screen and will be sent when {o.name} signs in here.</p>)}</>
);

const howMany = (n: number) => `${n} ${n === 1 ? 'entry' : 'entries'}`;

function OfAnother(props: { name: string; keys: string[] }) {
  const sure = useSignal(false);
  const letGo = () => {
    if (!sure.value) sure.value = true;
    else for (const key of props.keys) void outbox.letGo(key);
  };
  return (
    <div class="strip no-print" role="note">
      {howMany(props.keys.length)} of {props.name} {props.keys.length === 1 ? 'waits' : 'wait'} on this screen for {props.name} to sign in.{' '}
      {mayLead() && <button type="button" onClick={letGo}>{sure.value ? `Yes, let ${props.keys.length === 1 ? 'it' : 'them'} go for good` : 'Let them go'}</button>}
    </div>
  );
}

// As it would be typed.
function said(value: unknown): string {
  if (value === undefined || value === null || value === '') return 'left open';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return typeof value === 'object' ? Object.values(value).map(said).join(', ') : String(value);
}

interface Theirs { key: string; value: unknown; by: string }

function Stuck(props: { entry: Waiting }) {
  const { entry } = props;
  const theirs = (entry.theirs ?? []) as Theirs[];
  const mine = ((entry.body['edits'] ?? []) as Edit[]);
  const putMine = () => {
    const base = { ...(entry.body['base'] as Record<string, unknown>) };
    for (const t of theirs) base[t.key] = t.value;
    void outbox.sendAgain(entry.key, { body: { ...entry.body, base } });
  };
  return (
    <li>
      <span>{entry.words}: {entry.sentence}</span>
      {entry.state === 'differs' && theirs.map((t) => (
        <span key={t.key}>{labelOf(t.key)}: theirs is {said(t.value)}, yours is {said(mine.find((m) => m.key === t.key)?.value)}.</span>
      ))}
      {entry.state === 'differs' && <button type="button" onClick={putMine}>Keep mine</button>}
      <button type="button" onClick={() => void outbox.letGo(entry.key)}>{entry.state === 'differs' ? 'Keep theirs' : 'Let it go'}</button>
    </li>
  );
}
