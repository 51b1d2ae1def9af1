// Guide bores read, the pilot each one takes, and which guides are to be repaired before their seats are cut.

import type { Pilot } from '../../api/types';
import { inWords, showNumber, trueMinus } from '../../numbers/show';
import { Fold } from '../../parts/fold';
import { EntryList } from '../../parts/entry_list';
import { Table } from '../../parts/table';
import { mayRecord } from '../../state/may';
import { job, shown, state } from '../../state/open_job';
import { GuideEntry } from './guide_entry';

export function Pilots(props: { head: string }) {
  const find = state.value?.results.find;
  const pilots = find?.heads.find((h) => h.head === props.head)?.pilots ?? find?.pilots ?? [];
  const unit = shown.value;
  const repairs = pilots.filter((p) => p.guide === 'repair').map((p) => p.valve);
  return (
    <section aria-label="Guides and pilots">
      {repairs.length > 0 && <p class="sentence">Guides before seats: {repairs.join(', ')} to be repaired first, as the seat follows the guide.</p>}
      <Fold title="Guides and pilots" note={`${pilots.length} guides`}>
      <Table
        caption={`The pilot of each guide, ${inWords(unit)}`}
        head={['Guide', 'pilot', 'locks below the guide top', 'play at the seat (radius)', 'guide is']} words={[1, 4]}
        rows={pilots.map((p) => ({
          key: p.valve, attention: p.guide === 'repair',
          cells: [p.valve, p.pilot ?? 'none on the shelf', showNumber(p.lock_depth_mm, 'length', unit), showNumber(p.play_mm, 'length', unit),
            verdict(p)],
        }))}
      />
      <div class="acts no-print">
        {mayRecord() && job.value && <GuideEntry job={job.value.id} head={props.head} />}
        <EntryList kinds={['guide']} head={props.head} title="Guide bores" />
      </div>
      </Fold>
    </section>
  );
}

// Where the pilot locks stands in a column of its own.
function verdict(p: Pilot): string {
  const word = p.guide === 'repair' ? 'to be repaired first' : 'sound';
  return p.reason === '' || (p.guide !== 'repair' && p.lock_depth_mm !== null) ? word : `${word}: ${trueMinus(p.reason)}`;
}
