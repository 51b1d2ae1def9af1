// The tour: five short steps over the pages themselves, which can be left at any of them.

import { useEffect, useState } from 'preact/hooks';
import { get } from '../api/client';
import type { JobCard } from '../api/types';
import { go, jobAddress, type Room } from '../state/route';
import { tour } from '../state/tour';

interface Stop { room?: Room; address?: string; says: string }

const stops: Stop[] = [
  { address: '#/bench', says: 'This is the Bench. Each job is a card: its head in small, a mark for each of the five stages, and in words what is next.' },
  { address: '#/new', says: 'A job begins here: from an example, a job file, six questions, or a head the shop has had. An example is the quickest way to look round.' },
  { room: 'hold', says: 'Each stage is a page. The largest sentence says what to do next; the drawing can be touched; what is under it opens line by line. The head you work on stands in the top line.' },
  { room: 'find', says: 'Readings go into the fields beside the drawing, by keypad, keyboard or a gauge that types. “Why” beside a number says where it comes from. Undo says what it takes back.' },
  { address: '#/help', says: '“At the machine”, in the strip of stages, leads through a head one step at a time. All of this stands here under Help, behind your name.' },
];

export function Tour() {
  const at = tour.value;
  const [job, setJob] = useState<number | null | undefined>(undefined);
  useEffect(() => { get<{ jobs: JobCard[] }>('/jobs').then((a) => setJob(a.jobs[0]?.id ?? null)).catch(() => setJob(null)); }, [at]);
  const stop = typeof at === 'number' ? stops[at] : undefined;
  const address = stop?.address ?? (stop?.room && job ? jobAddress(job, stop.room) : undefined);
  useEffect(() => { if (address !== undefined) go(address); }, [address]);
  if (!stop || typeof at !== 'number') return null;
  const last = at === stops.length - 1;
  return (
    <aside class="strip tour no-print" aria-label="Tour">
      <p role="status"><b>{at + 1} of {stops.length}</b> {stop.says}{stop.room && job === null ? ' (Make a job first to see it.)' : ''}</p>
      <p class="acts">
        {at > 0 && <button type="button" onClick={() => { tour.value = at - 1; }}>Back</button>}
        {last
          ? <button type="button" class="main-act" onClick={() => { tour.value = 'left'; }}>Done</button>
          : <button type="button" class="main-act" onClick={() => { tour.value = at + 1; }}>Next</button>}
        {!last && <button type="button" onClick={() => { tour.value = 'left'; }}>Leave the tour</button>}
      </p>
    </aside>
  );
}
