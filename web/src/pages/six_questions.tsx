// A new head in six questions; the drawing grows as they are answered.

import { batch, useComputed, useSignal, type Signal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { post, sentenceOf } from '../api/client';
import type { Fault, Kind } from '../api/types';
import { draftOf } from '../entry/draft';
import { mmIn, type LengthUnit } from '../numbers/quantity';
import { showLength } from '../numbers/show';
import { Ink } from '../parts/drawing';
import { Field } from '../parts/field';
import { plain } from '../parts/plain';
import { answersFrom, type Draft, type Layout } from './answers';
import type { Begin } from './from_file';

const kinds: Kind[] = ['intake', 'exhaust'];

// What is answered stays over a look elsewhere and a reload, until the job is made.
function answered<T extends string>(question: string, otherwise: T): Signal<T> {
  const said = draftOf('six questions', question) as Signal<T>;
  if (said.peek() === '') said.value = otherwise;
  return said;
}

function newDraft(): Draft {
  const pair = (of: string, otherwise = '') => ({ intake: answered(`${of} intake`, otherwise), exhaust: answered(`${of} exhaust`, otherwise) });
  return {
    title: answered('title', ''), units: answered<LengthUnit>('units', 'in'), cylinders: answered('cylinders', ''), spacing: answered('spacing', ''),
    valves: pair('valves', '1'), layout: answered<Layout>('layout', 'in line'), first: answered<Kind>('first', 'intake'),
    alternate: answered('alternate', 'same'), incline: pair('incline'), cant: pair('cant'), headDiameter: pair('head diameter'), stem: pair('stem'), seatAngle: pair('seat angle'), seatWidth: pair('seat width'),
  };
}

// All at once: half of it forgotten is no question to the server.
function forget(draft: Draft): void {
  batch(() => {
    for (const one of Object.values(draft) as (Signal<string> | Record<Kind, Signal<string>>)[])
      for (const text of 'intake' in one ? [one.intake, one.exhaust] : [one]) text.value = '';
  });
}

interface Preview { text: string; svg: string | null; faults: Fault[] }

export function SixQuestions(props: { begin: Begin }) {
  const draft = useMemo(newDraft, []);
  const preview = useSignal<Preview | null>(null);
  const trouble = useSignal<string | null>(null);
  const answers = useComputed(() => answersFrom(draft));
  useEffect(() => answers.subscribe((now) => {
    if (!now.cylinders || !isSpacing(now.bore_spacing, now.units)) return;
    void post<Preview>(`/preview?units=${now.units}`, now)
      .then((got) => {
        if (answers.peek() !== now) return; // an older drawing than the answers
        preview.value = got;
        trouble.value = null;
      })
      .catch((fault: unknown) => { trouble.value = sentenceOf(fault); });
  }), []);
  const unit = draft.units.value;
  const complete = answers.value.sizes?.intake?.head_diameter && answers.value.sizes.exhaust?.head_diameter
    && answers.value.cylinders && isSpacing(answers.value.bore_spacing, unit);
  return (
    <div class="two stays grows">
      <figure class="sheet-frame">
        {preview.value?.svg
          ? <Ink svg={preview.value.svg} />
          : <div class="ink ink-none">The head appears here as you answer.</div>}
        <figcaption>{draft.title.value || 'a new head'}</figcaption>
      </figure>
      <section aria-label="Six questions">
        <div class="form">
          <div>
            <label for="job-title">What shall the job be called?</label>
            <input id="job-title" value={draft.title.value} onInput={(e) => { draft.title.value = e.currentTarget.value; }} autocomplete="off" />
          </div>
          <Choose legend="Its drawing is in" of={draft.units} options={['in', 'mm']} words={['inch', 'mm']} />
        </div>
        <Questions draft={draft} unit={unit} />
        {trouble.value && <p class="sentence" role="alert">{plain(trouble.value)}</p>}
        {complete && preview.value?.faults.map((f) => <p class="sentence" key={f.key + f.text}>{f.text}</p>)}
        <div class="acts">
          <button type="button" class="main-act" disabled={!complete} onClick={() => void props.begin({ from: 'answers', answers: answers.value }).then((made) => { if (made) forget(draft); })}>
            Put it on the bench
          </button>
          {!complete && <span class="quiet">Cylinders, spacing and head diameters are needed; the rest may stay open.</span>}
        </div>
      </section>
    </div>
  );
}

function Questions(props: { draft: Draft; unit: LengthUnit }) {
  const { draft, unit } = props;
  return (
    <ol class="questions">
      <li>
        <h3>1. How many cylinders does the head have?</h3>
        <Field label="Cylinders" text={draft.cylinders} quantity="plain" unit={unit} check={wholeTo(16)} />
      </li>
      <li>
        <h3>2. How far apart are they?</h3>
        <Field label="From one cylinder to the next" text={draft.spacing} quantity="length" unit={unit} check={within(...spacings, unit)} />
      </li>
      <li>
        <h3>3. How many valves does a cylinder have?</h3>
        <div class="pair two-kinds">{kinds.map((k) => <Field key={k} label={`${k} valves`} text={draft.valves[k]} quantity="plain" unit={unit} check={wholeTo(4)} />)}</div>
      </li>
      <li>
        <h3>4. In what order do they stand?</h3>
        <Choose legend="Standing" of={draft.layout} options={['in line', 'two rows']} words={['in one row', 'in two rows']} />
        <Choose legend={draft.layout.value === 'in line' ? 'First in a cylinder' : 'At the back'} of={draft.first} options={['intake', 'exhaust']} words={['intake', 'exhaust']} />
        <Choose legend="Neighbouring cylinders" of={draft.alternate} options={['same', 'mirrored']} words={['alike', 'mirrored']} />
      </li>
      <li>
        <h3>5. At what angles do the guides stand?</h3>
        <div class="pair two-kinds">
          {kinds.map((k) => <Field key={k} label={`${k} incline`} text={draft.incline[k]} quantity="angle" unit={unit} optional check={steep} />)}
          {kinds.map((k) => <Field key={k} label={`${k} cant`} text={draft.cant[k]} quantity="angle" unit={unit} optional check={steep} />)}
        </div>
      </li>
      <li>
        <h3>6. How large are the valves and seats?</h3>
        <div class="pair two-kinds">
          {kinds.map((k) => <Field key={k} label={`${k} valve head diameter`} text={draft.headDiameter[k]} quantity="length" unit={unit} check={within(3, 500, unit)} />)}
          {kinds.map((k) => <Field key={k} label={`${k} stem diameter`} text={draft.stem[k]} quantity="length" unit={unit} optional check={within(2, 40, unit)} />)}
          {kinds.map((k) => <Field key={k} label={`${k} seat angle`} text={draft.seatAngle[k]} quantity="angle" unit={unit} optional note="45° if open" check={steep} />)}
          {kinds.map((k) => <Field key={k} label={`${k} seat width`} text={draft.seatWidth[k]} quantity="length" unit={unit} optional check={within(0.1, 20, unit)} />)}
        </div>
      </li>
    </ol>
  );
}

function Choose<T extends string>(props: { legend: string; of: Signal<T>; options: T[]; words: string[] }) {
  return (
    <fieldset class="choice">
      <legend>{props.legend}</legend>
      {props.options.map((option, i) => (
        <label key={option}>
          <input type="radio" checked={props.of.value === option} onChange={() => { props.of.value = option; }} />
          {props.words[i]}
        </label>
      ))}
    </fieldset>
  );
}

const spacings = [20, 2000] as const; // mm, as the server takes
const isSpacing = (v: number | undefined, unit: LengthUnit) => v !== undefined && within(...spacings, unit)(v * mmIn[unit]) === null;
// A length as the server takes it, mm; what would be one in the other unit is asked about.
const within = (least: number, most: number, unit: LengthUnit) => (v: number) => {
  if (v >= least && v <= most) return null;
  const other = unit === 'in' ? 'mm' : 'in';
  const meant = unit === 'in' ? v / mmIn.in : v * mmIn.in;
  const ask = meant >= least && meant <= most ? ` If you mean ${other === 'in' ? 'inches' : 'mm'}, type the unit with it: ${Number((v / mmIn[unit]).toPrecision(6))} ${other}.` : '';
  return `It lies between ${showLength(least, unit)} and ${showLength(most, unit)}.${ask}`;
};
const steep = (v: number) => (Math.abs(v) < 80 ? null : 'An angle stays below 80°.');
const wholeTo = (most: number) => (v: number) =>
  Number.isInteger(v) && v >= 1 && v <= most ? null : `A whole number from 1 to ${most}.`;
