// Shapes of the server's answers; docs/api/openapi.json is the contract. Stage results are the JSON of the
// command line, here only as far as the pages read them.

import type { LengthUnit } from '../numbers/quantity';

export type Stage = 'hold' | 'find' | 'shape' | 'cut' | 'prove';
export const stages: Stage[] = ['hold', 'find', 'shape', 'cut', 'prove'];
export type Mark = 'open' | 'ready' | 'needs you' | 'done';
export type Kind = 'intake' | 'exhaust';
export type Role = 'reader' | 'machinist' | 'lead';

export interface Person { id: number; name: string; role: Role; owner: boolean; active: boolean }
export interface Session {
  first_start: boolean;
  person: Person | null;
  csrf: string | null;
  version: string;
  listening: 'loopback' | 'network';
  warning?: string | null;
}
export interface Fault { file: string; line: number; key: string; text: string }
export interface JobCard {
  id: number; title: string; head: string; valves: number; units: LengthUnit; version: number; sequence: number;
  created_at: string; changed_at: string; changed_by: string; archived: boolean;
  marks: Record<Stage, Mark>; next: string;
}
export type Tree = { [key: string]: TreeValue };
export type TreeValue = string | number | boolean | null | TreeValue[] | Tree;
export interface Job extends JobCard {
  text: string; shop: 'shelf' | 'own'; shop_text?: string | null;
  undo_to: number | null; redo_to: number | null; tables?: Tree;
}
export interface Version { version: number; by: string; at: string; what: string; same_as?: number | null }
export interface Edit { key: string; value: unknown }

export type EntryKind = 'touch' | 'level' | 'guide' | 'seat' | 'proof' | 'choice' | 'override' | 'done';
export interface Entry {
  id: number; sequence: number; client_key: string; kind: EntryKind; head: string; valve: string; place: string;
  values: Record<string, unknown>; units: LengthUnit; by: string; at: string; made_at?: string | null;
  corrects?: number | null; withdrawn?: boolean; repeat?: boolean; superseded_by?: number | null;
  live: boolean; conflict?: boolean; reason?: string;
}
export interface Conflict { place: string; entries: number[]; used: number }
export interface EntryList { entries: Entry[]; conflicts: Conflict[]; sequence: number }

export interface Warning { stage: string; code: string; valve: string | null; text: string; blocking?: boolean }
export interface StageState { mark: Mark; line: string; next?: string; needs?: string[] }
export interface DrawingName { name: string; stage: string; title: string; takes?: string[] }
export interface HeadValve { id: string; kind: Kind; cylinder: number; x_mm: number; y_mm: number }
export interface Results {
  hold?: HoldResult | null; find?: FindResult | null; shape?: ShapeResult | null; cut?: CutResult | null;
  prove?: ProveResult | null;
}
export interface State {
  job: JobCard; heads: string[]; head: string; stages: Record<Stage, StageState>; results: Results;
  warnings: Warning[]; conflicts: Conflict[]; overrides?: Entry[]; drawings: DrawingName[]; faults?: Fault[];
  valves?: HeadValve[];
}
export interface WhatIf {
  version: number; sequence: number; results: Results; drawings: Record<string, string>;
  stages?: Partial<Record<Stage, StageState>>; warnings: Warning[]; faults: Fault[];
}
export interface Reason { key: string; says: string; formula: string; source: string }
export interface LedgerLine {
  id: number; at: string; by: string; what: string; job?: number | null; job_title?: string | null;
  version?: number | null; entry?: number | null;
}
export interface Shelf { version: number; text: string; by?: string; at?: string; tables?: Tree }
export interface Task {
  id: string; state: 'running' | 'finished' | 'cancelled' | 'failed'; done: number; total: number; sentence: string;
  job?: number | null;
}

export interface Framed { warnings?: Warning[]; assumptions?: string[] }
export interface HeldValve { id: string; plumb_deg: number; reachable: boolean; x_mm: number; y_mm: number; z_mm: number }
export interface Setup {
  id: string; datum: string; tilt_deg: number; swing_deg: number; worst_plumb_deg: number;
  travel_margin_mm: { x: number | null; y: number | null }; valves: HeldValve[];
  safety: { mass_kg: number | null; slope_deg: number; slip_factor: number | null; slides_when_released: boolean };
}
export interface HoldResult extends Framed {
  setups: Setup[];
  fixtures: { name: string; fits: boolean; why: string }[];
  posts: { a_mm: [number, number]; b_mm: [number, number]; span_mm: number; position_sd_mm: number; yaw_sd_deg: number } | null;
  level: {
    incline_deg: number | null; cant_deg: number | null; incline_bias_deg: number | null; cant_bias_deg: number | null;
    correction_tilt_deg: number | null; correction_swing_deg: number | null; scatter_deg: number | null;
  } | null;
}
export interface FoundGuide {
  id: string; x_mm: number; y_mm: number; sd_x_mm: number; sd_y_mm: number; corr: number; program_x_mm: number;
  program_y_mm: number; enter_probability: number | null; touched: boolean; suspect: boolean; innovation2: number | null;
}
export interface FoundSetup {
  id: string; yaw_deg: number; yaw_sd_deg: number; offset_mm: [number, number]; chi2: number; dof: number;
  p_value: number | null; pattern: string; guides: FoundGuide[]; square: { move_mm: number; post: string } | null;
  least_enter_probability: number | null; next_touch: string | null; touches_to_target: number | null;
}
export interface FindResult extends Framed {
  heads: { head: string; setups: FoundSetup[] }[];
  blind_run: { least_enter_probability: number; head_enter_probability: number } | null;
  pilots: { valve: string; pilot: string | null; play_mm: number | null; guide: 'ok' | 'repair'; reason: string }[];
}
export interface ShapedSeat {
  id: string; contact_od_mm: number; contact_id_mm: number; gauge_mm: number; section_mm: [number, number][];
  cutter: string | null; blade_setting_mm: number | null; cleanup_mm: number | null; depth_mm: number | null;
  z_mm: number | null; stem_height_after_mm: number | null; recession_added_mm: number | null; removed_mm3: number | null;
  bridge_mm: number | null; bridge_to: string | null; insert_wall_mm: number | null; tip_grind_mm: number | null;
  spring_shim_mm: number | null; decision: 'cut' | 'insert' | 'not allowed'; limit_mm?: number | null;
}
export interface ShapeResult extends Framed {
  seats: ShapedSeat[];
  depth: {
    total_mm: number | null; stem_spread_mm: { intake: number | null; exhaust: number | null };
    chamber_spread_cm3: number | null; feasible: boolean; conflict: unknown[];
  };
  inserts: {
    id: string; pressure_mpa: number; pressure_hot_mpa: number; hold_force_n: number; hoop_mpa: number;
    insert_temp_c: number; head_temp_c: number;
  }[];
  sensitivity: { kind: Kind; facet_deg: number; width_per_depth: number }[];
}
export interface CutSeat {
  id: string; rpm: number; feed_mm_per_turn: number; surface_m_per_min: number; chip_mm: number; torque_nm: number;
  power_w: number; thrust_n: number; dwell_turns: number; stable_width_mm: number | null; seconds: number;
}
export interface CutResult extends Framed {
  seats: CutSeat[]; order: string[]; seconds_head: number;
  estimate: { currency: string; head: number; lines: { what: string; count: number; rate: number; amount: number }[] } | null;
  programs: { setup: string; file: string; lines: number; checked: boolean }[]; calm_rpm: number[];
}
export type VerdictWord = 'pass' | 'fail' | 'undecided' | 'not measured';
export interface Verdict {
  what: string; value: number | null; limit_low: number | null; limit_high: number | null; u: number | null; verdict: VerdictWord;
}
export interface ProvedSeat {
  head: string; id: string; tir_mm: number | null; eccentricity_mm: number | null; eccentricity_deg: number | null;
  roundness_mm: { ls: number; mz: number; mc: number; mi: number } | null;
  harmonics_mm: { order: number; amplitude_mm: number; phase_deg: number }[];
  width_mm: number | null; stem_height_mm: number | null; verdicts: Verdict[];
  causes?: { what: string; statement: string; share: number; sureness: string }[];
}
export interface ProveResult extends Framed {
  seats: ProvedSeat[];
  batch: {
    what: string; kind: Kind; n: number; mean: number; sigma: number; cp: number | null; cpk: number | null; cpk_low: number | null;
    centre: number; lower: number; upper: number; signals: { head: string; rule: string }[];
    drift_per_head: number | null; limit_at_head: number | null;
  }[];
  verdict: VerdictWord;
}
