// Sources of readings that come by themselves (docs/live.md).

import type { LineSettings } from './sent';

export interface Channel { what: string; key: string; part: number; unit: 'mm' | 'in' | 'um' | 'deg'; sign: number; low: number | null; high: number | null }
export type FeedKind = 'agent' | 'adapter' | 'network' | 'line';

export type Decides = 'stillness' | 'pedal' | 'person' | 'each';
export interface FeedSettings extends LineSettings {
  at: string; // the machine of the Shelf it is of; empty: a gauge that goes round
  kind: FeedKind; host?: string; port?: number; machine?: string; ask: string; channels: Channel[]; decides: Decides;
  still: number; still_deg: number; dwell_ms: number; stale_ms: number; pedal_key: string;
}

export interface Feed {
  id: number;
  version: number;
  name: string;
  settings: FeedSettings;
}

export interface LiveReading { what: string; value_mm?: number; value_deg?: number; raw: string; stated: string | null }
export interface Offered { id: number; source: string; by: string; at: string; remark: string; readings: LiveReading[] }

export interface FeedNow {
  id: number;
  name: string;
  stale: boolean;
  remark: string;
  values: LiveReading[];
  refused: string[];
  trouble: string | null;
  said: { at: string; words: string }[];
  offered: Offered | null;
}

export interface Observed { key: string; raw: string; numbers: number; unit: string; is: string }
export interface Tried { observed: Observed[]; said: string[] }
