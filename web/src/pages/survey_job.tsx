// The survey becomes a job: what is wanted of its seats may be said at once or later.

import { useSignal } from '@preact/signals';
import { post, sentenceOf } from '../api/client';
import type { Job, Kind, Survey } from '../api/types';
import { draftOf } from '../entry/draft';
import { parseQuantity } from '../numbers/parse';
import { mmIn } from '../numbers/quantity';
import { Field } from '../parts/field';
import { kinds } from '../state/keys';
import { go, jobAddress } from '../state/route';
import { shown } from './survey_state';

export function MakeJob(props: { survey: Survey; whole: boolean }) {
  const { survey } = props, unit = shown.value;
  const trouble = useSignal<string | null>(null);
  const busy = useSignal(false);
  const text = (kind: Kind, of: 'angle' | 'width') => draftOf('survey', survey.id, 'job', kind, of);
  const read = (kind: Kind) => {
    const angle = parseQuantity(text(kind, 'angle').value, 'angle', unit);
    const width = parseQuantity(text(kind, 'width').value, 'length', unit);
    const length = (mm: number) => Number((mm / mmIn[survey.units]).toPrecision(12));
    return { ...(angle.ok ? { seat_angle: angle.value } : {}), ...(width.ok ? { seat_width: length(width.value) } : {}) };
  };
  const make = async () => {
    // What is typed and is no number is not left out without a word: its field says what is wrong.
    const wrong = kinds.flatMap((k) => [[text(k, 'angle'), 'angle'], [text(k, 'width'), 'length']] as const).some(([t, of]) => t.value.trim() !== '' && !parseQuantity(t.value, of, unit).ok);
    if (wrong) {
      trouble.value = 'A figure of the seats is no number: correct it, or empty its field.';
      return;
    }
    busy.value = true;
    trouble.value = null;
    try {
      const sizes = Object.fromEntries(kinds.map((k) => [k, read(k)]).filter(([, s]) => Object.keys(s as object).length > 0));
      const job = await post<Job>('/jobs', { from: 'survey', survey: survey.id, sizes });
      go(jobAddress(job.id, 'hold'));
    } catch (fault) {
      trouble.value = sentenceOf(fault);
    }
    busy.value = false;
  };
  return (
    <section class="entry" aria-label="Make the job">
      {props.whole
        ? <p class="next-step" data-next data-step="job">Every valve is known: put the head on the bench.</p>
        : <h3>Put it on the bench as it is</h3>}
      <div class="pair two-kinds">
        {kinds.map((k) => <Field key={`${k}a`} label={`${k} seat angle`} text={text(k, 'angle')} quantity="angle" unit={unit} optional />)}
        {kinds.map((k) => <Field key={`${k}w`} label={`${k} seat width`} text={text(k, 'width')} quantity="length" unit={unit} optional />)}
      </div>
      <p class="quiet">Angle and width of the seats may stay open until later.</p>
      {trouble.value && <p class="sentence" role="alert">{trouble.value}</p>}
      <p class="acts">
        <button type="button" class={props.whole ? 'main-act' : ''} disabled={busy.value} onClick={() => void make()}>Put it on the bench</button>
        {survey.job !== null && <a class="button" href={jobAddress(survey.job, 'hold')}>The job made before</a>}
      </p>
    </section>
  );
}
