// What the readings come to: every figure with its uncertainty, what repeats, what was taken for granted.

import type { ComponentChildren } from 'preact';
import type { Survey } from '../api/types';
import { inWords, showNumber } from '../numbers/show';
import { plain } from '../parts/plain';
import { mayRecord } from '../state/may';
import { record, shown, waiting } from './survey_state';

export function SurveyFigures(props: { survey: Survey }) {
  const { found } = props.survey, units = shown.value;
  if (!found) return <p class="quiet">Nothing yet.</p>;
  const figure = (v: number | null, u: number | null, quantity: 'length' | 'angle'): ComponentChildren =>
    v === null ? <span class="quiet">open</span> : <>{showNumber(v, quantity, units)} <span class="quiet">± {showNumber(2 * (u ?? 0), quantity, units)}</span></>;
  return (
    <>
      <div class="wide">
        <table>
          <caption>Seats’ centres in {inWords(units)}, leans in degrees; ± is twice the standard uncertainty</caption>
          <thead><tr><th scope="col">Valve</th><th scope="col">X</th><th scope="col">Y</th><th scope="col">Z</th><th scope="col">Incline</th><th scope="col">Cant</th></tr></thead>
          <tbody>
            {found.valves.map((v) => (
              <tr key={v.id}>
                <th scope="row">{v.id}</th>
                <td>{figure(v.x_mm, v.u_x_mm, 'length')}</td><td>{figure(v.y_mm, v.u_y_mm, 'length')}</td><td>{figure(v.z_mm, v.u_z_mm, 'length')}</td>
                <td>{figure(v.incline_deg, v.u_incline_deg, 'angle')}</td><td>{figure(v.cant_deg, v.u_cant_deg, 'angle')}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {found.repeats.length > 0 && <><h3>What repeats</h3><p>Heads are made to a pattern, and the readings show it where something repeats. <i>Take it over</i> puts the common figure into the job, also for guides nobody read; <i>Leave it as read</i> keeps each guide’s own.</p><ul class="entries">{found.repeats.map((r) => <Repeats key={r.what} survey={props.survey} of={r} />)}</ul></>}
      {(found.assumptions ?? []).length > 0 && <><h3>Taken for granted</h3><ul>{(found.assumptions ?? []).map((a) => <li key={a}>{plain(a)}</li>)}</ul></>}
    </>
  );
}

type RepeatFound = NonNullable<Survey['found']>['repeats'][number];

// A tap takes over what repeats: in the job the figures are then those of the casting, also of guides nobody read.
function Repeats(props: { survey: Survey; of: RepeatFound }) {
  const { of, survey } = props;
  const all = acceptedOf(survey);
  const taken = all.includes(of.what);
  const chance = (of.chance ?? 1) < 0.001 ? 'less than once in a thousand' : `${(100 * (of.chance ?? 1)).toFixed(1)} %`;
  const say = (accepted: string[]) => void record({ kind: 'head', values: { accepted } }, `accepted/${of.what}`);
  return (
    <li>
      <span>{plain(of.text)} That it is chance: {chance}.</span>
      {taken && <b>taken over into the job</b>}
      {hasFigures(of.what) && mayRecord() && (taken
        ? <button type="button" aria-label={`Leave as read: ${of.what}`} onClick={() => say(all.filter((w) => w !== of.what))}>Leave it as read</button>
        : <button type="button" aria-label={`Take over: ${of.what}`} onClick={() => say([...all, of.what])}>Take it over</button>)}
    </li>
  );
}

const hasFigures = (what: string) => what === 'bore spacing' || /^(like valves|row of guides) /.test(what);

// What waits to be stored was said last.
function acceptedOf(survey: Survey): string[] {
  const waits = waiting.value.map((w) => w.body['values'] as Record<string, unknown> | undefined).filter((v) => v?.['accepted'] !== undefined).at(-1);
  const said = waits?.['accepted'] ?? survey.head['accepted'];
  return Array.isArray(said) ? said.map(String) : [];
}
