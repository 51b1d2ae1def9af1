// The mark of a stage or a verdict: an outline and a word, so that it is never a colour alone.

import type { Mark, VerdictWord } from '../api/types';

type Outline = 'ring' | 'half' | 'flag' | 'tick' | 'cross' | 'wave';

const outlines: Record<Outline, preact.JSX.Element> = {
  ring: <circle cx="10" cy="10" r="7" class="mark-line" stroke-dasharray="3 2.5" />,
  half: (
    <>
      <circle cx="10" cy="10" r="7" class="mark-line" />
      <path d="M10 3 A7 7 0 0 1 10 17 Z" class="mark-fill" />
    </>
  ),
  flag: <path d="M10 2 L18.5 17.5 L1.5 17.5 Z M10 8 L10 12.5 M10 14.4 L10 15.6" class="mark-line" />,
  tick: (
    <>
      <rect x="2.5" y="2.5" width="15" height="15" class="mark-line" />
      <path d="M5.5 10.5 L9 14 L15 6" class="mark-line" />
    </>
  ),
  cross: <path d="M6 2.5 L14 2.5 L17.5 6 L17.5 14 L14 17.5 L6 17.5 L2.5 14 L2.5 6 Z M6.5 6.5 L13.5 13.5 M13.5 6.5 L6.5 13.5" class="mark-line" />,
  wave: <path d="M2 8 Q6 3 10 8 T18 8 M2 14 Q6 9 10 14 T18 14" class="mark-line" />,
};

const ofMark: Record<Mark, { outline: Outline; attention: boolean }> = {
  open: { outline: 'ring', attention: false },
  ready: { outline: 'half', attention: false },
  'needs you': { outline: 'flag', attention: true },
  done: { outline: 'tick', attention: false },
};
const ofVerdict: Record<VerdictWord, { outline: Outline; attention: boolean }> = {
  pass: { outline: 'tick', attention: false },
  fail: { outline: 'cross', attention: true },
  undecided: { outline: 'wave', attention: true },
  'not measured': { outline: 'ring', attention: false },
};

function Drawn(props: { outline: Outline; attention: boolean; word: string; quiet?: boolean }) {
  return (
    <span class={`mark${props.attention ? ' mark-attention' : ''}`}>
      <svg viewBox="0 0 20 20" aria-hidden="true">{outlines[props.outline]}</svg>
      <span class={props.quiet ? 'unseen' : undefined}>{props.word}</span>
    </span>
  );
}

export const StageMark = (props: { mark: Mark; quiet?: boolean }) => (
  <Drawn {...ofMark[props.mark]} word={props.mark} quiet={props.quiet ?? false} />
);
export const VerdictMark = (props: { verdict: VerdictWord }) => <Drawn {...ofVerdict[props.verdict]} word={props.verdict} />;
