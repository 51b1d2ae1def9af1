// What was sent of the head on the screen, how it stands today, and sending more of it.

import { signal } from '@preact/signals';
import { get, post, sentenceOf } from '../api/client';
import type { SaidWord, SentFiles } from '../api/sent';
import type { Task } from '../api/types';
import { headHere, job } from './open_job';

export const sent = signal<SentFiles | null>(null);
export const sending = signal<string | null>(null); // what is being sent just now, in words
export const sendTrouble = signal<string | null>(null);

const pollEvery = 300; // ms

// Of the head on the screen; another's answer that comes late is left.
export async function fetchSent(): Promise<void> {
  const [id, head] = [job.peek()?.id, headHere.peek()];
  if (id === undefined) return;
  const now = await get<SentFiles>(`/jobs/${id}/sent?head=${encodeURIComponent(head)}`).catch(() => null);
  if (now !== null && job.peek()?.id === id && headHere.peek() === head) sent.value = now;
}

async function ended(task: Task): Promise<Task> {
  let now = task;
  while (now.state === 'running') {
    await new Promise((done) => { setTimeout(done, pollEvery); });
    now = await get<Task>(`/tasks/${now.id}`);
    sending.value = now.sentence || sending.value;
  }
  return now;
}

// True when all of it arrived; else the sentence stands in sendTrouble.
async function carryOut(words: string, begin: () => Promise<Task>): Promise<boolean> {
  if (sending.value !== null) return false;
  sending.value = words;
  sendTrouble.value = null;
  try {
    const end = await ended(await begin());
    if (end.state !== 'finished') sendTrouble.value = end.sentence;
    return end.state === 'finished';
  } catch (fault) {
    sendTrouble.value = sentenceOf(fault);
    return false;
  } finally {
    sending.value = null;
    await fetchSent();
  }
}

// `query`: the part of the head they are for, as the interface has it. `ahead`: not to be run yet.
export interface Wanted { place: number; files: string[]; query?: Record<string, string>; ahead?: boolean }

export function sendFiles({ place, files, query = {}, ahead = false }: Wanted): Promise<boolean> {
  const part = new URLSearchParams(query).toString();
  return carryOut('Sending', () => post<Task>(`/jobs/${job.value?.id ?? 0}/send${part === '' ? '' : `?${part}`}`, { place, head: headHere.value, files, ahead }));
}
export const readBack = (sending: number): Promise<boolean> =>
  carryOut('Waiting for what the control sends out', () => post<Task>(`/sendings/${sending}/read_back`, {}));

export async function sayOf(sending: number, word: SaidWord): Promise<void> {
  sendTrouble.value = null;
  try {
    sent.value = await post<SentFiles>(`/sendings/${sending}/said`, { word });
  } catch (fault) {
    sendTrouble.value = sentenceOf(fault);
  }
}
