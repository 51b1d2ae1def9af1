// Who reads the figures that are typed at this screen, where it is not the one who types: two people at one machine, one at
// the gauge, one at the tablet. It ends with the login, and is said beside the typist's own name.

import { signal } from '@preact/signals';
import { session } from '../api/client';

const chosen = signal<{ typist: number; name: string } | null>(null);

const typist = () => session.value?.person?.id ?? 0;

// Empty: who types also reads.
export const readsHere = (): string => (chosen.value?.typist === typist() ? chosen.value.name : '');

export function chooseReader(name: string): void {
  chosen.value = name === '' || name === session.peek()?.person?.name ? null : { typist: typist(), name };
}
