// Which head of the batch is on the machine: those on record, and one more.

import { headsKnown } from '../state/heads';
import { chooseHead, headHere, state } from '../state/open_job';

export function HeadStepper() {
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
        {all.map((h) => <option key={h} value={h}>{h}{known.includes(h) ? '' : ', new'}</option>)}
        <option value={next}>{next}, a new one</option>
      </select>
      {step(all[at + 1] ?? (known.includes(here) ? next : undefined), 'Next head', '›')}
    </div>
  );
}
