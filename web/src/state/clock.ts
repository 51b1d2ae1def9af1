// Entries are ordered and dated by the server's clock; a device whose own is far off is told so.

import { signal } from '@preact/signals';

const told = 120_000; // ms: nearer than that nobody minds

export const clockOff = signal(0); // ms the device is ahead of the server

export function noteServerTime(iso: string | null | undefined, device = Date.now()): void {
  const server = iso ? Date.parse(iso) : NaN;
  if (Number.isFinite(server)) clockOff.value = device - server;
}

// "This device's clock is 7 minutes behind", or null.
export function clockWords(off: number): string | null {
  if (Math.abs(off) < told) return null;
  const minutes = Math.round(Math.abs(off) / 60_000);
  const long = minutes < 120 ? `${minutes} minutes` : minutes < 2880 ? `${Math.round(minutes / 60)} hours` : `${Math.round(minutes / 1440)} days`;
  return `This device’s clock is ${long} ${off > 0 ? 'ahead of' : 'behind'} the server’s. The times and the order shown are the server’s.`;
}
