// What a person says of the features found in a scan: kept by the page until the job is made of it.

import { signal } from '@preact/signals';
import type { Scan, ScanHoleKind } from '../api/types';

export interface Said { id?: string; what?: ScanHoleKind; dropped?: boolean; confirmed?: boolean }
export interface AllSaid { valves: Record<string, Said>; holes: Record<string, Said> }

export const said = signal<AllSaid>({ valves: {}, holes: {} });
export const chosen = signal<string | null>(null); // a feature, by the id it was found under

export function forget(): void {
  said.value = { valves: {}, holes: {} };
  chosen.value = null;
}

export function say(of: 'valves' | 'holes', id: string, what: Said): void {
  const now = said.value;
  said.value = { ...now, [of]: { ...now[of], [id]: { ...now[of][id], ...what } } };
}

export const isValveName = (name: string) => /^([1-9]|[12]\d|3[0-2])[IE][a-z]?$/.test(name);

// Features in doubt that nobody has settled, with the reason of each.
export function open(scan: Scan, now: AllSaid): [string, string][] {
  const settled = (id: string) => {
    const one = now.valves[id] ?? now.holes[id];
    return one !== undefined && (one.dropped || one.confirmed || one.what !== undefined);
  };
  return Object.entries(scan.in_doubt ?? {}).filter(([id]) => !settled(id));
}
