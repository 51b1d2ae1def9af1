// How far each seat of a head is: measured, cut, or still to cut. What is waiting to be sent does not count yet.

import { entries } from '../../state/open_job';
import type { StepNow } from '../../state/walk';
import type { Standing } from './data';

export function seatsNow(head: string, steps: StepNow[]): (valve: string) => Extract<Standing, 'measured' | 'cut' | 'open'> {
  const live = entries.value.entries.filter((e) => e.live && e.head === head);
  const measured = new Set(live.filter((e) => e.kind === 'proof').map((e) => e.valve));
  const cut = new Set([...live.filter((e) => e.kind === 'first').map((e) => e.valve), ...steps.filter((s) => s.kind === 'cut' && s.done).flatMap((s) => s.valves)]);
  return (valve) => (measured.has(valve) ? 'measured' : cut.has(valve) ? 'cut' : 'open');
}
