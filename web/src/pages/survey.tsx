// A head described at the machine: the next reading as the largest sentence, the drawing growing with every figure.

import { useEffect, useRef } from 'preact/hooks';
import type { Survey, SurveyEntry, SurveyStep } from '../api/types';
import { Fold } from '../parts/fold';
import { labelled, plain } from '../parts/plain';
import { when } from '../parts/when';
import { mayRecord } from '../state/may';
import { isBegun, lettersOf, StepEntry } from './survey_entry';
import { SurveyFigures } from './survey_figures';
import { MakeJob } from './survey_job';
import { SurveyMap } from './survey_map';
import { lastSaid, openSurvey, standBy, steps, survey, surveyTrouble, takeBack, waiting, wordsOf } from './survey_state';

export function SurveyPage(props: { id: number }) {
  const standing = useRef<string | null>(null);
  useEffect(() => openSurvey(props.id), [props.id]);
  const here = survey.value;
  useEffect(() => { if (here) document.title = `${here.title}: survey`; }, [here?.title]);
  if (!here || here.id !== props.id) return <main class="page"><p role="status">{surveyTrouble.value ?? 'One moment.'}</p></main>;
  const next = held(steps.value, standing);
  const said = lastSaid();
  return (
    <main class="page">
      <header>
        <h1 class="survey-title">{here.title}</h1>
        <span class="quiet">{readCount(here)} readings</span>
        {mayRecord() && said && <span class="undo"><button type="button" onClick={() => void said.undo()}>Undo: {said.words}</button></span>}
      </header>
      <div class="stage survey">
        <div>
          <SurveyMap survey={here} next={next} />
          {here.entries.filter((e) => e.set_aside && !asksWayOf(e)).map((e) => <SetAside key={e.id} entry={e} />)}
          {here.faults.map((f) => <Faulty key={f.key + f.text} text={f.text} entry={here.entries.find((e) => e.id === f.entry)} />)}
        </div>
        <div class="beside-hero">
          {next && mayRecord() && <StepEntry key={next.key} step={next} survey={here} />}
          {next && !mayRecord() && <p class="next-step" data-next>{plain(next.sentence)}</p>}
          {here.ready && (!next || here.whole) && <MakeJob survey={here} whole={here.whole && !next} />}
          {!next && !here.ready && <p class="next-step" data-next>{here.faults.length > 0 ? 'The readings do not agree: take back the one that is wrong.' : waiting.value.length > 0 ? 'Go on when the network is back: what was read is kept here.' : 'Nothing more is asked for.'}</p>}
        </div>
      </div>
      <Fold title="What comes after" note={`${Math.max(0, steps.value.length - 1)} readings as far as is known`}>
        <ol>{steps.value.slice(1).map((s) => <li key={s.key}>{plain(s.sentence)}</li>)}</ol>
      </Fold>
      <Fold title="What was read" note={`${readCount(here)}`} lazy><Read survey={here} /></Fold>
      <Fold title="What it comes to" note={here.found ? `${here.found.valves.length} valves` : 'nothing yet'}><SurveyFigures survey={here} /></Fold>
      <p class="acts no-print"><a class="button" href={`/api/surveys/${here.id}/file`} download>Take the readings as a file</a></p>
    </main>
  );
}

// The picture of which way its row leans settles it: no question of its own.
const asksWayOf = (e: SurveyEntry) => e.kind === 'level' && steps.value.some((s) => s.of === 'way' && lettersOf(s.id) === lettersOf(String(e.values['id'])) && s.across === e.values['across']);

// A step somebody has begun to type stays, whatever is asked for first by now.
function held(all: SurveyStep[], standing: { current: string | null }): SurveyStep | undefined {
  const begun = all.find((s) => s.key === standing.current && isBegun(s));
  const next = begun ?? all[0];
  standing.current = next?.key ?? null;
  return next;
}

const isReading = (e: SurveyEntry) => e.live && ['point', 'level', 'size'].includes(e.kind);
const readCount = (here: Survey) => here.entries.filter(isReading).length + waiting.value.filter((w) => w.body['withdrawn'] !== true).length;

function SetAside(props: { entry: SurveyEntry }) {
  const { entry } = props;
  return (
    <section class="differ" aria-label="Set aside">
      <p><b>Set aside, not lost:</b> {plain(entry.set_aside ?? '')} It was typed as {wordsOf(entry)}.</p>
      {mayRecord() && (
        <p class="acts">
          <button type="button" onClick={() => void takeBack(entry)}>Take it back and read it again</button>
          <button type="button" onClick={() => void standBy(entry)}>It is right: use it</button>
        </p>
      )}
    </section>
  );
}

function Faulty(props: { text: string; entry: SurveyEntry | undefined }) {
  const { entry } = props;
  return (
    <section class="differ" role="alert">
      <p>{entry && <b>{wordsOf(entry)}: </b>}{plain(labelled(props.text))}</p>
      {entry && mayRecord() && <p class="acts"><button type="button" onClick={() => void takeBack(entry)}>Take it back</button></p>}
    </section>
  );
}

function Read(props: { survey: Survey }) {
  return (
    <ul class="entries">
      {waiting.value.map((w) => <li key={w.key} class={w.state === 'waiting' ? 'is-waiting' : 'is-stuck'}><span>{w.words.replace(/^.*?: /, '')}</span><span class="quiet">{w.state === 'waiting' ? 'waits' : w.sentence}</span></li>)}
      {[...props.survey.entries].reverse().map((e) => (
        <li key={e.id} class={e.live && !e.set_aside ? '' : 'set-aside'}>
          <span>{wordsOf(e)}</span>
          <span class="quiet">{e.by}, {when(e.at)}</span>
          {e.live && e.sequence > 1 && mayRecord() && <button type="button" aria-label={`Take back ${wordsOf(e)}`} onClick={() => void takeBack(e)}>Take back</button>}
        </li>
      ))}
    </ul>
  );
}
