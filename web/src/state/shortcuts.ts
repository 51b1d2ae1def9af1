// Keys of the pages, while no field is in use: a stage by its first letter, the step at the machine, the drawing data, the
// Bench, the next head, help. Digits stay with the gauge that types them. They can be switched off (WCAG 2.1.4).

import { stages } from '../api/types';
import { headsKnown } from './heads';
import { chooseHead, headHere } from './open_job';
import { go, jobAddress, route } from './route';
import { keys } from './settings';

export function startShortcuts(): void {
  addEventListener('keydown', (event) => {
    if (keys.value === 'off' || event.key.length !== 1 || event.ctrlKey || event.altKey || event.metaKey || event.defaultPrevented) return;
    const focus = document.activeElement;
    if (focus instanceof HTMLInputElement || focus instanceof HTMLTextAreaElement || focus instanceof HTMLSelectElement) return;
    const at = route.value;
    if (event.key === '?') return go('#/help');
    if (event.key === 'b') return go('#/bench');
    if (at.page !== 'job') return;
    const stage = stages.find((s) => s.startsWith(event.key));
    if (stage) return go(jobAddress(at.id, stage));
    if (event.key === 'm') return go(jobAddress(at.id, 'machine'));
    if (event.key === 'd') return go(jobAddress(at.id, 'data'));
    if (event.key === 'n') {
      const { all, next } = headsKnown();
      chooseHead(all[all.indexOf(headHere.value) + 1] ?? next);
    }
  });
}
