// The head and all that is given of it, without any reading, as a new job: as it stands now, or as it stood at a version.

import { get, post } from '../api/client';
import type { Job } from '../api/types';

// A finger that bounces makes one job: asked again while it is being made, the same one is meant.
let making: Promise<number> | undefined;
export function copied(of: { id: number }, title: string, version?: number): Promise<number> {
  return (making ??= made(of, title, version).finally(() => { making = undefined; }));
}

async function made(of: { id: number }, title: string, version?: number): Promise<number> {
  const { text } = await get<Pick<Job, 'text'>>(`/jobs/${of.id}${version === undefined ? '' : `/versions/${version}`}`);
  const words = `title = ${JSON.stringify(title)}`;
  const copy = /^title = .*$/m.test(text) ? text.replace(/^title = .*$/m, () => words) : `${words}\n${text}`;
  return (await post<Job>('/jobs', { from: 'text', text: copy })).id;
}
