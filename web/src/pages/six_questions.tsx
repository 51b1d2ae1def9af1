// A new head in six questions; the drawing grows as they are answered.

import { batch, useComputed, useSignal, type Signal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { post, sentenceOf } from '../api/client';
import type { Fault, Kind } from '../api/types';
import { draftOf } from '../entry/draft';
import type { LengthUnit } from '../numbers/quantity';
import { Ink } from '../parts/drawing';
import { Field } from '../parts/field';
import { labelled, plain } from '../parts/plain';
import { kindIn, kinds, perKind } from '../state/keys';
import { answersFrom, type Draft, type Layout } from './answers';
import type { Begin } from './from_file';
import { cannotBe, cannotCount, cannotLean, isSaidRight, isUnusual, notUsual, saidRight, sayRight, type Sized, type Sure } from './six_ranges';

// What is answered stays over a look elsewhere and a reload, until the job is made.
function answered<T extends string>(question: string, otherwise: T): Signal<T> {
  const said = draftOf('six questions', question) as Signal<T>;
  if (said.peek() === '') said.value = otherwise;
  return said;
}

function newDraft(): Draft {
  const pair = (of: string, otherwise = '') => perKind((k) => answered(`${of} ${k}`, otherwise));
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
      for (const text of 'peek' in one ? [one] : kinds.map((k) => one[k])) text.value = '';
  });
}

interface Preview { text: string; svg: string | null; faults: Fault[] }

export function SixQuestions(props: { begin: Begin }) {
  const draft = useMemo(newDraft, []);
  const preview = useSignal<Preview | null>(null);
  const trouble = useSignal<string | null>(null);
  const sure = useSignal<Sure>({});
  const answers = useComputed(() => {
    const given = answersFrom(draft);
    const right = saidRight(sizes(draft), sure.value, given.units).filter(({ key }) => { const k = kindIn(key); return !k || given.sizes?.[k]; });
    return right.length > 0 ? { ...given, sure: right } : given;
  });
  useEffect(() => answers.subscribe((now) => {
    if (!now.cylinders || cannotBe(spacing(draft), now.units) !== null) return;
    void post<Preview>(`/preview?units=${now.units}`, now)
      .then((got) => {
        if (answers.peek() !== now) return; // an older drawing than the answers
        preview.value = got;
        trouble.value = null;
      })
      .catch((fault: unknown) => { trouble.value = sentenceOf(fault); });
  }), []);
  const unit = draft.units.value;
  const complete = kinds.every((k) => answers.value.sizes?.[k]?.head_diameter)
    && answers.value.cylinders && cannotBe(spacing(draft), unit) === null;
  const asked = sizes(draft).filter((s) => isUnusual(s, unit) && !isSaidRight(s, sure.value, unit));
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
        <Questions draft={draft} unit={unit} sure={sure} />
        {trouble.value && <p class="sentence" role="alert">{plain(labelled(trouble.value))}</p>}
        {complete && preview.value?.faults.map((f) => <p class="sentence" key={f.key + f.text}>{f.text}</p>)}
        <div class="acts">
          <button type="button" class="main-act" disabled={!complete || asked.length > 0} onClick={() => void props.begin({ from: 'answers', answers: answers.value }).then((made) => { if (made) forget(draft); })}>
            Put it on the bench
          </button>
          {!complete && <span class="quiet">Cylinders, spacing and head diameters are needed; the rest may stay open.</span>}
          {complete && asked.length > 0 && <span class="quiet">Still asked about: {asked.map((a) => a.label).join(', ')}.</span>}
        </div>
      </section>
    </div>
  );
}

// What is answered as a size.
const spacing = (draft: Draft): Sized => ({ label: 'From one cylinder to the next', text: draft.spacing, key: 'head.pattern.bore_spacing' });
const ofKind = (draft: Draft, k: Kind) => ({
  head: { label: `${k} valve head diameter`, text: draft.headDiameter[k], key: `valve.${k}.head_diameter` },
  stem: { label: `${k} stem diameter`, text: draft.stem[k], key: `valve.${k}.stem_diameter`, optional: true },
  width: { label: `${k} seat width`, text: draft.seatWidth[k], key: `seat.${k}.width`, optional: true },
});
const sizes = (draft: Draft): Sized[] => [spacing(draft), ...kinds.flatMap((k) => Object.values(ofKind(draft, k)))];

function Questions(props: { draft: Draft; unit: LengthUnit; sure: Signal<Sure> }) {
  const { draft, unit, sure } = props;
  // A figure that cannot be, or is none of the trade's, is asked about beside its field, at once and when the unit is another.
  const size = (of: Sized) => (
    <Field key={`${of.label} ${unit}`} label={of.label} text={of.text} quantity="length" unit={unit} follows optional={of.optional ?? false}
           check={(v) => cannotBe(of, unit) ?? (isSaidRight(of, sure.value, unit) ? null : notUsual(of, v, unit))}
           {...(cannotBe(of, unit) === null ? { yes: (said: string) => { sure.value = { ...sure.value, ...sayRight(of, said, unit) }; } } : {})} />
  );
  return (
    <ol class="questions">
      <li>
        <h3>1. How many cylinders does the head have?</h3>
        <Field label="Cylinders" text={draft.cylinders} quantity="plain" unit={unit} check={cannotCount('head.pattern.cylinders')} />
      </li>
      <li>
        <h3>2. How far apart are they?</h3>
        {size(spacing(draft))}
      </li>
      <li>
        <h3>3. How many valves does a cylinder have?</h3>
        <div class="pair two-kinds">{kinds.map((k) => <Field key={k} label={`${k} valves`} text={draft.valves[k]} quantity="plain" unit={unit} check={upToFour} />)}</div>
      </li>
      <li>
        <h3>4. In what order do they stand?</h3>
        <Choose legend="Standing" of={draft.layout} options={['in line', 'two rows']} words={['in one row', 'in two rows']} />
        <Choose legend={draft.layout.value === 'in line' ? 'First in a cylinder' : 'At the back'} of={draft.first} options={kinds} words={kinds} />
        <Choose legend="Neighbouring cylinders" of={draft.alternate} options={['same', 'mirrored']} words={['alike', 'mirrored']} />
      </li>
      <li>
        <h3>5. At what angles do the guides stand?</h3>
        <div class="pair two-kinds">
          {kinds.map((k) => <Field key={k} label={`${k} incline`} text={draft.incline[k]} quantity="angle" unit={unit} optional check={cannotLean('head.pattern.valve[0].incline')} />)}
          {kinds.map((k) => <Field key={k} label={`${k} cant`} text={draft.cant[k]} quantity="angle" unit={unit} optional check={cannotLean('head.pattern.valve[0].cant')} />)}
        </div>
      </li>
      <li>
        <h3>6. How large are the valves and seats?</h3>
        <div class="pair two-kinds">
          {kinds.map((k) => size(ofKind(draft, k).head))}
          {kinds.map((k) => size(ofKind(draft, k).stem))}
          {kinds.map((k) => <Field key={k} label={`${k} seat angle`} text={draft.seatAngle[k]} quantity="angle" unit={unit} optional note="45° if open" check={cannotLean(`seat.${k}.angle`)} />)}
          {kinds.map((k) => size(ofKind(draft, k).width))}
        </div>
      </li>
    </ol>
  );
}

function Choose<T extends string>(props: { legend: string; of: Signal<T>; options: readonly T[]; words: readonly string[] }) {
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

const most = 4; // valves of a kind in a cylinder
const upToFour = (v: number) => (Number.isInteger(v) && v >= 1 && v <= most ? null : `A whole number from 1 to ${most}.`);
