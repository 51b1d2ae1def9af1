// One step of the survey: its sentence, the fields it asks for, the keypad.

import { signal } from '@preact/signals';
import { useMemo, useRef } from 'preact/hooks';
import type { Survey, SurveyKind, SurveyStep } from '../api/types';
import { draftOf } from '../entry/draft';
import { takenWords } from '../entry/taken';
import { parseQuantity, type Typed } from '../numbers/parse';
import type { LengthUnit, Quantity } from '../numbers/quantity';
import { written } from '../numbers/written';
import { Field } from '../parts/field';
import { Keypad } from '../parts/keypad';
import { plain } from '../parts/plain';
import { LiveReading } from '../parts/live_reading';
import { EndQuestion, LeanQuestion, WayQuestion } from './survey_lean';
import { putOff, record, shown, steps, survey, waiting } from './survey_state';

interface Asked { key: string; label: string; quantity: Quantity; optional?: boolean }
const asked: Record<string, Omit<Asked, 'key'>> = {
  x: { label: 'X', quantity: 'length' }, y: { label: 'Y', quantity: 'length' }, z: { label: 'Z', quantity: 'length' },
  ball: { label: 'Ball, radius', quantity: 'length' }, diameter: { label: 'Hole, diameter', quantity: 'length' },
  head_height: { label: 'Head over its gauge plane', quantity: 'length' },
  first: { label: 'Sensor', quantity: 'angle' }, second: { label: 'Turned half a turn', quantity: 'angle' },
  tilt: { label: 'Tilt', quantity: 'angle' }, swing: { label: 'Swing', quantity: 'angle', optional: true },
  value: { label: 'Size', quantity: 'length' },
};

export function StepEntry(props: { step: SurveyStep; survey: Survey }) {
  const { step, survey: here } = props;
  if (step.of === 'guide level' && leanOf(here) === undefined) return <LeanQuestion />;
  if (step.of === 'way') return <WayQuestion step={step} />;
  if (step.of === 'end') return <EndQuestion step={step} />;
  if (step.of === 'guide' && crooked.value?.key === step.key) {
    const { across } = crooked.value;
    return across ? <WayQuestion step={wayOf(step, across)} done={() => { crooked.value = null; }} /> : <CrookedQuestion step={step} />;
  }
  return <Reading step={step} survey={here} />;
}

// The guide whose pilot does not stand plumb where its readings say it would: a sign of its row was missed. Only eyes see it
// where another row leans as the wrong sign says.
const crooked = signal<{ key: string; across?: 'incline' | 'cant' } | null>(null);

function wayOf(step: SurveyStep, across: 'incline' | 'cant'): SurveyStep {
  const letters = lettersOf(step.id);
  const why = `The pilot in ${step.id} does not stand plumb here.`;
  return across === 'incline'
    ? { ...step, key: `way/${letters}`, of: 'way', id: letters, across, why, sentence: `Which way do the guides ${letters} lean? Look along the head from the right end of the table, deck up.` }
    : { ...step, key: `way/${step.id}/cant`, of: 'way', across, why, sentence: `Which way does the guide ${step.id} lean? Look at the head from the front of the table, deck up.` };
}

function CrookedQuestion(props: { step: SurveyStep }) {
  const { step } = props;
  const ask = (across: 'incline' | 'cant') => { crooked.value = { key: step.key, across }; };
  return (
    <section class="entry" aria-label="Next reading">
      <p class="next-step" data-next data-step={step.key}>How does the pilot in {step.id} stand off the spindle?</p>
      <p class="quiet">If it stands in another guide, go back and put it into {step.id}.</p>
      <div class="acts">
        <button type="button" class="main-act" onClick={() => ask('incline')}>to the front or the back</button>
        <button type="button" class="main-act" onClick={() => ask('cant')}>to the left or the right</button>
        <button type="button" onClick={() => { crooked.value = null; }}>It stands plumb</button>
      </div>
    </section>
  );
}

const leanOf = (survey: Survey): unknown =>
  waiting.value.filter((w) => w.body['kind'] === 'head').map((w) => (w.body['values'] as Record<string, unknown>)['lean_of']).find((v) => v !== undefined) ?? survey.head['lean_of'];

function Reading(props: { step: SurveyStep; survey: Survey }) {
  const { step, survey: here } = props;
  const unit = shown.value;
  const box = useRef<HTMLElement>(null);
  const fields: Asked[] = step.fields.flatMap((key) => { const of = asked[key]; return of ? [{ key, ...of, ...(step.of === 'deck' && key === 'ball' ? { optional: true } : {}) }] : []; });
  const texts = useMemo(() => fields.map((f) => {
    const text = draftOf('survey', here.id, step.key, f.key);
    if (text.peek() === '') text.value = asBefore(here, step, f.key);
    return text;
  }), [step.key]);
  const store = () => {
    const values: Record<string, unknown> = {};
    for (const [i, f] of fields.entries()) {
      const text = texts[i]?.value.trim() ?? '';
      if (text === '' && f.optional) continue;
      const got = parseQuantity(text, f.quantity, unit);
      if (!got.ok) {
        box.current?.querySelectorAll<HTMLInputElement>('.field input')[i]?.focus();
        return;
      }
      values[f.key] = asTyped(got, f.quantity, here.units);
    }
    const from = takenWords(texts);
    for (const text of texts) text.value = '';
    void record({ kind: kindOf(step), values: { ...about(step), ...values, ...(from === '' ? {} : { from }) } }, step.key);
  };
  const like = step.of === 'guide level' ? othersLike(here, step) : [];
  return (
    <section class="entry" aria-label="Next reading" ref={box}>
      <p class="next-step" data-next data-step={step.key}>{plain(step.sentence)}</p>
      <p class="quiet">{plain(step.why)}</p>
      <div class="pair">
        {fields.map((f, i) => (
          <Field key={f.key} label={f.label} text={texts[i] ?? draftOf('none')} quantity={f.quantity} unit={unit} awaits={i === 0}
                 {...(f.optional ? { optional: true } : {})} {...(i === fields.length - 1 ? { onEnter: store } : {})} />
        ))}
      </div>
      <LiveReading anyMachine entry={`survey-${step.of.replace(' ', '-')}`} unit={unit} fields={fields.filter((f) => !same.includes(f.key)).map((f) => ({ ...f, text: texts[fields.indexOf(f)] ?? draftOf('none') }))}
                   onTaken={([key]) => box.current?.querySelectorAll<HTMLInputElement>('.field input')[fields.findIndex((f) => f.key === key)]?.focus()} />
      <Keypad enter="next" quantity={fields[0]?.quantity ?? 'length'} />
      <p class="acts">
        <button type="button" data-ends onClick={store}>Store it</button>
        {like.length > 0 && <button type="button" onClick={() => like.forEach(leaveOut)}>The other {lettersOf(step.id)} stand like it</button>}
        {step.of === 'guide' && <button type="button" onClick={() => { crooked.value = { key: step.key }; }}>The pilot does not stand plumb</button>}
        <button type="button" onClick={() => putOff(step)}>Not now</button>
        {step.of !== 'setup' && <button type="button" onClick={() => leaveOut(step)}>Leave it out</button>}
      </p>
    </section>
  );
}

const leaveOut = (step: SurveyStep) => void record({ kind: 'left out', values: { key: step.key } }, step.key);
export const lettersOf = (id: string | null) => (id ?? '').replace(/^\d+/, '');

// The levels still asked for of guides like one that was read.
function othersLike(survey: Survey, step: SurveyStep): SurveyStep[] {
  const letters = lettersOf(step.id);
  const read = [...survey.entries.filter((e) => e.live && e.kind === 'level').map((e) => e.values), ...waiting.value.filter((w) => w.body['kind'] === 'level').map((w) => w.body['values'] as Record<string, unknown>)];
  const both = (across: string) => read.some((v) => v['what'] === 'guide' && v['across'] === across && lettersOf(String(v['id'])) === letters && v['id'] !== step.id);
  if (!both('incline') || !both('cant')) return [];
  return steps.value.filter((s) => s.of === 'guide level' && lettersOf(s.id) === letters);
}

function kindOf(step: SurveyStep): SurveyKind {
  if (step.of === 'setup') return 'setup';
  if (step.of === 'size') return 'size';
  return step.of === 'deck level' || step.of === 'guide level' ? 'level' : 'point';
}

// The keys of the reading that are not typed.
function about(step: SurveyStep): Record<string, unknown> {
  if (step.of === 'setup') return { setup: step.setup, ...(step.id !== null ? { id: step.id } : {}) }; // its pilot stood plumb
  if (step.of === 'size') return { what: step.size, id: step.id };
  const what = step.of === 'deck level' ? 'deck' : step.of === 'guide level' ? 'guide' : step.of;
  return { setup: step.setup, what, ...(step.id !== null && what !== 'deck' ? { id: step.id } : {}), ...(step.across ? { across: step.across } : {}) };
}

// A bare figure where it is in the survey's unit, else with the unit it was typed in.
function asTyped(got: Typed, quantity: Quantity, unit: LengthUnit): unknown {
  if (quantity === 'angle') return Number(got.value.toPrecision(12));
  return got.unit === unit ? got.number : written(got, quantity);
}

const same = ['ball', 'diameter', 'head_height'];
export const isBegun = (step: SurveyStep) => step.fields.some((f) => !same.includes(f) && draftOf('survey', survey.peek()?.id ?? 0, step.key, f).peek().trim() !== '');

// Ball, hole and valve head are the same from reading to reading.
function asBefore(survey: Survey, step: SurveyStep, key: string): string {
  if (!same.includes(key)) return '';
  const all = [...survey.entries.filter((e) => e.live && e.kind === 'point').map((e) => e.values), ...waiting.value.filter((w) => w.body['kind'] === 'point').map((w) => w.body['values'] as Record<string, unknown>)];
  const alike = all.filter((v) => v['what'] === step.of && v[key] !== undefined && (key !== 'head_height' || lettersOf(String(v['id']))[0] === lettersOf(step.id)[0]));
  const last = alike.at(-1)?.[key];
  return last === undefined ? '' : typeof last === 'number' && survey.units !== shown.peek() ? `${last} ${survey.units}` : String(last);
}
