// Which jobs the Bench shows, and in what order.

import { stages, type JobCard } from '../api/types';

export const filters = ['on the bench', 'needs you', 'waiting', 'done', 'templates', 'put away', 'all'] as const;
export const sorts = ['last changed', 'promised', 'job number', 'customer', 'first made', 'name'] as const;
export type Filter = (typeof filters)[number];
export type Sort = (typeof sorts)[number];

type Ordered = Pick<JobCard, 'title' | 'head' | 'next' | 'marks' | 'archived' | 'changed_at' | 'created_at' | 'changed_by' | 'id' | 'promised' | 'template' | 'number' | 'customer'>;

export function arranged<T extends Ordered>(all: T[], search: string, filter: Filter, sort: Sort): T[] {
  const words = search.toLowerCase().split(/\s+/).filter((w) => w !== '');
  const said = (c: T) => `${c.id} ${c.title} ${c.head} ${c.next} ${c.changed_by} ${c.number ?? ''} ${c.customer ?? ''}`.toLowerCase();
  return all.filter((c) => fits(c, filter) && words.every((w) => said(c).includes(w))).sort((a, b) => order(a, b, sort));
}

function fits(card: Ordered, filter: Filter): boolean {
  if (filter === 'all') return true;
  if (filter === 'templates') return card.template != null;
  if (filter === 'put away') return card.archived;
  if (card.archived) return false;
  const marks = stages.map((s) => card.marks[s]);
  if (filter === 'needs you') return marks.includes('needs you');
  if (filter === 'done') return marks.every((m) => m === 'done');
  if (filter === 'waiting') return !marks.includes('needs you') && !marks.every((m) => m === 'done');
  return true;
}

const later = '9999'; // nothing is promised: after all that is

// A-9 before A-17; what nothing was said of comes last.
function bySaid(a = '', b = ''): number {
  if (a === '' || b === '') return Number(a === '') - Number(b === '');
  return a.localeCompare(b, undefined, { numeric: true });
}

function order(a: Ordered, b: Ordered, sort: Sort): number {
  if (sort === 'name') return a.title.localeCompare(b.title) || a.id - b.id;
  if (sort === 'promised') return (a.promised ?? later).localeCompare(b.promised ?? later) || b.changed_at.localeCompare(a.changed_at) || b.id - a.id;
  if (sort === 'job number') return bySaid(a.number, b.number) || a.id - b.id;
  if (sort === 'customer') return bySaid(a.customer, b.customer) || bySaid(a.number, b.number) || a.id - b.id;
  if (sort === 'first made') return a.created_at.localeCompare(b.created_at) || a.id - b.id;
  return b.changed_at.localeCompare(a.changed_at) || b.id - a.id;
}
