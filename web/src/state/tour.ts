// The tour for a new person: offered on the Bench until it was taken or declined on this screen; which step it stands at.

import { effect, signal } from '@preact/signals';

const name = 'seatwright.tour';
const kept = localStorage.getItem(name);

// null: not begun; a number: the step; 'left': ended or declined.
export const tour = signal<number | 'left' | null>(kept === 'left' ? 'left' : kept === null ? null : Number(kept));
effect(() => {
  if (tour.value === null) localStorage.removeItem(name);
  else localStorage.setItem(name, String(tour.value));
});
