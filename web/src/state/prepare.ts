// A batch of many heads takes more than a moment to work out: the server does it as a task, which says how far it is
// and can be stopped.

import { signal } from '@preact/signals';
import { ask, get, post, Refusal } from '../api/client';
import type { Task } from '../api/types';

export const preparing = signal<Task | null>(null);

const firstLook = 25, lookEvery = 400; // ms: what is quick is not waited for, what is slow is not asked for all the time

export async function prepare(job: number, question: { head?: string; units: string }): Promise<void> {
  try {
    preparing.value = await post<Task>(`/jobs/${job}/prepare`, question);
  } catch (fault) {
    if (fault instanceof Refusal) return; // a help, no condition: who may not, or comes when it is busy, waits without
    throw fault;
  }
  try {
    for (let wait = firstLook; preparing.value?.state === 'running'; wait = Math.min(2 * wait, lookEvery)) {
      await new Promise((resolve) => setTimeout(resolve, wait));
      preparing.value = await get<Task>(`/tasks/${preparing.value.id}`);
    }
    if (preparing.value?.state === 'cancelled') throw new Error('Stopped. Open the job again to work it out.');
  } finally {
    preparing.value = null;
  }
}

export async function stopPreparing(): Promise<void> {
  const task = preparing.value;
  if (task) preparing.value = await ask<Task>('DELETE', `/tasks/${task.id}`);
}
