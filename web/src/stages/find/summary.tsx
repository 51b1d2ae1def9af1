// What the touches of a setup say in sum: how the head lies, how sure that is, which touch next, whether the head
// lies the way it was said, and what a run without touches would risk.

import { useEffect, useState } from 'preact/hooks';
import { get } from '../../api/client';
import type { FindResult, FoundSetup } from '../../api/types';
import { showAngle, showChance, showLength } from '../../numbers/show';
import { Row, Rows } from '../../parts/numbers';
import { job, shown, state } from '../../state/open_job';

type BlindRun = NonNullable<FindResult['blind_run']>;
const rejected = 0.001; // p below which the pattern does not fit the touches

// A chance reckoned from touches that accuse each other is worth nothing: it is not said.
export const disagree = (setup: FoundSetup) => setup.guides.some((g) => g.suspect) || (setup.set_aside ?? []).length > 0;

export function Summary(props: { setup: FoundSetup }) {
  const { setup } = props;
  const id = job.value?.id ?? 0;
  const why = (key: string) => ({ job: id, stage: 'find' as const, key });
  const touched = setup.guides.filter((g) => g.touched).length;
  const blind = state.value?.results.find?.blind_run;
  return (
    <>
      <Rows title={`Setup ${setup.id}: ${touched} of ${setup.guides.length} guides touched`}>
        <Row label="Head is turned by" why={why('yaw_deg')}>
          {showAngle(setup.yaw_deg, 3)} ± {setup.yaw_sd_deg === null ? 'not known' : showAngle(setup.yaw_sd_deg, 3)}
        </Row>
        <Row label="Least chance to enter" why={why('least_enter_probability')}>{disagree(setup) ? 'not known while touches do not agree' : showChance(setup.least_enter_probability)}</Row>
        <Row label="Next to touch" why={why('next_touch')}>{setup.next_touch ?? 'none needed'}</Row>
        <Row label="Touches still to make" why={why('touches_to_target')}>{setup.touches_to_target ?? '–'}</Row>
        <Row label="Fits the pattern (p)" why={why('p_value')} attention={setup.p_value !== null && setup.p_value < rejected}>
          {setup.p_value === null ? 'not enough touches yet' : setup.p_value.toFixed(3)}
        </Row>
        {(setup.learned_from_heads ?? 0) > 0 && <Row label="Learned from earlier heads" why={why('learned')}>{setup.learned_from_heads}</Row>}
        <WayRound setup={setup} />
        {setup.square && <Square square={setup.square} />}
      </Rows>
      {blind && <Blind blind={blind} why={why('blind_run')} />}
    </>
  );
}

function WayRound(props: { setup: FoundSetup }) {
  const { pattern, pattern_undecidable: undecidable, looks_alike: alike } = props.setup;
  if (pattern !== 'as declared') {
    return <p class="sentence" role="alert">The head lies {pattern}: the touches fit it that way and not as declared. Turn it, or change the drawing data.</p>;
  }
  if (!undecidable) return null;
  return <p>The touches do not show whether it lies the right way round: {alike ? `${alike}, it looks the same` : 'it looks the same other ways too'}. Look at the head.</p>;
}

// Along an axis of the readout where it is near enough to it, else by both.
function way([x, y]: [number, number]): string {
  const far = Math.hypot(x, y);
  if (Math.abs(x) < 0.1 * far) return ` towards ${y < 0 ? '−Y' : '+Y'}`;
  if (Math.abs(y) < 0.1 * far) return ` towards ${x < 0 ? '−X' : '+X'}`;
  return `: X ${showLength(x, shown.value)}, Y ${showLength(y, shown.value)}`;
}

function Square(props: { square: NonNullable<FoundSetup['square']> }) {
  const { move_mm: move, post, shift_mm: shift, worth_it: worth } = props.square;
  if (worth === false) return <p>The row runs true within {showLength(Math.abs(move), shown.value)} at the posts: none need be moved.</p>;
  return <p>To run the row true, shift post {post} by {showLength(Math.hypot(...shift), shown.value)}{way(shift)} of the readout.</p>;
}

// The chances and sizes of the whole head take the server a moment: they are asked for where somebody looks.
function useWholeHead(blind: BlindRun): BlindRun | null {
  const [whole, setWhole] = useState<BlindRun | null>(null);
  const asked = `/jobs/${job.value?.id ?? 0}/results/find?${new URLSearchParams({ head: state.value?.head ?? '' })}`;
  useEffect(() => {
    let gone = false;
    setWhole(blind.head_enter_probability === undefined ? null : blind);
    if (blind.head_enter_probability !== undefined) return;
    get<FindResult>(asked).then((found) => { if (!gone) setWhole(found.blind_run); }, () => { /* the table says that it is being worked out */ });
    return () => { gone = true; };
  }, [blind, asked]);
  return whole;
}

function Blind(props: { blind: BlindRun; why: { job: number; stage: 'find'; key: string } }) {
  const { blind, why } = props;
  const unit = shown.value;
  const whole = useWholeHead(blind);
  const size = (mm: number | null | undefined) => (whole === null ? beingWorkedOut : whatever(mm, unit));
  return (
    <Rows title="The next head without any touch">
      <Row label="Every pilot enters" why={why}>{whole === null ? beingWorkedOut : showChance(whole.head_enter_probability ?? null)}</Row>
      <Row label="The worst guide alone" why={why}>{showChance(blind.least_enter_probability)}</Row>
      <Row label="Safe (99.9 %) with play at the posts of" why={why}>{size(whole?.post_clearance_for_target_mm)}</Row>
      <Row label="or with guide mouths of" why={why}>{size(whole?.mouth_for_target_mm)}</Row>
    </Rows>
  );
}

const beingWorkedOut = 'being worked out';
const whatever = (mm: number | null | undefined, unit: 'in' | 'mm') => (mm == null ? 'this size does not exist' : showLength(mm, unit));
