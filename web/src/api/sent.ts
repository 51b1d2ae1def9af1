// Places programs are sent to, and what was sent there (docs/places.md).

// Of a serial line.
export interface LineSettings { device?: string; baud?: number; bits?: number; parity?: string; stop_bits?: number; handshake?: string; wait_for_go?: boolean }

export interface Place {
  id: number;
  version: number;
  machine: string;
  name: string;
  kind: 'folder' | 'line';
  settings: LineSettings & { path?: string; mount?: string };
  running?: { id: number; name: string; job: number; head: string }[];
}

export interface SentFile {
  id: number;
  place: number;
  file: string;
  name: string;
  sha256: string;
  by: string;
  at: string;
  to_run: boolean;
  may_run: boolean;
  may_stand: boolean;
  stands: 'right' | 'used up' | 'stale' | 'unknown';
  words: string;
  lines: { became: string; words: string; by: string; at: string }[];
}

export interface SentFiles { head: string; old: string | null; sent: SentFile[]; places: Place[] }

export const saidWords = ['cut', 'not started', 'stopped'] as const;
export type SaidWord = (typeof saidWords)[number];
