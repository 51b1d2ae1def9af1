// Where we are, in the address after the #, so that back, forward and bookmarks work and no server rule is
// needed.

import { signal } from '@preact/signals';
import { stages, type Stage } from '../api/types';

export type Room = Stage | 'data' | 'machine' | 'forecast';
export type Route =
  | { page: 'bench' } | { page: 'new' } | { page: 'shelf' } | { page: 'people' } | { page: 'administration' } | { page: 'help' }
  | { page: 'ledger'; job?: number }
  | { page: 'survey'; id: number }
  | { page: 'scan'; id: string }
  | { page: 'job'; id: number; room: Room; view?: string; head?: string }; // a view within the room; the head a link names

function read(hash: string): Route {
  const [path = '', query = ''] = hash.replace(/^#\/?/, '').split('?');
  const [page, first, second, third] = path.split('/');
  const head = new URLSearchParams(query).get('head');
  if (page === 'job' && first && /^\d+$/.test(first)) {
    const room = second === 'data' || second === 'machine' || second === 'forecast' || stages.includes(second as Stage) ? (second as Room) : 'hold';
    return { page: 'job', id: Number(first), room, ...(third ? { view: third } : {}), ...(head ? { head } : {}) };
  }
  if (page === 'ledger') return first && /^\d+$/.test(first) ? { page, job: Number(first) } : { page };
  if (page === 'survey' && first && /^\d+$/.test(first)) return { page, id: Number(first) };
  if (page === 'scan' && first && /^[0-9a-f]+$/.test(first)) return { page, id: first };
  if (page === 'new' || page === 'shelf' || page === 'people' || page === 'administration' || page === 'help') return { page };
  return { page: 'bench' };
}

export const route = signal<Route>(read(location.hash));
addEventListener('hashchange', () => {
  route.value = read(location.hash);
});

export const jobAddress = (id: number, room: Room) => `#/job/${id}/${room}`;
// A link that also says which head: to be sent to another screen.
export const linkTo = (id: number, room: Room, head: string) => `${location.origin}${location.pathname}${jobAddress(id, room)}?head=${encodeURIComponent(head)}`;
export function go(address: string): void {
  location.hash = address;
}
