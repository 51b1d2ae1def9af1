// What the first page will ask for, asked for before it is there: who is signed in, and of a job what it was asked last time.

import { effect } from '@preact/signals';
import { askEarly, session } from '../api/client';
import { head, job, shown } from './open_job';
import { route } from './route';

const signedIn = 'seatwright.signed';
const last = (id: number) => `seatwright.state.${id}`;

export function startEarly(): void {
  const at = route.peek();
  if (localStorage.getItem(signedIn) === 'yes') {
    const query = at.page === 'job' && at.head === undefined ? localStorage.getItem(last(at.id)) : null;
    askEarly(['/session', ...(at.page === 'job' ? [`/jobs/${at.id}`, `/jobs/${at.id}/entries`, ...(query === null ? [] : [`/jobs/${at.id}/state${query}`])] : at.page === 'bench' ? ['/jobs?archived=yes'] : [])]);
  }
  effect(() => {
    if (session.value === null) return;
    if (session.value.person) localStorage.setItem(signedIn, 'yes');
    else localStorage.removeItem(signedIn);
  });
  effect(() => {
    const here = job.value;
    if (here && head.value !== '') localStorage.setItem(last(here.id), `?units=${shown.value}&head=${encodeURIComponent(head.value)}`);
  });
}
