// The walk of a head of the open job, from what is stored and what still waits to be sent.

import { entries, setups, state, waitingHere } from './open_job';
import { saidOf, takenOf } from './said_steps';
import { standingAt } from './walk';

export function walkHere(head: string) {
  const live = entries.value.entries.filter((e) => e.live && e.head === head);
  const waiting = waitingHere.value.filter((w) => w.body['head'] === head && w.body['withdrawn'] !== true);
  const valvesOf = (kind: string) => new Set([...live.filter((e) => e.kind === kind).map((e) => e.valve), ...waiting.filter((w) => w.body['kind'] === kind).map((w) => String(w.body['valve']))]);
  return standingAt(state.value?.walk ?? [], { said: saidOf(head), taken: takenOf(head).moves, touches: valvesOf('touch'), firsts: valvesOf('first'), measured: valvesOf('proof'), setups: setups.value });
}
