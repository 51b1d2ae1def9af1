// Which head of the batch is on the machine: those on record, and one more.

import { chooseHead, headHere, state } from '../state/open_job';

export function HeadChoice() {
  const here = headHere.value;
  const known = state.value?.heads ?? [];
  const all = known.includes(here) ? known : [...known, here];
  const numbers = all.map(Number).filter(Number.isInteger);
  const next = String(Math.max(0, ...numbers) + 1);
  return (
    <p class="head-choice">
      <label for="head-choice">Head</label>
      <select id="head-choice" value={here} onChange={(e) => chooseHead(e.currentTarget.value)}>
        {all.map((h) => <option key={h} value={h}>{h}{known.includes(h) ? '' : ', new'}</option>)}
        <option value={next}>{next}, a new one</option>
      </select>
    </p>
  );
}
