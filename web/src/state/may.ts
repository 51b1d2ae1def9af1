// What the person's role allows; the server decides, this only spares a refused attempt.

import { session } from '../api/client';

export const mayRecord = () => (session.value?.person?.role ?? 'reader') !== 'reader';
export const mayLead = () => session.value?.person?.role === 'lead';
