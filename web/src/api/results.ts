// What a stage answers: the JSON of the command line (docs/json.md), as far as the pages read it. Lengths are mm,
// angles degrees, as each key says; null is "not known", never nothing.

import type { Kind, Warning } from './words';

type Maybe = number | null;
export type PerKind = Record<Kind, Maybe>;

export interface Framed { warnings?: Warning[]; assumptions?: string[] }

export interface HeldValve { id: string; plumb_deg: number; reachable: boolean; x_mm: number; y_mm: number; z_mm: number }
export interface Setup {
  id: string; datum: string; tilt_deg: number; swing_deg: number; worst_plumb_deg: number;
  travel_margin_mm: { x: Maybe; y: Maybe }; valves: HeldValve[];
  safety: {
    mass_kg: Maybe; slope_deg: number; slip_factor: Maybe; slides_when_released: boolean;
    stopped?: boolean; uphill?: 'back' | 'front' | null;
  };
}
export interface Fixture { name: string; fits: boolean; why: string; best?: boolean }
export interface Level {
  incline_deg: Maybe; cant_deg: Maybe; incline_bias_deg: Maybe; cant_bias_deg: Maybe; correction_tilt_deg: Maybe;
  correction_swing_deg: Maybe; scatter_deg: Maybe; head?: string; incline_bias_sd_deg?: Maybe; cant_bias_sd_deg?: Maybe;
  guides?: { id: string; incline_deg: Maybe; cant_deg: Maybe; outlier: boolean }[];
  map_shift_mm?: { id: string; x_mm: number; y_mm: number; z_mm: number }[];
  words?: string[];
}
export interface HoldResult extends Framed {
  setups: Setup[]; setups_proven?: boolean; fixtures: Fixture[];
  posts: {
    a_mm: [number, number]; b_mm: [number, number]; span_mm: number; position_sd_mm: number; yaw_sd_deg: number; clearance_mm?: Maybe;
  } | null;
  level: Level | null;
}

export interface FoundGuide {
  id: string; x_mm: number; y_mm: number; sd_x_mm: Maybe; sd_y_mm: Maybe; corr: Maybe; program_x_mm: number;
  program_y_mm: number; enter_probability: Maybe; touched: boolean; suspect: boolean; innovation2: Maybe;
}
export interface Assignment { x_mm: number; y_mm: number; valve: string | null; runner_up_odds: Maybe }
export interface FoundSetup {
  id: string; yaw_deg: number; yaw_sd_deg: Maybe; offset_mm: [number, number]; chi2: number; dof: number;
  p_value: Maybe; pattern: string; pattern_undecidable?: boolean; looks_alike?: string | null; learned_from_heads?: number;
  guides: FoundGuide[]; assignments?: Assignment[]; set_aside?: { valve: string; x_mm: number; y_mm: number }[];
  square: { move_mm: number; post: string; shift_mm: [number, number]; worth_it?: boolean } | null;
  least_enter_probability: Maybe; next_touch: string | null; touches_to_target: Maybe;
}
export interface Pilot {
  valve: string; pilot: string | null; play_mm: Maybe; guide: 'ok' | 'repair'; reason: string; lock_depth_mm?: Maybe;
}
export interface Learned { valve: string; mean_mm: [number, number]; sd_of_mean_mm: [number, number]; scatter_mm: Maybe; dof: Maybe }
export interface FindResult extends Framed {
  heads: { head: string; setups: FoundSetup[]; pilots?: Pilot[] }[];
  blind_run: {
    least_enter_probability: number; head_enter_probability: number; post_clearance_for_target_mm?: Maybe; mouth_for_target_mm?: Maybe;
  } | null;
  pilots: Pilot[]; learned?: Learned[];
  repeatability?: { setup: string; alike_sd_mm: Maybe; own_sd_mm: Maybe; heads: number }[];
}

export interface ShapedSeat {
  id: string; contact_od_mm: number; contact_id_mm: number; gauge_mm: number; contact_starts?: string; section_mm: [number, number][];
  cutter: string | null; blade_setting_mm: Maybe; cut_width_mm?: Maybe; cut_contact_od_mm?: Maybe; cleanup_mm: Maybe;
  depth_low_mm?: Maybe; depth_high_mm?: Maybe; limited_by?: string | null; depth_mm: Maybe; z_mm: Maybe;
  stem_height_after_mm: Maybe; recession_added_mm: Maybe; recession_after_mm?: Maybe; removed_mm3: Maybe;
  still_old_mm?: [number, number][]; bridge_mm: Maybe; bridge_to: string | null; cutter_clearance_mm?: Maybe;
  cutter_clearance_to?: string | null; insert_wall_mm: Maybe; insert_wall_outside_mm?: Maybe; insert_wall_inside_mm?: Maybe;
  tip_grind_mm: Maybe; spring_shim_mm: Maybe; lash_shim_thinner_mm?: Maybe; decision: 'cut' | 'insert' | 'not allowed' | 'not measured' | 'below finish';
}
export interface DepthPlan {
  total_mm: Maybe; stem_spread_mm: PerKind; chamber_spread_cm3: Maybe; feasible: boolean; conflict: string[];
  batch?: { heads: string[]; common_stem_mm: PerKind; stem_spread_mm: PerKind; chamber_spread_cm3: Maybe; total_mm: Maybe } | null;
}
export interface InsertFit {
  id: string; interference_mm?: Maybe; pressure_mpa: Maybe; pressure_hot_mpa: Maybe; running_temp_c?: Maybe; hold_force_n: Maybe;
  hoop_mpa: Maybe; ring_hoop_mpa?: Maybe; insert_temp_c: Maybe; head_temp_c: Maybe; counterbore_mm?: Maybe;
  counterbore_within_mm?: Maybe; counterbore_depth_mm?: Maybe; counterbore_depth_within_mm?: Maybe;
}
export interface GuideFit {
  kind: Kind; interference_mm: Maybe; pressure_mpa: Maybe; pressure_hot_mpa: Maybe; hold_force_n: Maybe; hoop_mpa: Maybe;
  guide_temp_c: Maybe; head_temp_c: Maybe;
}
export interface Chamber {
  cylinder: number; before_cm3: Maybe; after_cm3: Maybe; change_cm3: Maybe; compression_before: Maybe; compression_after: Maybe;
}
export interface Flow {
  kind: Kind; throat_diameter_mm: number; throat_mm2: number; second_regime_mm: number; third_regime_mm: number; curve: [number, number][];
}
export interface ShapeResult extends Framed {
  head?: string; seats: ShapedSeat[]; depth: DepthPlan; inserts: InsertFit[];
  sensitivity: { kind: Kind; facet_deg: number; width_per_depth: number }[];
  near_misses?: { kind: Kind; cutter: string; why: string; leaves_width_mm?: number | null; leaves_contact_od_mm?: number | null }[];
  guides?: GuideFit[]; chambers?: Chamber[]; flow?: Flow[];
}

export interface CutSeat {
  id: string; rpm: number; feed_mm_per_turn: number; surface_m_per_min: number; chip_mm: number; torque_nm: Maybe;
  power_w: Maybe; thrust_n: Maybe; dwell_turns: Maybe; stable_width_mm: Maybe; seconds: number; total_width_mm?: Maybe; stable?: boolean | null;
}
export interface CutEstimate {
  currency: string; head: number; lines: { what: string; count: number; rate: number; amount: number }[]; not_included?: string[];
}
export interface CutZero {
  what: 'old seat' | 'finished seat' | 'deck point' | 'block'; valve: string | null; x_mm: Maybe; y_mm: Maybe; z_mm: Maybe;
  kappa_mm: Maybe; trim_mm: Maybe; u_mm: Maybe; words: string;
}
// `cutter` and `zero` are null where each cutter keeps an offset of its own: `zeros` has them then.
export interface CutProgram {
  head: string; setup: string; cutter: number | null; file: string; lines: number; seats: string[]; first: boolean; checked: boolean;
  zero: CutZero | null; zeros?: (CutZero & { cutter: number })[]; halts?: number; clear_mm?: Maybe; positions?: 'found' | 'map';
}
export interface HeldBack { setup: string; valve: string | null; code: string; reason: string; frees: string }
export interface CutResult extends Framed {
  seats: CutSeat[]; order: string[]; seconds_head: number; estimate: CutEstimate | null;
  programs: CutProgram[]; held_back?: HeldBack[]; halts_head?: number;
  calm_rpm: number[]; cutters?: { number: number; cutter: string; blade_setting_mm: Maybe }[]; cutter_changes?: number;
  path_mm?: Maybe; path_bound_mm?: Maybe; seconds?: { load: number; setups: number; cutter_changes: number; seats: number };
  seconds_batch?: Maybe;
  chatter?: { what: string; width_mm: Maybe; least_width_mm: Maybe; rpm: Maybe; slowest_rpm: Maybe; fastest_rpm: Maybe; stable: boolean }[];
}

export type VerdictWord = 'pass' | 'fail' | 'undecided' | 'not measured';
export interface Verdict {
  what: string; value: Maybe; limit_low: Maybe; limit_high: Maybe; u: Maybe; verdict: VerdictWord; limit_source?: string;
  caution?: string | null; coverage?: Maybe; budget?: { what: string; u: Maybe; dof: Maybe }[]; decider?: string | null;
}
export interface Cause { what: string; statement: string; share: Maybe; sureness: string; frequency_hz?: Maybe }
export interface ProvedSeat {
  head: string; id: string; tir_mm: Maybe; eccentricity_mm: Maybe; eccentricity_deg: Maybe;
  roundness_mm: { ls: Maybe; mz: Maybe; mc: Maybe; mi: Maybe } | null;
  harmonics_mm: { order: number; amplitude_mm: number; phase_deg: Maybe; amplitude_u_mm?: Maybe }[];
  width_mm: Maybe; stem_height_mm: Maybe; verdicts: Verdict[]; verdict?: VerdictWord; by?: string; date?: string; gauge?: string;
  calibrated?: string; accepted_by?: string; vacuum_kpa?: Maybe; leak_kpa_per_s?: Maybe;
  slipped_zero?: { reading: number; angle_deg: Maybe; step_mm: Maybe } | null; causes?: Cause[];
}
export interface BatchLine {
  what: string; kind: Kind; n: number; mean: number; sigma: Maybe; cp: Maybe; cpk: Maybe; cpk_low: Maybe; cpk_high?: Maybe;
  centre: number; lower: Maybe; upper: Maybe; signals: { head: string; rule: string }[]; drift_per_head: Maybe; drift_p?: Maybe;
  limit_at_head: Maybe; limit_low?: Maybe; limit_high?: Maybe; chart?: string; tolerance_low?: Maybe; tolerance_high?: Maybe; breaks?: unknown[];
}
export interface ProveResult extends Framed {
  seats: ProvedSeat[]; batch: BatchLine[]; verdict: VerdictWord; unmeasured?: { head: string; id: string }[];
  positions?: { what: string; id: string; n: number; mean: number; sd: Maybe; worst_in: number }[];
  components?: { what: string; kind: Kind; factor: string; sd: Maybe; share: Maybe; remark: string }[];
  sampling?: {
    measured: number; passed: number; confidence: number; pass_rate_low: number; plans: { pass_rate: number; needed: number }[]; words: string;
  } | null;
  calm_rpm?: number[];
}
