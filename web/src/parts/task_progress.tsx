// A long task: how far it has come, and a way to stop it.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ask, get, sentenceOf } from '../api/client';
import type { Task } from '../api/types';

const lookEvery = 400; // ms

export function TaskProgress(props: { task: Task; done: (task: Task) => void }) {
  const task = useSignal(props.task);
  const trouble = useSignal<string | null>(null);
  useEffect(() => {
    const timer = setInterval(() => {
      get<Task>(`/tasks/${props.task.id}`).then((now) => {
        task.value = now;
        if (now.state !== 'running') clearInterval(timer);
        if (now.state === 'finished') props.done(now);
      }).catch((fault: unknown) => { trouble.value = sentenceOf(fault); });
    }, lookEvery);
    return () => clearInterval(timer);
  }, [props.task.id]);
  const now = task.value;
  return (
    <section role="status">
      <p>{now.sentence}</p>
      {now.state === 'running' && <progress value={now.done} max={Math.max(now.total, 1)} aria-label="How far it has come" />}
      {now.state === 'running' && (
        <p class="acts">
          <button type="button" onClick={() => void ask<Task>('DELETE', `/tasks/${now.id}`).then((t) => { task.value = t; })}>Stop it</button>
        </p>
      )}
      {trouble.value && <p class="sentence">{trouble.value}</p>}
    </section>
  );
}
