// What the person's role allows; the server decides, this only spares a refused attempt.

import { session } from '../api/client';
import { keyOf } from './keys';
import { job } from './open_job';

export const mayRecord = () => (session.value?.person?.role ?? 'reader') !== 'reader';
export const mayLead = () => session.value?.person?.role === 'lead';

// A key of the job that is open, by its place in the file.
export function mayChange(place: string): boolean {
  if (mayLead()) return true;
  const who = keyOf(place)?.who;
  return mayRecord() && (who === 'machinist' || (who === 'at first' && !job.value?.first_taken));
}

// Said beside what is shown and cannot be changed; null where it can, or where who looks changes nothing at all.
export function whyNot(place: string): string | null {
  if (mayChange(place)) return null;
  if (keyOf(place)?.who === 'lead') return 'Only a lead changes this.';
  return mayRecord() ? 'A program of this job was taken: only a lead changes this now.' : null;
}
