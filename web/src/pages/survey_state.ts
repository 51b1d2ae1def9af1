// The survey on the screen: what the server last made of it, and what waits here to be sent to it.

import { computed, signal } from '@preact/signals';
import { Away, get, sentenceOf, session } from '../api/client';
import { listen, type Listening } from '../api/events';
import type { Survey, SurveyEntry, SurveyKind, SurveyStep } from '../api/types';
import { keepAnswer, keptAnswer } from '../entry/disk';
import { entryFor, isMine, ofSurvey, outbox } from '../entry/outbox';
import type { Waiting } from '../entry/waiting';
import type { LengthUnit } from '../numbers/quantity';
import { units } from '../state/settings';
import { saidInWords } from './survey_words';

export const survey = signal<Survey | null>(null);
// The unit shown and typed in: the person's choice, else the survey's, which its readings keep.
export const shown = computed<LengthUnit>(() => (units.value === 'job' ? survey.value?.units ?? 'mm' : units.value));
export const surveyTrouble = signal<string | null>(null);
const passed = signal<string[]>([]); // steps put off on this screen
let open = 0;
let listening: Listening | undefined;

export const waiting = computed(() => outbox.entries.value.filter((e) => e.job === ofSurvey(survey.value?.id ?? 0) && isMine(e)));

// What is asked for, without what was answered and is on its way; what was put off stands last.
export const steps = computed<SurveyStep[]>(() => {
  const sent = new Set(waiting.value.filter((w) => w.state === 'waiting' && w.body['withdrawn'] !== true).map((w) => w.place));
  const left = (survey.value?.steps ?? []).filter((s) => !sent.has(s.key));
  return [...left.filter((s) => !passed.value.includes(s.key)), ...left.filter((s) => passed.value.includes(s.key))];
});

export function openSurvey(id: number): () => void {
  open = id;
  survey.value = null;
  passed.value = JSON.parse(sessionStorage.getItem(passedName(id)) ?? '[]') as string[];
  const unitWatch = units.subscribe(() => void fresh());
  listening = listen('/events', ['survey'], (_, data) => { if ((data as { survey?: number }).survey === open) void fresh(); },
    () => { void fresh(); void outbox.flush(); });
  return () => {
    unitWatch();
    listening?.close();
    open = 0;
  };
}

const passedName = (id: number) => `seatwright.passed.${id}`;
export function putOff(step: SurveyStep): void {
  passed.value = [...passed.value.filter((k) => k !== step.key), step.key];
  sessionStorage.setItem(passedName(open), JSON.stringify(passed.value));
}

async function fresh(): Promise<void> {
  const id = open;
  if (id === 0) return;
  const path = `/surveys/${id}`, unit = units.peek();
  try {
    const now = await get<Survey>(unit === 'job' ? path : `${path}?units=${unit}`);
    keepAnswer(path, now);
    if (id !== open || unit !== units.peek() || now.sequence < (survey.value?.sequence ?? 0)) return;
    survey.value = now;
    surveyTrouble.value = null;
  } catch (fault) {
    const kept = fault instanceof Away ? await keptAnswer<Survey>(path) : undefined;
    if (id !== open) return;
    if (kept) survey.value ??= kept;
    else surveyTrouble.value = sentenceOf(fault);
  }
}

// It is waiting or stored, never neither: what was stored is shown before it leaves the queue.
outbox.onTaken((entry) => (entry.job === ofSurvey(open) ? fresh() : undefined));

export interface Said { kind: SurveyKind; values: Record<string, unknown>; corrects?: number; withdrawn?: boolean }

export const record = (said: Said, place: string): Promise<Waiting> =>
  outbox.add(entryFor(ofSurvey(open), `/surveys/${open}/entries`, { ...said }, `${survey.value?.title ?? 'survey'}: ${wordsOf(said)}`, place));

export const takeBack = (entry: SurveyEntry): Promise<Waiting> =>
  record({ kind: entry.kind, values: {}, corrects: entry.id, withdrawn: true }, `back/${entry.id}`);

// It stays as read, and is never set aside again.
export const standBy = (entry: SurveyEntry): Promise<Waiting> =>
  record({ kind: entry.kind, values: { ...entry.values, sure: true }, corrects: entry.id }, `sure/${entry.id}`);

// What this person said last and still stands; what waits while the network is away before what is stored.
export function lastSaid(): { words: string; undo: () => Promise<unknown> } | null {
  const unsent = outbox.away.value ? waiting.value.filter((w) => w.state === 'waiting').at(-1) : undefined;
  if (unsent) return { words: unsent.words.replace(/^.*?: /, ''), undo: () => outbox.letGo(unsent.key) };
  const me = session.value?.person?.name;
  const gone = new Set(waiting.value.map((w) => w.body['corrects']));
  const mine = survey.value?.entries.filter((e) => e.live && e.by === me && e.sequence > 1 && !gone.has(e.id)).at(-1);
  return mine ? { words: wordsOf(mine), undo: () => takeBack(mine) } : null;
}

// "guide 1I in setup A: X 25.319 mm, Y −32.701 mm".
export const wordsOf = (said: Pick<Said, 'kind' | 'values'> & { withdrawn?: boolean }): string => saidInWords(said, survey.peek()?.units ?? 'mm');
