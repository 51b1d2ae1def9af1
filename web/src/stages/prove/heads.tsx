// Every head of the job: how far it is, what was noted of it, who worked at it last; one tap goes on with it.

import type { Entry } from '../../api/types';
import { draftOf } from '../../entry/draft';
import { Table } from '../../parts/table';
import { when } from '../../parts/when';
import { headsKnown } from '../../state/heads';
import { chooseHead, entries, headHere, job, state } from '../../state/open_job';
import { go, jobAddress } from '../../state/route';
import { mayRecord } from '../../state/may';
import { nameOfHead, note, notesOf } from '../../state/notes';
import { saidOf } from '../../state/said_steps';

export function Heads() {
  const { all } = headsKnown();
  const valves = state.value?.valves?.length ?? 0;
  const id = job.value?.id ?? 0;
  const live = entries.value.entries.filter((e) => e.live);
  const rows = all.map((head) => {
    const own = live.filter((e) => e.head === head);
    const last = own.at(-1);
    const counted = (kind: Entry['kind']) => { const n = new Set(own.filter((e) => e.kind === kind).map((e) => e.valve)).size; return n === 0 ? '–' : `${n} of ${valves}`; };
    return {
      key: head, now: head === headHere.value,
      cells: [
        <button type="button" aria-label={`Go on with head ${head}`} onClick={() => { chooseHead(head); go(jobAddress(id, 'machine')); }}>{head}</button>,
        <HeadName head={head} />,
        counted('touch'), counted('seat'), counted('first').split(' ')[0], counted('proof'), standing(head, counted('proof') === `${valves} of ${valves}`),
        notesOf(head).map((n) => n.words || 'photograph').join('; ') || '–', last ? `${last.by}, ${when(last.at)}` : '–',
      ],
    };
  });
  return (
    <Table caption="Heads of this job" words={[1, 6, 7, 8]} head={['Head', 'name or number on it', 'guides touched', 'seats read', 'first seats', 'measured', 'stands', 'notes', 'last']} rows={rows} />
  );
}

// What the casting is called or has stamped on it; kept when the field is left.
function HeadName(props: { head: string }) {
  const known = nameOfHead(props.head);
  const text = draftOf(job.value?.id ?? 0, props.head, 'name');
  const keep = () => {
    const typed = text.value.trim();
    if (typed === '' || typed === known) return;
    void note(props.head, '', { name: typed }).then(() => { text.value = ''; });
  };
  if (!mayRecord()) return <>{known || '–'}</>;
  return (
    <input class="head-name" data-kept-left aria-label={`Name of head ${props.head}`} maxLength={40} autocomplete="off" value={text.value === '' ? known : text.value}
           onInput={(e) => { text.value = e.currentTarget.value; }} onBlur={keep} onKeyDown={(e) => { if (e.key === 'Enter') keep(); }} />
  );
}

function standing(head: string, measured: boolean): string {
  const said = saidOf(head);
  if (said.has('aside')) return 'put aside';
  if (measured) return 'measured through';
  const cut = [...said].filter((s) => s.startsWith('cut ')).length;
  if (cut > 0) return `cut with ${cut} ${cut === 1 ? 'cutter' : 'cutters'}`;
  return [...said].some((s) => s.startsWith('load ')) ? 'on the machine' : 'waiting';
}
