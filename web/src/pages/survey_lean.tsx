// Which lean is read, and which way it goes: asked with pictures, for a sign is common to a whole row and no figure
// contradicts it.

import type { SurveyStep } from '../api/types';
import { putOff, record } from './survey_state';

// A head seen along its row from the right end of the table, deck up; the guide leans back (to +Y), and what is told of it
// is drawn heavy. `ends`: what lies at the left and right of the picture.
function Picture(props: { part: 'chamber' | 'stem' | 'whole'; lean: number; ends?: [string, string] }) {
  const { part, lean, ends = ['front', 'back'] } = props;
  const at = (along: number) => `${(90 + along * Math.sin(lean)).toFixed(1)} ${(72 - along * Math.cos(lean)).toFixed(1)}`;
  return (
    <svg viewBox="20 4 140 128" class="lean-picture" aria-hidden="true">
      <path d="M25 60 H155 V104 H25 Z" class="map-outline" />
      <path d={`M${at(-50)} L${at(60)}`} class="lean-axis" />
      {part !== 'stem' && <path d={`M${at(12)} L${at(60)}`} class="lean-told" />}
      {part === 'stem' && <path d={`M${at(-50)} L${at(-12)}`} class="lean-told" />}
      <text x="28" y="55" font-size="16">deck</text>
      <text x="28" y="124" font-size="16">{ends[0]}</text>
      <text x="152" y="124" font-size="16" text-anchor="end">{ends[1]}</text>
    </svg>
  );
}

const tilted = 0.42;

export function LeanQuestion() {
  const say = (lean_of: 'chamber' | 'stem') => void record({ kind: 'head', values: { lean_of } }, 'head/lean');
  return (
    <section class="entry" aria-label="Next reading">
      <p class="next-step" data-next data-step="lean">Whose lean will you type: the pilot’s above the deck, or the stem’s below it?</p>
      <p class="quiet">Seen along the head from the right end of the table, deck up. A lean towards the back is positive; the stem’s goes the other way.</p>
      <div class="pair two-kinds">
        <button type="button" class="lean-choice" onClick={() => say('chamber')}><Picture part="chamber" lean={tilted} />the pilot, on the chamber side</button>
        <button type="button" class="lean-choice" onClick={() => say('stem')}><Picture part="stem" lean={tilted} />the stem, on the other side</button>
      </div>
    </section>
  );
}

export function WayQuestion(props: { step: SurveyStep; done?: () => void }) {
  const { step } = props;
  const along = step.across === 'cant'; // of one guide, seen from the front of the table
  const say = (way: 'back' | 'front' | 'right' | 'left') => {
    void record({ kind: 'way', values: { [along ? 'id' : 'letters']: step.id, way } }, step.key);
    props.done?.();
  };
  return (
    <section class="entry" aria-label="Next reading">
      <p class="next-step" data-next data-step={step.key}>{step.sentence}</p>
      <p class="quiet">{step.why}</p>
      <div class="pair two-kinds">
        {along ? (
          <>
            <button type="button" class="lean-choice" onClick={() => say('left')}><Picture part="whole" lean={-tilted} ends={['left', 'right']} />out of the deck to the left</button>
            <button type="button" class="lean-choice" onClick={() => say('right')}><Picture part="whole" lean={tilted} ends={['left', 'right']} />out of the deck to the right</button>
          </>
        ) : (
          <>
            <button type="button" class="lean-choice" onClick={() => say('front')}><Picture part="whole" lean={-tilted} />out of the deck to the front</button>
            <button type="button" class="lean-choice" onClick={() => say('back')}><Picture part="whole" lean={tilted} />out of the deck to the back</button>
          </>
        )}
      </div>
      <p class="acts"><button type="button" onClick={() => (props.done ? props.done() : putOff(step))}>Not now</button></p>
    </section>
  );
}

// The table from above: the head with its cylinders, the readout's X as an arrow that grows towards the first.
function Lying(props: { first: 'left' | 'right' }) {
  const right = props.first === 'right';
  const centres = [45, 75, 105, 135];
  return (
    <svg viewBox="20 4 140 128" class="lean-picture" aria-hidden="true">
      <path d="M25 36 H155 V84 H25 Z" class="map-outline" />
      {centres.map((x, i) => <g key={x}><circle cx={x} cy={60} r={11} class="map-hole" /><text x={x} y={66} font-size="16" text-anchor="middle" class={i === (right ? 3 : 0) ? 'map-id' : ''}>{right ? 4 - i : i + 1}</text></g>)}
      <path d={right ? 'M40 108 H140 M130 102 L140 108 L130 114' : 'M140 108 H40 M50 102 L40 108 L50 114'} class="lean-told" fill="none" />
      <text x="90" y="102" font-size="16" text-anchor="middle">X grows</text>
      <text x="90" y="128" font-size="16" text-anchor="middle">you</text>
    </svg>
  );
}

export function EndQuestion(props: { step: SurveyStep }) {
  const { step } = props;
  const say = (end: 'turned' | 'readout') => void record({ kind: 'head', values: { end } }, step.key);
  return (
    <section class="entry" aria-label="Next reading">
      <p class="next-step" data-next data-step={step.key}>{step.sentence}</p>
      <p class="quiet">{step.why}</p>
      <div class="pair two-kinds">
        <button type="button" class="lean-choice" onClick={() => say('turned')}><Lying first="right" />at the right: the head lies turned end for end</button>
        <button type="button" class="lean-choice" onClick={() => say('readout')}><Lying first="left" />at the left: the readout counts to the left</button>
      </div>
      <p class="acts"><button type="button" onClick={() => putOff(step)}>Not now</button></p>
    </section>
  );
}
