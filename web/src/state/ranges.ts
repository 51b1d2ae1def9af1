// What a figure can be, as the server's table has it: the pages ask about the same figures as the command line.

import { signal } from '@preact/signals';
import { get } from '../api/client';
import { keepAnswer, keptAnswer } from '../entry/disk';

export interface Range {
  key: string; // of the job file: "reading.proof[].width"
  what: string; // in a sentence: "a seat's width"
  low: number; // in the unit the server's JSON uses: mm, deg, kPa, cm3
  high: number;
}

export const ranges = signal<Range[]>([]);
const address = '/ranges';

// Kept for a visit without a server: entries are typed then too.
export async function fetchRanges(): Promise<void> {
  if (ranges.peek().length > 0) return;
  const fresh = await get<{ ranges: Range[] }>(address).catch(() => null);
  if (fresh) void keepAnswer(address, fresh);
  ranges.value = (fresh ?? (await keptAnswer<{ ranges: Range[] }>(address)))?.ranges ?? [];
}

export const rangeOf = (key: string): Range | undefined => ranges.value.find((r) => r.key === key);
