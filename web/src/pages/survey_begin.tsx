// A survey is begun: what the head is called and how many valves it has; or one under way is gone on with.

import { signal, useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { get, post, sentenceOf } from '../api/client';
import type { Kind, Survey, SurveyRow } from '../api/types';
import { newKey } from '../entry/waiting';
import { parseQuantity } from '../numbers/parse';
import type { LengthUnit } from '../numbers/quantity';
import { Field } from '../parts/field';
import { when } from '../parts/when';
import { kinds, perKind } from '../state/keys';
import { go } from '../state/route';
import { units } from '../state/settings';

const whole = (most: number) => (v: number) => (Number.isInteger(v) && v >= 1 && v <= most ? null : `A whole number from 1 to ${most}.`);

export function SurveyBegin() {
  const draft = useMemo(() => ({ key: newKey(), title: signal(''), units: signal<LengthUnit>(units.peek() === 'in' ? 'in' : 'mm'), cylinders: signal(''), ...perKind(() => signal('1')) }), []);
  const rows = useSignal<SurveyRow[]>([]);
  const trouble = useSignal<string | null>(null);
  useEffect(() => { get<{ surveys: SurveyRow[] }>('/surveys').then((a) => { rows.value = a.surveys; }).catch((fault: unknown) => { trouble.value = sentenceOf(fault); }); }, []);
  const unit = draft.units.value;
  const count = (of: 'cylinders' | Kind) => {
    const got = parseQuantity(draft[of].value, 'plain', unit);
    return got.ok ? got.value : undefined;
  };
  const ready = draft.title.value.trim() !== '' && count('cylinders') !== undefined;
  const begin = async () => {
    try {
      const values = { cylinders: count('cylinders'), ...perKind((k) => count(k) ?? 1) };
      const made = await post<Survey>('/surveys', { client_key: draft.key, title: draft.title.value.trim(), units: unit, values });
      go(`#/survey/${made.id}`);
    } catch (fault) {
      trouble.value = sentenceOf(fault);
    }
  };
  return (
    <section aria-label="Readings at the machine">
      <p>A head nobody has a drawing of: you are led along with pilot, angle sensor, ball and calipers, and its drawing grows with what you type.</p>
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      <div class="form">
        <div>
          <label for="survey-title">What is the head called?</label>
          <input id="survey-title" value={draft.title.value} onInput={(e) => { draft.title.value = e.currentTarget.value; }} autocomplete="off" />
        </div>
        <fieldset class="choice">
          <legend>The readout shows</legend>
          {(['mm', 'in'] as const).map((u) => <label key={u}><input type="radio" name="survey-unit" checked={unit === u} onChange={() => { draft.units.value = u; }} />{u === 'in' ? 'inch' : 'mm'}</label>)}
        </fieldset>
        <Field label="Cylinders" text={draft.cylinders} quantity="plain" unit={unit} check={whole(32)} />
        <div class="pair two-kinds">
          {kinds.map((k) => <Field key={k} label={`${k} valves a cylinder`} text={draft[k]} quantity="plain" unit={unit} check={whole(3)} />)}
        </div>
      </div>
      <p class="acts"><button type="button" class="main-act" disabled={!ready} onClick={() => void begin()}>Begin the survey</button></p>
      {rows.value.length > 0 && <h2>Under way</h2>}
      <ul class="entries">
        {rows.value.map((r) => (
          <li key={r.id}>
            <span><b>{r.title}</b>, {r.sequence - 1} readings, {r.changed_by} {when(r.changed_at)}{r.job === null ? '' : ', its job is made'}</span>
            <a class="button" href={`#/survey/${r.id}`}>Go on with it</a>
          </li>
        ))}
      </ul>
    </section>
  );
}
