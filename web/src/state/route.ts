// Where we are, in the address after the #, so that back, forward and bookmarks work and no server rule is
// needed.

import { signal } from '@preact/signals';
import { stages, type Stage } from '../api/types';

export type Room = Stage | 'data' | 'machine';
export type Route =
  | { page: 'bench' } | { page: 'new' } | { page: 'shelf' } | { page: 'people' } | { page: 'help' }
  | { page: 'ledger'; job?: number }
  | { page: 'job'; id: number; room: Room; view?: string }; // a view within the room

function read(hash: string): Route {
  const [page, first, second, third] = hash.replace(/^#\/?/, '').split('/');
  if (page === 'job' && first && /^\d+$/.test(first)) {
    const room = second === 'data' || second === 'machine' || stages.includes(second as Stage) ? (second as Room) : 'hold';
    return { page: 'job', id: Number(first), room, ...(third ? { view: third } : {}) };
  }
  if (page === 'ledger') return first && /^\d+$/.test(first) ? { page, job: Number(first) } : { page };
  if (page === 'new' || page === 'shelf' || page === 'people' || page === 'help') return { page };
  return { page: 'bench' };
}

export const route = signal<Route>(read(location.hash));
addEventListener('hashchange', () => {
  route.value = read(location.hash);
});

export const jobAddress = (id: number, room: Room) => `#/job/${id}/${room}`;
export function go(address: string): void {
  location.hash = address;
}
