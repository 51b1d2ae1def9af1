// What stands against a head that is measured: a seat that fails, one in doubt, a figure with a limit that nobody measured,
// stems too far apart. A seat that a lead let pass by word is not among them.

import type { ProvedSeat, Verdict } from '../../api/types';
import { show } from '../../numbers/show';
import { shown, state } from '../../state/open_job';
import type { Standing } from '../map/data';

const asStanding = { pass: 'measured', fail: 'fail', undecided: 'undecided', 'not measured': 'open' } as const satisfies Record<ProvedSeat['verdict'], Standing>;

export const quantityOf = (what: string) => (/vacuum/.test(what) ? 'vacuum' as const : 'length' as const);
const seatsOf = (head: string) => state.value?.results.prove?.seats.filter((s) => s.head === head) ?? [];
const letPass = (seat: ProvedSeat, what: string) =>
  state.value?.overrides?.some((o) => o.live && o.head === seat.head && o.valve === seat.id && o.values['what'] === what && o.values['verdict'] === 'pass') ?? false;
const open = (seat: ProvedSeat) => seat.verdicts.filter((v) => v.verdict !== 'pass' && !letPass(seat, v.what));

export const standingOf = (verdict: ProvedSeat['verdict']): Standing => asStanding[verdict];

// How a seat stands on the map; undefined: nothing is worked out of it yet.
export function provedAs(head: string, valve: string): Standing | undefined {
  const seat = seatsOf(head).find((s) => s.id === valve);
  return seat && standingOf(open(seat).length === 0 ? 'pass' : seat.verdict);
}

export const fails = (head: string) => seatsOf(head).filter((s) => open(s).some((v) => v.verdict === 'fail')).map((s) => s.id);

// The worst first: "2I fails: width 0.060 mm, at most 0.050 mm", "2E: runout not measured".
export function against(head: string): string[] {
  const all = seatsOf(head).flatMap((s) => open(s).map((v) => ({ verdict: v.verdict, words: said(s.id, v) })));
  for (const s of state.value?.results.prove?.stem_spreads ?? []) {
    if (s.head === head) all.push({ verdict: s.verdict, words: `${s.lowest} and ${s.highest}: stems ${show(s.value, 'length', shown.value)} apart, at most ${show(s.limit_high, 'length', shown.value)}` });
  }
  return (['fail', 'undecided', 'not measured'] as const).flatMap((w) => all.filter((a) => a.verdict === w).map((a) => a.words));
}

function said(seat: string, v: Verdict): string {
  if (v.verdict === 'not measured') return `${seat}: ${v.what} not measured`;
  return `${seat} ${v.verdict === 'fail' ? 'fails' : 'is undecided'}: ${v.what} ${show(v.value, quantityOf(v.what), shown.value)}, ${limitsOf(v)}`;
}

export function limitsOf(v: Verdict): string {
  const of = (n: number | null) => show(n, quantityOf(v.what), shown.value);
  if (v.limit_low !== null && v.limit_high !== null) return `${of(v.limit_low)} to ${of(v.limit_high)}`;
  if (v.limit_high !== null) return `at most ${of(v.limit_high)}`;
  return v.limit_low !== null ? `at least ${of(v.limit_low)}` : 'none given';
}
