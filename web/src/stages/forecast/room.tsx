// Forecast: how many heads of the batch will pass, why not, and what to change before the first is cut. What is dragged here
// is only looked at; the server answers every move.

import { useSignal, type Signal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import { serverAway } from '../../api/client';
import { Ink } from '../../parts/drawing';
import { leastNow } from '../../parts/lettering';
import { Assumptions, Warnings } from '../../parts/warnings';
import { drawn, job, shown } from '../../state/open_job';
import { ForecastAsker, type ForecastAnswer, type Room, type Tried } from './ask';
import { Hands } from './hands';
import { Told } from './told';

const askedAgain = 2_000; // ms
const rest = 300; // ms without a move: the hand has come to rest, and the rest is asked for

export function ForecastRoom() {
  const here = job.value;
  const asker = useMemo(() => new ForecastAsker(() => job.value?.id ?? 0), [here?.id]);
  const tried = useSignal<Tried | null>(null);
  const whole = useSignal<ForecastAnswer | null>(null); // the last that told everything
  const { box, room } = useRoom();
  const waiting = useRef<number | undefined>(undefined);
  const unit = shown.value;

  const ask = (all: boolean) => { if (room.peek()) asker.ask({ units: unit, whole: all, tried: tried.peek(), room: room.peek()! }); };
  const attempt = (figures: Tried | null) => {
    tried.value = figures;
    ask(false);
    clearTimeout(waiting.current);
    waiting.current = setTimeout(() => ask(true), rest) as unknown as number;
  };
  const answers = useRef(0); // shown so far; the browser test waits for the next
  const last = useRef<ForecastAnswer | null>(null);
  useEffect(() => asker.answer.subscribe((a) => { if (a?.whole) whole.value = a; }), [asker]);
  useEffect(() => { tried.value = null; }, [here?.version]); // a change was stored: what is shown is what is stored
  // A new reading, another unit, a screen turned: all of it anew.
  const stands = `${here?.id}/${here?.version}/${here?.sequence}/${drawn.value}/${unit}/${JSON.stringify(room.value)}/${serverAway.value}`;
  useEffect(() => { ask(true); return () => clearTimeout(waiting.current); }, [stands]);

  // While nobody answers it is asked again, so that the room comes back by itself.
  useEffect(() => {
    if (!serverAway.value) return undefined;
    const again = setInterval(() => ask(true), askedAgain);
    return () => clearInterval(again);
  }, [serverAway.value]);

  const answer = asker.answer.value;
  const all = whole.value;
  if (answer !== last.current) {
    last.current = answer;
    answers.current += 1;
  }
  return (
    <>
      <header class="room-head">
        <p class="next-step" data-next>{all?.next ?? (asker.fault.value ? 'The batch cannot be forecast yet.' : 'Working out the batch.')}</p>
        <div class="room-said">
          <h2 tabIndex={-1}>Forecast</h2>
          <p class="stage-line">{all?.sentences.slice(1).join(' ')}</p>
        </div>
      </header>
      {serverAway.value && answer && <p class="sentence" role="status">The server does not answer. These figures are of its last answer, and nothing can be tried until it is back.</p>}
      {asker.fault.value && <p class="sentence" role="alert">{asker.fault.value}</p>}
      <div ref={box} class="forecast" data-answers={answers.current}>
        <div class="stage">
          <div class="hero">
            <div class="forecast-spreads" data-room="spread">{spreads(answer, 'runout')}</div>
            <Framed room="causes" title="What runout comes from" name="causes" svg={answer?.drawings?.causes} />
          </div>
          <div class="beside-hero">
            {answer && <PassRate of={answer} all={all} tried={tried.value !== null && !serverAway.value} />}
            {answer && <Hands now={answer.tryable} tried={tried.value} attempt={attempt} away={serverAway.value} />}
          </div>
        </div>
        <div class="two even">
          <div data-room="by_head">{answer?.drawings?.by_head && <Framed title="Good heads over the batch" name="by_head" svg={answer.drawings.by_head} />}</div>
          <Framed room="changes" title="What helps most" name="changes" svg={answer?.drawings?.changes ?? all?.drawings?.changes}>
            {answer && !answer.whole && <span class="quiet">of the figures before</span>}
          </Framed>
        </div>
        <div class="forecast-spreads" data-room="lower">{spreads(answer, 'width')}{spreads(answer, 'stem height')}</div>
      </div>
      {answer && <Warnings warnings={answer.warnings} />}
      {answer && <Told of={answer} all={all} tried={tried.value} />}
      <Assumptions lines={answer?.assumptions} />
      {here && <p class="acts no-print"><a class="button" href={`/api/jobs/${here.id}/forecast.pdf?units=${unit}`} download={`${here.id}-forecast.pdf`}>Forecast of the batch as it stands (pdf)</a></p>}
    </>
  );
}

function PassRate(props: { of: ForecastAnswer; all: ForecastAnswer | null; tried: boolean }) {
  const { result } = props.of;
  const percent = (p: number | null, places: number) => (p === null ? 'not known' : `${(100 * p).toFixed(places)} %`);
  const { pass_low: low, pass_high: high } = result;
  return (
    <p class="pass-rate">
      <output data-pass-rate={result.pass_rate ?? ''}>{percent(result.pass_rate, 2)}</output>
      <span>of {result.heads} {result.heads === 1 ? 'head' : 'heads'} good{props.tried ? ', as tried' : ''}
        {low !== null && high !== null && <small>with what is not known of the shop: {percent(low, 1)} to {percent(high, 1)}</small>}
      </span>
    </p>
  );
}

const spreads = (answer: ForecastAnswer | null, what: string) => answer?.drawings?.spreads.filter((s) => s.what === what)
  .map((s) => <Framed key={`${s.what}/${s.kind}`} title={`${s.what}, ${s.kind}`} name={`${s.what} ${s.kind}`} svg={s.svg} titled />);

// `titled`: the drawing says in itself what it is.
function Framed(props: { title: string; name: string; svg: string | null | undefined; room?: keyof Room; titled?: boolean; children?: ComponentChildren }) {
  return (
    <figure class="sheet-frame" data-drawing={props.name} data-room={props.room} aria-label={props.titled ? props.title : undefined}>
      {props.svg ? <Ink svg={props.svg} /> : <div class="ink ink-none" />}
      {!props.titled && <figcaption><span>{props.title}</span>{props.children}</figcaption>}
    </figure>
  );
}

// How wide the drawings' places are, in mm of paper on which letters of 2.5 mm stand as high as they must to be read
// (parts/lettering): the server draws for the room there is, so that nothing shrinks below that.
const letters = 2.5; // mm
const around = 24; // px: frame and margin of a drawing
const least = 40, most = 400; // mm: what the server draws

function useRoom(): { box: { current: HTMLDivElement | null }; room: Signal<Room | null> } {
  const box = useRef<HTMLDivElement>(null);
  const room = useSignal<Room | null>(null);
  useEffect(() => {
    const holder = box.current;
    if (!holder) return undefined;
    const measure = () => {
      const pixels = leastNow() / letters; // a mm
      const of = (name: string) => {
        const place = holder.querySelector<HTMLElement>(`[data-room=${name}]`);
        const columns = place && (name === 'spread' || name === 'lower') ? getComputedStyle(place).gridTemplateColumns.split(' ').length : 1;
        return Math.round(Math.min(most, Math.max(least, ((place?.clientWidth ?? 0) / columns - around) / pixels)));
      };
      const now = { spread: of('spread'), lower: of('lower'), causes: of('causes'), changes: of('changes'), by_head: of('by_head') };
      if (JSON.stringify(now) !== JSON.stringify(room.peek())) room.value = now;
    };
    const watch = new ResizeObserver(measure);
    watch.observe(holder);
    return () => watch.disconnect();
  }, []);
  return { box, room };
}
