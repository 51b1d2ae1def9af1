// What this screen still holds: entries waiting for the network, refused, or differing from what stands there.

import { serverAway, session } from '../api/client';
import { outbox } from '../entry/outbox';
import type { Waiting } from '../entry/waiting';
import type { Edit } from '../api/types';

export function Unsent() {
  const entries = outbox.entries.value;
  const away = serverAway.value || outbox.away.value;
  const waiting = entries.filter((e) => e.state === 'waiting');
  const stuck = entries.filter((e) => e.state !== 'waiting');
  const warning = session.value?.warning;
  return (
    <>
      {warning && <div class="strip no-print" role="note">{warning}</div>}
      {away && (
        <div class="strip no-print" role="status" data-away>
          <h2>The network is away</h2>
          {waiting.length === 0
            ? 'You can go on: what you enter is kept on this screen and sent when the network is back.'
            : `${waiting.length} ${waiting.length === 1 ? 'entry waits' : 'entries wait'} on this screen and will be sent in order.`}
        </div>
      )}
      {stuck.length > 0 && (
        <div class="strip no-print" role="alert">
          <h2>Not stored: decide</h2>
          <ul>{stuck.map((e) => <Stuck key={e.key} entry={e} />)}</ul>
        </div>
      )}
    </>
  );
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
        <span key={t.key}>{t.key}: theirs {JSON.stringify(t.value)}, yours {JSON.stringify(mine.find((m) => m.key === t.key)?.value)}</span>
      ))}
      {entry.state === 'differs' && <button type="button" onClick={putMine}>Keep mine</button>}
      <button type="button" onClick={() => void outbox.letGo(entry.key)}>{entry.state === 'differs' ? 'Keep theirs' : 'Let it go'}</button>
    </li>
  );
}
