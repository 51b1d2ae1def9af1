// Which head of the batch: those on record, and one more.

import { state } from '../../state/open_job';

export function HeadChoice(props: { chosen: string; choose: (head: string) => void }) {
  const known = state.value?.heads ?? [];
  const all = known.includes(props.chosen) ? known : [...known, props.chosen];
  const numbers = all.map(Number).filter(Number.isInteger);
  const next = String(Math.max(0, ...numbers) + 1);
  return (
    <span class="acts no-print">
      <label for="head-choice">Head</label>
      <select id="head-choice" value={props.chosen} onChange={(e) => props.choose(e.currentTarget.value)}>
        {all.map((h) => <option key={h} value={h}>{h}</option>)}
        <option value={next}>{next}, a new one</option>
      </select>
    </span>
  );
}
