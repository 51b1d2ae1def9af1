// Made from schema/results.json by scripts/made.mjs.

export type Kind = 'intake' | 'exhaust';
export type VerdictWord = 'pass' | 'fail' | 'undecided' | 'not measured';

/**
 * What each stage answers with --json. A key carries its unit; lengths are mm whatever the job's unit; a number is finite or null, and null is not known or not measured, never zero.
 */
export interface Results {
  hold?: HoldResult;
  find?: FindResult;
  shape?: ShapeResult;
  cut?: CutResult;
  prove?: ProveResult;
}
/**
 * How the head must sit.
 */
export interface HoldResult {
  /**
   * version of the program
   */
  seatwright?: string;
  /**
   * title of the job
   */
  job?: string;
  warnings?: Warning[];
  /**
   * what was taken for granted, as sentences
   */
  assumptions?: string[];
  inputs: HeldInput[];
  setups: Setup[];
  /**
   * no fewer setups will do
   */
  setups_proven: boolean;
  fixtures: Fixture[];
  posts: Posts | null;
  level: Level | null;
}
export interface Warning {
  /**
   * the stage that says it
   */
  stage: string;
  /**
   * short and stable
   */
  code: string;
  /**
   * the valve it concerns
   */
  valve: string | null;
  /**
   * a sentence, in the job's unit
   */
  text: string;
  /**
   * what stands in the sentence, by name, whatever the unit: figures with theirs in the key (off_mm, lean_deg, mass_kg), names as text, a clause as {text, values}, a list as an array
   */
  values: {
    [k: string]: unknown;
  };
  /**
   * the plan cannot be carried out as asked; exit status 3
   */
  blocking: boolean;
  /**
   * to a page: how the sentence names the head, where it does
   */
  named?: string | null;
}
/**
 * A figure hold stands on.
 */
export interface HeldInput {
  /**
   * its key in the job file
   */
  what: string;
  value: number | null;
  unit: string;
  /**
   * where it came from; default: made up by a question or a template (head.assumed)
   */
  from: string;
}
export interface Setup {
  id: string;
  /**
   * valve the map counts from
   */
  datum: string;
  tilt_deg: number;
  swing_deg: number;
  worst_plumb_deg: number;
  /**
   * machine travel left
   */
  travel_margin_mm: AlongAxes;
  valves: HeldValve[];
  safety: Safety;
}
export interface AlongAxes {
  x: number | null;
  y: number | null;
}
export interface HeldValve {
  id: string;
  /**
   * what its guide stands out of plumb in this setup
   */
  plumb_deg: number;
  /**
   * within fixture.plumb_limit
   */
  reachable: boolean;
  /**
   * map from the setup's datum guide, with the readout's signs
   */
  x_mm: number;
  y_mm: number;
  z_mm: number;
}
export interface Safety {
  mass_kg: number | null;
  /**
   * deck to level
   */
  slope_deg: number;
  /**
   * grip of the clamps over the pull of the slope
   */
  slip_factor: number | null;
  /**
   * null: friction is not known
   */
  slides_when_released: boolean | null;
  /**
   * slides, but against the posts or a captive fixture
   */
  stopped: boolean;
  /**
   * side to load from
   */
  uphill: ('back' | 'front') | null;
}
export interface Fixture {
  name: string;
  fits: boolean;
  why: string;
  best: boolean;
}
export interface Posts {
  /**
   * bolt hole of a post, head frame
   *
   * @minItems 2
   * @maxItems 2
   */
  a_mm: [number, number];
  /**
   * @minItems 2
   * @maxItems 2
   */
  b_mm: [number, number];
  span_mm: number;
  /**
   * from head to head, per axis
   */
  position_sd_mm: number | null;
  yaw_sd_deg: number | null;
  /**
   * hole less post, diameters
   */
  clearance_mm: number | null;
}
/**
 * Level readings; null of a head never levelled.
 */
export interface Level {
  /**
   * mean lean, the guides' upper ends towards +Y
   */
  incline_deg: number | null;
  /**
   * towards +X
   */
  cant_deg: number | null;
  /**
   * the sensor's own
   */
  incline_bias_deg: number | null;
  cant_bias_deg: number | null;
  /**
   * the way the guides' upper ends must move
   */
  correction_tilt_deg: number | null;
  correction_swing_deg: number | null;
  /**
   * between guides
   */
  scatter_deg: number | null;
  head: string;
  incline_bias_sd_deg: number | null;
  cant_bias_sd_deg: number | null;
  /**
   * change on the fixture's own scale
   */
  set_tilt_deg: number | null;
  set_swing_deg: number | null;
  guides: LevelGuide[];
  /**
   * what the correction moves the map by
   */
  map_shift_mm: MapShift[];
  words: string[];
}
export interface LevelGuide {
  id: string;
  incline_deg: number | null;
  cant_deg: number | null;
  /**
   * far from the others
   */
  outlier: boolean;
}
export interface MapShift {
  id: string;
  x_mm: number;
  y_mm: number;
  z_mm: number;
}
/**
 * Where every guide is, how sure that is, which to touch next.
 */
export interface FindResult {
  /**
   * version of the program
   */
  seatwright?: string;
  /**
   * title of the job
   */
  job?: string;
  warnings?: Warning[];
  /**
   * what was taken for granted, as sentences
   */
  assumptions?: string[];
  heads: FoundHead[];
  blind_run: BlindRun | null;
  pilots: Pilot[];
  learned: Learned[];
  repeatability: Repeatability[];
}
export interface FoundHead {
  head: string;
  setups: FoundSetup[];
  pilots: Pilot[];
}
export interface FoundSetup {
  id: string;
  yaw_deg: number;
  yaw_sd_deg: number | null;
  /**
   * @minItems 2
   * @maxItems 2
   */
  offset_mm: [number, number];
  chi2: number;
  dof: number;
  p_value: number | null;
  pattern: 'as declared' | 'end for end' | 'mirrored' | 'mirrored end for end';
  /**
   * touches cannot tell which way round
   */
  pattern_undecidable: boolean;
  looks_alike: string | null;
  learned_from_heads: number;
  datum_assumed: boolean;
  guides: FoundGuide[];
  assignments: Assignment[];
  set_aside: SetAside[];
  square: Square | null;
  least_enter_probability: number | null;
  next_touch: string | null;
  touches_to_target: number | null;
}
export interface FoundGuide {
  id: string;
  /**
   * readout
   */
  x_mm: number;
  y_mm: number;
  sd_x_mm: number | null;
  sd_y_mm: number | null;
  corr: number | null;
  /**
   * rounded to the readout
   */
  program_x_mm: number;
  program_y_mm: number;
  enter_probability: number | null;
  /**
   * (mouth - tip)/2
   */
  entry_clearance_mm: number | null;
  touched: boolean;
  suspect: boolean;
  /**
   * squared distance from what the others predict
   */
  innovation2: number | null;
}
/**
 * Where an unlabelled touch went.
 */
export interface Assignment {
  x_mm: number;
  y_mm: number;
  valve: string | null;
  runner_up_odds: number | null;
}
/**
 * A suspect touch that is not used.
 */
export interface SetAside {
  valve: string;
  x_mm: number;
  y_mm: number;
}
/**
 * How far to shift one post to square the row.
 */
export interface Square {
  move_mm: number;
  post: string;
  /**
   * @minItems 2
   * @maxItems 2
   */
  shift_mm: [number, number];
  worth_it: boolean;
}
export interface Pilot {
  valve: string;
  pilot: string | null;
  play_mm: number | null;
  guide: 'ok' | 'repair';
  reason: string;
  /**
   * below the guide's top
   */
  lock_depth_mm: number | null;
}
export interface BlindRun {
  least_enter_probability: number | null;
  /**
   * with the sizes below absent in the state of one head (/results/find has them)
   */
  head_enter_probability?: number | null;
  post_clearance_for_target_mm?: number | null;
  mouth_for_target_mm?: number | null;
}
export interface Learned {
  valve: string;
  /**
   * @minItems 2
   * @maxItems 2
   */
  mean_mm: [number, number];
  /**
   * @minItems 2
   * @maxItems 2
   */
  sd_of_mean_mm: [number | null, number | null];
  scatter_mm: number | null;
  dof: number | null;
}
export interface Repeatability {
  setup: string;
  alike_sd_mm: number | null;
  own_sd_mm: number | null;
  heads: number;
}
/**
 * Section, depths, inserts and consequences.
 */
export interface ShapeResult {
  /**
   * version of the program
   */
  seatwright?: string;
  /**
   * title of the job
   */
  job?: string;
  warnings?: Warning[];
  /**
   * what was taken for granted, as sentences
   */
  assumptions?: string[];
  /**
   * whose readings
   */
  head: string;
  seats: ShapedSeat[];
  depth: DepthPlan;
  inserts: InsertFit[];
  sensitivity: Sensitivity[];
  near_misses: NearMiss[];
  guides: GuideFit[];
  chambers: Chamber[];
  flow: Flow[];
}
export interface ShapedSeat {
  id: string;
  contact_od_mm: number | null;
  contact_id_mm: number | null;
  gauge_mm: number | null;
  contact_starts: 'outer edge' | 'inner edge' | 'whole face';
  /**
   * [r, z] from inside to outside, z = 0 at the gauge circle
   */
  section_mm: [number | null, number | null][];
  cutter: string | null;
  blade_setting_mm: number | null;
  /**
   * what that blade leaves
   */
  cut_width_mm: number | null;
  cut_contact_od_mm: number | null;
  /**
   * ρ: the old seat below its drawing height; null where not read or known by differences alone
   */
  recession_mm: number | null;
  /**
   * its standard uncertainty
   */
  recession_u_mm: number | null;
  /**
   * what the old height was made from
   */
  height_from: ('touched' | 'rest_z' | 'recession' | 'below_deck' | 'stem_height' | 'as drawn') | null;
  /**
   * κ: the cutter's rest over the old height
   */
  rest_mm: number | null;
  cleanup_mm: number | null;
  depth_low_mm: number | null;
  depth_high_mm: number | null;
  limited_by: string | null;
  /**
   * null where the plan is to a finished height and the old seat was not read
   */
  depth_mm: number | null;
  /**
   * the gauge circle below its drawing height
   */
  finished_recession_mm: number | null;
  /**
   * the same as a height along the guide, up positive
   */
  stop_s_mm: number | null;
  /**
   * from the reference the job names
   */
  z_mm: number | null;
  /**
   * the stop in the seat's own program, trim included
   */
  program_z_mm: number | null;
  stem_height_after_mm: number | null;
  recession_added_mm: number | null;
  recession_after_mm: number | null;
  removed_mm3: number | null;
  /**
   * radii between which old surface is left
   */
  still_old_mm: [number | null, number | null][];
  bridge_mm: number | null;
  bridge_to: string | null;
  cutter_clearance_mm: number | null;
  cutter_clearance_to: string | null;
  insert_wall_mm: number | null;
  insert_wall_outside_mm: number | null;
  insert_wall_inside_mm: number | null;
  tip_grind_mm: number | null;
  spring_shim_mm: number | null;
  lash_shim_thinner_mm: number | null;
  decision: 'cut' | 'insert' | 'not allowed' | 'not measured' | 'below finish';
}
export interface DepthPlan {
  total_mm: number | null;
  total_unrounded_mm: number | null;
  stem_spread_mm: PerKind;
  chamber_spread_cm3: number | null;
  feasible: boolean;
  /**
   * limits that cannot hold together, as sentences
   */
  conflict: string[];
  anew: PlanAnew | null;
  batch: Batch | null;
}
export interface PerKind {
  intake: number | null;
  exhaust: number | null;
}
/**
 * Depths as planned with Z moved alone (shifted) beside depths made anew around a first seat that went deeper than the plan bears.
 */
export interface PlanAnew {
  /**
   * the first seats that went deeper
   */
  after: string[];
  /**
   * "shifted" or "anew"; null: the files of these seats wait for it
   */
  chosen: string | null;
  shifted: DepthWay;
  anew: DepthWay;
  seats: AnewSeat[];
}
/**
 * One way on after a first seat that went deeper than the plan bears.
 */
export interface DepthWay {
  /**
   * of all depths; null where one is not known
   */
  total_mm: number | null;
  /**
   * in total than planned, of seats still to be cut
   */
  deeper_mm: number;
  /**
   * limits and spreads it does not keep, as sentences
   */
  breaks: string[];
}
export interface AnewSeat {
  id: string;
  /**
   * its depth as planned; of the first seat as measured; null where its old seat was not read
   */
  shifted_mm: number | null;
  /**
   * than planned
   */
  shifted_deeper_mm: number;
  /**
   * its depth made anew
   */
  anew_mm: number | null;
  /**
   * than planned
   */
  anew_deeper_mm: number;
  /**
   * made anew it would need an insert
   */
  anew_insert: boolean;
}
/**
 * All heads planned together.
 */
export interface Batch {
  heads: string[];
  common_stem_mm: PerKind;
  stem_spread_mm: PerKind;
  chamber_spread_cm3: number | null;
  total_mm: number | null;
}
export interface InsertFit {
  id: string;
  interference_mm: number | null;
  pressure_mpa: number | null;
  pressure_hot_mpa: number | null;
  running_temp_c: number | null;
  hold_force_n: number | null;
  hoop_mpa: number | null;
  ring_hoop_mpa: number | null;
  /**
   * how cold for free assembly; null: cold alone cannot free it
   */
  insert_temp_c: number | null;
  head_temp_c: number | null;
  counterbore_mm: number | null;
  counterbore_within_mm: number | null;
  counterbore_depth_mm: number | null;
  counterbore_depth_within_mm: number | null;
}
export interface Sensitivity {
  kind: Kind;
  facet_deg: number;
  width_per_depth: number | null;
  next_to_face: boolean;
}
export interface NearMiss {
  kind: Kind;
  cutter: string;
  why: string;
  leaves_width_mm: number | null;
  leaves_contact_od_mm: number | null;
}
export interface GuideFit {
  kind: Kind;
  interference_mm: number | null;
  pressure_mpa: number | null;
  pressure_hot_mpa: number | null;
  hold_force_n: number | null;
  hoop_mpa: number | null;
  guide_temp_c: number | null;
  head_temp_c: number | null;
}
export interface Chamber {
  cylinder: number;
  before_cm3: number | null;
  after_cm3: number | null;
  change_cm3: number | null;
  compression_before: number | null;
  compression_after: number | null;
}
export interface Flow {
  kind: Kind;
  throat_diameter_mm: number | null;
  throat_mm2: number | null;
  /**
   * lift where it begins
   */
  second_regime_mm: number | null;
  third_regime_mm: number | null;
  /**
   * [lift mm, area mm2]
   */
  curve: [number | null, number | null][];
}
/**
 * Speeds, order, time and programs.
 */
export interface CutResult {
  /**
   * version of the program
   */
  seatwright?: string;
  /**
   * title of the job
   */
  job?: string;
  warnings?: Warning[];
  /**
   * what was taken for granted, as sentences
   */
  assumptions?: string[];
  seats: CutSeat[];
  /**
   * as machined, the first seat first and the touched one last
   */
  order: string[];
  seconds_head: number | null;
  estimate: CutEstimate | null;
  programs: CutProgram[];
  /**
   * exit status 3 while it is not empty
   */
  held_back: HeldBack[];
  calm_rpm: (number | null)[];
  cutters: CutterNumber[];
  cutter_changes: number;
  halts_head: number;
  path_mm: number | null;
  /**
   * how short the path is proven to be
   */
  path_bound_mm: number | null;
  seconds: Seconds;
  seconds_batch: number | null;
  chatter: ChatterChart[];
}
export interface CutSeat {
  id: string;
  pilot: string | null;
  rpm: number | null;
  fastest_rpm: number | null;
  feed_mm_per_turn: number | null;
  finish_feed_mm_per_turn: number | null;
  surface_m_per_min: number | null;
  chip_mm: number | null;
  torque_nm: number | null;
  power_w: number | null;
  thrust_n: number | null;
  dwell_turns: number | null;
  stable_width_mm: number | null;
  /**
   * 0: no cutter of the shelf makes it
   */
  seconds: number | null;
  total_width_mm: number | null;
  stable: boolean | null;
}
export interface CutEstimate {
  currency: string;
  head: number | null;
  lines: EstimateLine[];
  not_included: string[];
}
export interface EstimateLine {
  what: string;
  count: number | null;
  rate: number | null;
  amount: number | null;
}
export interface CutProgram {
  head: string;
  setup: string;
  /**
   * null where lengths are offsets
   */
  cutter: number | null;
  file: string;
  lines: number;
  seats: string[];
  /**
   * cuts first seats only
   */
  first: boolean;
  /**
   * of the seats it cuts short, to be measured
   */
  first_readings: FirstReading[];
  /**
   * read back and found right; false of a draft, which no machine is to run
   */
  checked: boolean;
  zero: CutZero | null;
  halts: number;
  clear_mm: number | null;
  positions: 'found' | 'map';
  stops: Stop[];
  /**
   * where lengths are offsets
   */
  zeros?: NumberedZero[];
}
export interface FirstReading {
  valve: string;
  /**
   * the key of its reading
   */
  figure: 'depth' | 'stem_height' | 'below_deck';
  /**
   * what it should read, short as it is cut
   */
  planned_mm: number | null;
}
/**
 * How a cutter's Z0 is taken.
 */
export interface CutZero {
  what: 'old seat' | 'finished seat' | 'deck point' | 'block';
  valve: string | null;
  x_mm: number | null;
  y_mm: number | null;
  /**
   * ζ: height of the cutter's gauge plane when the control shows 0
   */
  z_mm: number | null;
  kappa_mm: number | null;
  trim_mm: number | null;
  /**
   * expanded, k 2, of the worst seat
   */
  u_mm: number | null;
  /**
   * what stands in the guide Z0 is taken in
   */
  pilot: string | null;
  words: string;
}
export interface Stop {
  id: string;
  x_mm: number | null;
  y_mm: number | null;
  z_mm: number | null;
  /**
   * in the tool, or planted in this guide
   */
  pilot: string | null;
  cutter: number;
}
export interface NumberedZero {
  cutter: number;
  what: 'old seat' | 'finished seat' | 'deck point' | 'block';
  valve: string | null;
  x_mm: number | null;
  y_mm: number | null;
  /**
   * ζ: height of the cutter's gauge plane when the control shows 0
   */
  z_mm: number | null;
  kappa_mm: number | null;
  trim_mm: number | null;
  /**
   * expanded, k 2, of the worst seat
   */
  u_mm: number | null;
  /**
   * what stands in the guide Z0 is taken in
   */
  pilot: string | null;
  words: string;
}
/**
 * What no file may hold.
 */
export interface HeldBack {
  /**
   * its id; what holds the whole head is an entry for each setup
   */
  setup: string;
  valve: string | null;
  code:
    | 'not-measured'
    | 'below-finish'
    | 'too-deep'
    | 'guide-repair'
    | 'no-pilot'
    | 'pilot-window'
    | 'guide-room'
    | 'no-cutter'
    | 'not-allowed'
    | 'touch-first'
    | 'fit'
    | 'way-round'
    | 'reach'
    | 'travel'
    | 'plumb'
    | 'safety'
    | 'clash'
    | 'zero-void'
    | 'trim-large'
    | 'doubt'
    | 'suspect'
    | 'not-from-you'
    | 'missing';
  reason: string;
  /**
   * what would free it
   */
  frees: string;
  /**
   * what stands in the reason, as in a warning
   */
  values: {
    [k: string]: unknown;
  };
  /**
   * to a page: how the reason names the valve or setup, which stands before it there
   */
  named?: string;
  /**
   * to a page: the key of the figure that is lacking
   */
  key?: string | null;
  /**
   * to a page: what a lead may let pass
   */
  allow?: string | null;
  /**
   * to a page: the figure that is asked about, as `sure` names it and as a page does
   */
  sure?: {
    entry: string;
    said: string;
  } | null;
}
export interface CutterNumber {
  number: number;
  cutter: string;
  blade_setting_mm: number | null;
}
export interface Seconds {
  load: number | null;
  setups: number | null;
  cutter_changes: number | null;
  seats: number | null;
}
export interface ChatterChart {
  what: string;
  width_mm: number | null;
  least_width_mm: number | null;
  rpm: number | null;
  slowest_rpm: number | null;
  fastest_rpm: number | null;
  stable: boolean;
  /**
   * [rpm, stable width]; not in the state of one head
   */
  points?: [number | null, number | null][];
}
/**
 * Verdicts with their uncertainty.
 */
export interface ProveResult {
  /**
   * version of the program
   */
  seatwright?: string;
  /**
   * title of the job
   */
  job?: string;
  warnings?: Warning[];
  /**
   * what was taken for granted, as sentences
   */
  assumptions?: string[];
  seats: ProvedSeat[];
  batch: BatchLine[];
  verdict: VerdictWord;
  unmeasured: Unmeasured[];
  /**
   * of kinds whose stem heights tell, where the job has a stem_spread
   */
  stem_spreads?: StemSpread[];
  /**
   * limits of the job that nothing is claimed of here
   */
  not_judged?: NotJudged[];
  positions: Position[];
  components: Component[];
  sampling: Sampling | null;
  calm_rpm: (number | null)[];
}
export interface ProvedSeat {
  head: string;
  id: string;
  tir_mm: number | null;
  eccentricity_mm: number | null;
  eccentricity_deg: number | null;
  roundness_mm: Roundness | null;
  harmonics_mm: Harmonic[];
  width_mm: number | null;
  stem_height_mm: number | null;
  verdicts: Verdict[];
  verdict: VerdictWord;
  by: string;
  date: string;
  gauge: string;
  calibrated: string;
  sessions: MeasuredBy[];
  accepted_by: string;
  cutter: string | null;
  vacuum_kpa: number | null;
  leak_kpa_per_s: number | null;
  noise_mm: number | null;
  widest_gap_deg: number | null;
  slipped_zero: Slip | null;
  circles: Circles | null;
  causes: Cause[];
}
export interface Roundness {
  ls: number | null;
  mz: number | null;
  mc: number | null;
  mi: number | null;
}
export interface Harmonic {
  order: number;
  amplitude_mm: number | null;
  phase_deg: number | null;
  maximum_deg: number | null;
  amplitude_u_mm: number | null;
}
export interface Verdict {
  what: string;
  value: number | null;
  limit_low: number | null;
  limit_high: number | null;
  /**
   * expanded uncertainty
   */
  u: number | null;
  verdict: VerdictWord;
  unit: string;
  limit_source: string;
  caution: string | null;
  /**
   * factor of u
   */
  coverage: number | null;
  budget: BudgetLine[];
  session: number | null;
  decider: string | null;
}
export interface BudgetLine {
  what: string;
  u: number | null;
  dof: number | null;
}
/**
 * Who measured what with which gauge.
 */
export interface MeasuredBy {
  what: string[];
  by: string;
  date: string;
  gauge: string;
  calibrated: string;
}
export interface Slip {
  reading: number;
  angle_deg: number | null;
  step_mm: number | null;
}
export interface Circles {
  ls: Circle;
  mz: Circle;
  mc: Circle;
  mi: Circle;
}
export interface Circle {
  radius_mm: number | null;
  x_mm: number | null;
  y_mm: number | null;
}
export interface Cause {
  what: string;
  statement: string;
  share: number | null;
  sureness: string;
  orders: number[];
  frequency_hz: number | null;
}
export interface BatchLine {
  what: string;
  kind: Kind;
  n: number;
  mean: number | null;
  sigma: number | null;
  cp: number | null;
  cpk: number | null;
  cpk_low: number | null;
  centre: number | null;
  lower: number | null;
  upper: number | null;
  signals: Signal[];
  drift_per_head: number | null;
  limit_at_head: number | null;
  cpk_high: number | null;
  chart: string;
  sigma_overall: number | null;
  ppk: number | null;
  limit_low: number | null;
  limit_high: number | null;
  drift_p: number | null;
  tolerance_low: number | null;
  tolerance_high: number | null;
  /**
   * one a point; with points, subgroup_sizes, spreads and breaks absent in the state of one head (/results/prove has them)
   */
  heads?: string[];
  points?: (number | null)[];
  subgroup_sizes?: number[];
  spreads?: (number | null)[];
  spread_centre: number | null;
  spread_lower: number | null;
  spread_upper: number | null;
  breaks?: number[];
}
export interface Signal {
  head: string;
  rule: string;
}
export interface Unmeasured {
  head: string;
  id: string;
}
/**
 * how far the stem heights of one kind of one head lie apart, mm
 */
export interface StemSpread {
  head: string;
  kind: Kind;
  /**
   * valve
   */
  lowest: string;
  /**
   * valve
   */
  highest: string;
  value: number;
  /**
   * stem_spread of the job
   */
  limit_high: number;
  /**
   * expanded uncertainty
   */
  u: number | null;
  verdict: VerdictWord;
}
/**
 * a limit of the job that no reading after cutting is held against
 */
export interface NotJudged {
  what: 'recession' | 'below deck' | 'stem spread' | 'chamber spread';
  kind: Kind | null;
}
export interface Position {
  what: string;
  id: string;
  n: number;
  mean: number | null;
  sd: number | null;
  worst_in: number;
}
export interface Component {
  what: string;
  kind: Kind;
  factor: string;
  sd: number | null;
  share: number | null;
  remark: string;
}
export interface Sampling {
  measured: number;
  passed: number;
  confidence: number | null;
  pass_rate_low: number | null;
  plans: SamplingPlan[];
  words: string;
}
export interface SamplingPlan {
  pass_rate: number | null;
  needed: number;
  /**
   * seats without a further failure
   */
  more: number | null;
}
/**
 * How heads will be judged, chances adding to 1.
 */
export interface ForecastVerdict {
  /**
   * every measured value inside by its U
   */
  pass: number | null;
  /**
   * a pilot does not enter, or a measured value is outside by U
   */
  fail: number | null;
  undecided: number | null;
}
/**
 * Joint chances (JCGM 106, global).
 */
export interface Risk {
  /**
   * a head is bad and passed
   */
  consumer: number | null;
  /**
   * a head is good and not passed
   */
  producer: number | null;
  /**
   * of these failed
   */
  producer_fail: number | null;
  /**
   * of these undecided
   */
  producer_undecided: number | null;
}
export interface HistogramBar {
  from: number | null;
  to: number | null;
  share: number | null;
}
/**
 * One figure of the seats of a kind over the batch.
 */
export interface Characteristic {
  /**
   * of one seat
   */
  what: 'runout' | 'width' | 'stem height';
  kind: Kind;
  /**
   * mm; over all seats of the kind, their pilots entering or not; null: no planned height
   */
  mean: number | null;
  /**
   * mm
   */
  sd: number | null;
  /**
   * mm
   */
  p05: number | null;
  /**
   * mm
   */
  p50: number | null;
  /**
   * mm
   */
  p95: number | null;
  /**
   * mm
   */
  limit_low: number | null;
  /**
   * mm
   */
  limit_high: number | null;
  /**
   * of one seat; null without a limit
   */
  pass_rate: number | null;
  cpk: number | null;
  bars: HistogramBar[];
}
export interface ForecastCause {
  /**
   * largest share first; one that brings nothing is left out
   */
  cause: 'posts' | 'yaw' | 'casting' | 'touch' | 'positioning' | 'play' | 'pilot runout' | 'attitude' | 'guide direction' | 'residual';
  /**
   * of the runout's mean square over all seats, adding to 1
   */
  share: number | null;
  /**
   * root mean square it would make alone
   */
  rms_mm: number | null;
}
/**
 * A change and what it brings.
 */
export interface Change {
  /**
   * what is changed
   */
  what: string;
  from: number | string | null;
  to: number | string | null;
  /**
   * of from and to; empty for names
   */
  unit: string;
  /**
   * then
   */
  pass_rate: number | null;
  gain: number | null;
  /**
   * 95 % limits of the computation, on common draws
   */
  gain_low: number | null;
  gain_high: number | null;
  /**
   * null where a figure is merely halved
   */
  cost: ChangeCost | null;
  /**
   * of a gauge, which makes no head better, only what is read of it; else null
   */
  as_measured: ChangeAsMeasured | null;
}
/**
 * What a change costs.
 */
export interface ChangeCost {
  /**
   * on every head of the batch; a touch 15 s, a blade 300 s by common practice
   */
  seconds_head: number | null;
  /**
   * of the shelf, set once
   */
  once: boolean;
  /**
   * to set it: posts 600 s, a cutter 300 s, a pilot 60 s by common practice, a gauge 0
   */
  seconds_once: number | null;
  /**
   * of the whole batch, a second worth what the shop's rates ask for a head over the seconds it takes
   */
  amount: number | null;
  currency: string | null;
}
/**
 * What another gauge changes of verdicts and risks.
 */
export interface ChangeAsMeasured {
  verdict: ForecastVerdict;
  risk: Risk;
  /**
   * of the heads that the readings pass
   */
  gain: number | null;
  /**
   * 95 % limits of the computation, on common draws
   */
  gain_low: number | null;
  gain_high: number | null;
}
export interface BestChange {
  what: string;
  pass_rate: number | null;
}
export interface HeadRate {
  /**
   * of the batch, from 1
   */
  head: number;
  pass_rate: number | null;
}
/**
 * A figure the forecast stands on.
 */
export interface ForecastInput {
  /**
   * its key where it has one
   */
  what: string;
  value: number | null;
  unit: string;
  from: 'record' | 'job' | 'common practice';
  /**
   * degrees of freedom of an estimated standard deviation; null: taken as it is
   */
  dof: number | null;
}
/**
 * A batch worked out in advance.
 */
export interface ForecastResult {
  /**
   * version of the program
   */
  seatwright?: string;
  /**
   * title of the job
   */
  job?: string;
  warnings?: Warning[];
  /**
   * what was taken for granted, as sentences
   */
  assumptions?: string[];
  /**
   * of the batch
   */
  heads: number;
  /**
   * valves whose guides are touched on every head
   */
  touched: string[];
  /**
   * heads drawn one by one; null: integrated
   */
  draws: number | null;
  seed: number | null;
  /**
   * mean over the batch of the chance that a head is good; null: nothing to judge by
   */
  pass_rate: number | null;
  /**
   * 95 % limits of the shop's true rate, what is not known of the inputs included
   */
  pass_low: number | null;
  pass_high: number | null;
  /**
   * 95 % of the computation alone
   */
  pass_error: number | null;
  verdict: ForecastVerdict | null;
  risk: Risk | null;
  characteristics: Characteristic[];
  causes: ForecastCause[];
  /**
   * best first
   */
  changes: Change[];
  best_change: BestChange | null;
  by_head: HeadRate[];
  /**
   * first head to be cut with a changed blade: after change_every heads, else where the chance of a good head has fallen by 0.01
   */
  change_at_head: number | null;
  inputs: ForecastInput[];
  /**
   * it took
   */
  seconds: number | null;
}
/**
 * A valve as [[head.valve]] has it, mm and deg, each figure with its standard uncertainty; null is left open by the readings.
 */
export interface SurveyHeadValve {
  id: string;
  cylinder: number;
  kind: Kind;
  x: number | null;
  u_x: number | null;
  y: number | null;
  u_y: number | null;
  z: number | null;
  u_z: number | null;
  incline: number | null;
  u_incline: number | null;
  cant: number | null;
  u_cant: number | null;
}
/**
 * A hole no cutter may touch, as head.obstacle has it, mm.
 */
export interface SurveyObstacle {
  name: string;
  x: number | null;
  u_x: number | null;
  y: number | null;
  u_y: number | null;
  diameter: number | null;
}
/**
 * The job's [head] with u_… beside each figure, mm, deg, kg.
 */
export interface SurveyHead {
  name: string;
  material: string | null;
  mass: number | null;
  bolt_holes: [number | null, number | null][];
  u_bolt_holes: [number | null, number | null][];
  bolt_hole_diameter: number | null;
  obstacle: SurveyObstacle[];
  valve: SurveyHeadValve[];
}
/**
 * A valve in the head frame: deck z = 0, +X along the row, origin the first cylinder's centre.
 */
export interface SurveyValve {
  id: string;
  kind: Kind;
  /**
   * null: left open by the readings, here and in what follows
   */
  x_mm: number | null;
  y_mm: number | null;
  /**
   * as found on this head
   */
  z_mm: number | null;
  incline_deg: number | null;
  cant_deg: number | null;
  /**
   * standard uncertainty of x and y, root mean square of the two
   */
  u_xy_mm: number | null;
  u_z_mm: number | null;
  /**
   * of incline and cant, root mean square of the two
   */
  u_angle_deg: number | null;
  /**
   * as measured in this guide
   */
  bore_mm: number | null;
  /**
   * diameter of the circle of the seat x, y, z are the centre of, where a ball on the seat or its size says it
   */
  gauge_mm: number | null;
  seat_angle_deg: number | null;
  /**
   * in which the spindle was over it
   */
  setup: string | null;
  u_x_mm: number | null;
  u_y_mm: number | null;
  u_incline_deg: number | null;
  u_cant_deg: number | null;
  /**
   * of x, y, z
   */
  covariance_mm2: (number | null)[][] | null;
}
/**
 * A hole of the deck.
 */
export interface SurveyHole {
  x_mm: number | null;
  y_mm: number | null;
  diameter_mm: number | null;
  /**
   * of x and y, root mean square of the two
   */
  u_mm: number | null;
  what: 'bolt' | 'plug' | 'other';
  id: string;
}
/**
 * A setup as solved.
 */
export interface SurveySetup {
  setup: string;
  tilt_deg: number | null;
  swing_deg: number | null;
  /**
   * root mean square of what its places are off
   */
  residual_mm: number | null;
  yaw_deg: number | null;
  u_tilt_deg: number | null;
  u_swing_deg: number | null;
}
/**
 * A reading that was not used.
 */
export interface SurveyAside {
  line: number;
  key: string;
  what: string;
  why: string;
}
/**
 * What repeats over the head, offered.
 */
export interface SurveyRepeat {
  what: string;
  value_mm: number | null;
  /**
   * the largest left over
   */
  residual_mm: number | null;
  /**
   * that figures by chance agree as well
   */
  chance: number | null;
  text: string;
}
/**
 * A reading to take next, what helps most first.
 */
export interface SurveyMissing {
  what: string;
  why: string;
  /**
   * what to read and the keys to type it under
   */
  next: string;
  /**
   * by how much it lowers the valves' worst relative uncertainty, on average
   */
  help: number | null;
}
/**
 * A size over the guides of a kind.
 */
export interface SurveySize {
  what: string;
  kind: Kind;
  value_mm: number | null;
  u_mm: number | null;
  count: number;
}
/**
 * A head described from readings at the machine.
 */
export interface SurveyResult {
  /**
   * version of the program
   */
  seatwright: string;
  /**
   * title of the job
   */
  job: string;
  warnings: Warning[];
  /**
   * what was taken for granted, as sentences
   */
  assumptions: string[];
  head: SurveyHead;
  valves: SurveyValve[];
  holes: SurveyHole[];
  repeats: SurveyRepeat[];
  missing: SurveyMissing[];
  /**
   * what the sensor reads too much in its own sign
   */
  sensor_zero_deg: number | null;
  u_sensor_zero_deg: number | null;
  setups: SurveySetup[];
  set_aside: SurveyAside[];
  sizes: SurveySize[];
  chi2: number | null;
  dof: number | null;
  /**
   * that honest readings scatter as much
   */
  p_value: number | null;
  /**
   * with --over; null: too few holes come together
   */
  over?: LaidOver | null;
}
/**
 * Another description of the head laid over this one by the bolt holes.
 */
export interface LaidOver {
  way: string;
  /**
   * ways the pattern leaves
   */
  fits_as_well: string[];
  /**
   * the guides decided the way
   */
  by_guides: boolean;
  yaw_deg: number | null;
  /**
   * @minItems 2
   * @maxItems 2
   */
  offset_mm: [number | null, number | null];
  bolts_rms_mm: number | null;
  bolts_worst_mm: number | null;
  /**
   * without a partner: here, there
   *
   * @minItems 2
   * @maxItems 2
   */
  bolts_alone: [number, number];
  bolts: LaidBolt[];
  guides_rms_mm: number | null;
  guides_worst_mm: number | null;
  guides_alone: string[];
  guides: LaidGuide[];
}
export interface LaidBolt {
  /**
   * from 0
   */
  bolt: number;
  of_other: number;
  /**
   * the other's less this one's
   *
   * @minItems 2
   * @maxItems 2
   */
  off_mm: [number | null, number | null];
}
export interface LaidGuide {
  id: string;
  of_other: string;
  /**
   * @minItems 2
   * @maxItems 2
   */
  off_mm: [number | null, number | null];
  z_off_mm: number | null;
  incline_off_deg: number | null;
  cant_off_deg: number | null;
  stands_out: boolean;
}
/**
 * A valve as [[head.valve]] has it, mm and deg, each figure with its standard uncertainty; null is not drawn.
 */
export interface DrawnHeadValve {
  id: string;
  cylinder: number;
  /**
   * null: the drawing does not say which valves are intakes
   */
  kind: Kind | null;
  x: number | null;
  u_x: number | null;
  y: number | null;
  u_y: number | null;
  z: number | null;
  u_z: number | null;
  incline: number | null;
  u_incline: number | null;
  cant: number | null;
  u_cant: number | null;
}
/**
 * The job's [head] with u_… beside each figure, mm and deg.
 */
export interface DrawnHead {
  name: string;
  material: null;
  mass: null;
  bolt_holes: [number | null, number | null][];
  u_bolt_holes: [number | null, number | null][];
  bolt_hole_diameter: number | null;
  u_bolt_hole_diameter: number | null;
  /**
   * of the cylinders, where it is drawn
   */
  bore_diameter: number | null;
  u_bore_diameter: number | null;
  obstacle: SurveyObstacle[];
  valve: DrawnHeadValve[];
}
/**
 * A valve in the head frame: deck z = 0, +X along the row, origin the first cylinder's centre.
 */
export interface DrawnValve {
  id: string;
  kind: Kind | null;
  x_mm: number | null;
  y_mm: number | null;
  /**
   * null: drawn in the deck’s plane alone
   */
  z_mm: number | null;
  /**
   * null: which way the guide goes is not drawn
   */
  incline_deg: number | null;
  cant_deg: number | null;
  /**
   * what the last decimal of the drawing leaves
   */
  u_xy_mm: number | null;
  u_z_mm: number | null;
  u_angle_deg: number | null;
  /**
   * of the smallest circle about it
   */
  bore_mm: number | null;
  gauge_mm: number | null;
  seat_angle_deg: number | null;
  setup: string | null;
  cylinder: number;
  /**
   * of the circles about its centre
   */
  diameters_mm: (number | null)[];
  /**
   * as its ellipse shows it
   */
  lean_deg: number | null;
  u_lean_deg: number | null;
  /**
   * across the deck: tan cant and tan incline are tan lean times it
   */
  lean_way: [number | null, number | null] | null;
  group: string;
}
/**
 * A hole of the deck.
 */
export interface DrawnHole {
  x_mm: number | null;
  y_mm: number | null;
  diameter_mm: number | null;
  /**
   * of x and y, root mean square of the two
   */
  u_mm: number | null;
  what: 'bolt' | 'plug' | 'other';
  id: string;
  group: string;
}
/**
 * What no drawing says, or this one does not.
 */
export interface DrawnMissing {
  what: string;
  why: string;
  /**
   * what closes it
   */
  next: string;
}
/**
 * Marks of like circles, and what they were taken for.
 */
export interface DrawnGroup {
  /**
   * its letter, to be named by
   */
  group: string | null;
  what: string;
  count: number;
  diameters_mm: (number | null)[];
  layers: string[];
  why: string;
  /**
   * nothing is to be asked about it
   */
  sure: boolean;
}
/**
 * What of the drawing was not read.
 */
export interface LeftOut {
  hidden: number;
  in_paper_space: number;
  /**
   * how many of each kind
   */
  not_read: {
    [k: string]: number;
  };
}
/**
 * A head out of a drawing.
 */
export interface DrawingResult {
  /**
   * version of the program
   */
  seatwright: string;
  /**
   * title of the job
   */
  job: string;
  warnings: Warning[];
  /**
   * what was taken for granted, as sentences
   */
  assumptions: string[];
  head: DrawnHead;
  valves: DrawnValve[];
  holes: DrawnHole[];
  repeats: SurveyRepeat[];
  missing: DrawnMissing[];
  groups: DrawnGroup[];
  /**
   * the unit
   */
  drawn_in: string;
  /**
   * how the row lies on the sheet
   */
  turned_deg: number | null;
  u_place_mm: number | null;
  /**
   * closed curves read
   */
  circles: number;
  left_out: LeftOut;
  /**
   * with --over; null: too few holes come together
   */
  over?: LaidOver | null;
}
/**
 * A valve as [[head.valve]] has it, mm and deg, each figure with its standard uncertainty; z is null where its seat is not seen.
 */
export interface ScanHeadValve {
  id: string;
  cylinder: number;
  kind: Kind | null;
  x: number;
  u_x: number;
  y: number;
  u_y: number;
  z: number | null;
  u_z: number | null;
  incline: number;
  u_incline: number;
  cant: number;
  u_cant: number;
}
/**
 * A hole no cutter may touch, as head.obstacle has it, mm and deg, each figure with its standard uncertainty.
 */
export interface ScanObstacle {
  name: string;
  x: number;
  u_x: number;
  y: number;
  u_y: number;
  z: number;
  diameter: number;
  u_diameter: number;
  incline: number;
  u_incline: number;
  cant: number;
  u_cant: number;
}
/**
 * The job's [head] with u_… beside each figure, mm and deg.
 */
export interface ScanHead {
  name: string;
  material: null;
  mass: null;
  bolt_holes: [number, number][];
  u_bolt_holes: [number, number][];
  bolt_hole_diameter: number | null;
  u_bolt_hole_diameter: number | null;
  obstacle: ScanObstacle[];
  valve: ScanHeadValve[];
}
/**
 * A cone of the seat, as it is.
 */
export interface ScanFacet {
  /**
   * from the plane square to the guide
   */
  angle_deg: number;
  u_angle_deg: number;
  /**
   * diameter it begins at
   */
  inner_mm: number;
  outer_mm: number;
  /**
   * it is taken for the one the valve seats on
   */
  face: boolean;
}
/**
 * A valve in the head frame: deck z = 0, +X along the row, origin the first cylinder's centre.
 */
export interface ScanValve {
  id: string;
  /**
   * null: its seat does not show it
   */
  kind: Kind | null;
  x_mm: number;
  y_mm: number;
  /**
   * null: its seat is not seen
   */
  z_mm: number | null;
  incline_deg: number;
  cant_deg: number;
  /**
   * standard uncertainty of x and y, root mean square of the two
   */
  u_xy_mm: number;
  u_z_mm: number | null;
  /**
   * of incline and cant, root mean square of the two
   */
  u_angle_deg: number;
  /**
   * null: a pin stood in the guide
   */
  bore_mm: number | null;
  /**
   * diameter of the seat's gauge circle, as it is
   */
  gauge_mm: number | null;
  /**
   * of the facet taken for the face
   */
  seat_angle_deg: number | null;
  setup: null;
  cylinder: number;
  u_x_mm: number;
  u_y_mm: number;
  u_incline_deg: number;
  u_cant_deg: number;
  /**
   * of x, y, z
   */
  covariance_mm2: number[][];
  u_bore_mm: number | null;
  /**
   * diameter of the pin that stood in the guide
   */
  pin_mm: number | null;
  u_gauge_mm: number | null;
  u_seat_angle_deg: number | null;
  /**
   * of the bore or pin
   */
  seen_length_mm: number;
  /**
   * of its turn
   */
  seen_arc_deg: number;
  /**
   * on it
   */
  points: number;
  /**
   * of these points about it, standard deviation
   */
  scatter_mm: number;
  /**
   * how far the seat stands beside the guide's axis
   */
  seat_off_guide_mm: number | null;
  /**
   * inside to outside
   */
  facets: ScanFacet[];
}
/**
 * A hole of the deck.
 */
export interface ScanHole {
  x_mm: number;
  y_mm: number;
  diameter_mm: number;
  /**
   * of x and y, root mean square of the two
   */
  u_mm: number;
  what: 'bolt' | 'plug' | 'other';
  id: string;
  u_diameter_mm: number;
  /**
   * of its axis, from square to the deck
   */
  lean_deg: number;
  incline_deg: number;
  cant_deg: number;
  u_incline_deg: number;
  u_cant_deg: number;
  seen_length_mm: number;
  seen_arc_deg: number;
}
/**
 * What was expected and not found, or found and not taken.
 */
export interface ScanNotSeen {
  id: string;
  x_mm: number;
  y_mm: number;
  /**
   * the others' spacing puts it there
   */
  expected: boolean;
  seen_length_mm: number;
  seen_arc_deg: number;
}
/**
 * An opening of the deck over valves.
 */
export interface ScanChamber {
  cylinder: number;
  valves: string[];
  area_mm2: number;
  /**
   * of its edge
   */
  u_mm: number;
  outline_mm: [number, number][];
}
/**
 * The plane that is taken for the deck.
 */
export interface ScanDeck {
  /**
   * of its points about it
   */
  rms_mm: number;
  points: number;
}
/**
 * A head out of a measured surface.
 */
export interface ScanResult {
  /**
   * version of the program
   */
  seatwright: string;
  /**
   * title of the job
   */
  job: string;
  warnings: Warning[];
  /**
   * what was taken for granted, as sentences
   */
  assumptions: string[];
  head: ScanHead;
  valves: ScanValve[];
  holes: ScanHole[];
  repeats: SurveyRepeat[];
  missing: DrawnMissing[];
  not_seen: ScanNotSeen[];
  chambers: ScanChamber[];
  deck: ScanDeck;
  /**
   * of the file
   */
  points: number;
  /**
   * of them on the deck or a feature
   */
  inliers: number;
  /**
   * taken
   */
  seconds: number;
  /**
   * of the file
   */
  format: string;
  /**
   * of the file
   */
  units: 'in' | 'mm';
  units_from: 'told' | 'inferred';
  /**
   * points of the file that are no places, left out
   */
  not_numbers: number;
  /**
   * corners named again, left out
   */
  repeated: number;
  /**
   * how many times as large neighbours that err together make the places' u
   */
  noise_together: number;
  /**
   * with --over; null: too few holes come together
   */
  over?: LaidOver | null;
}
/**
 * What was written to the file of a casting.
 */
export interface CastingResult {
  /**
   * its name
   */
  casting: string;
  /**
   * that have taught where guides stand
   */
  heads: number;
  /**
   * that passed
   */
  seats: number;
  /**
   * planned or cut that are known
   */
  depths: number;
}
/**
 * What HoldResult has behind its frame.
 */
export interface PlannedHold {
  inputs: HeldInput[];
  setups: Setup[];
  /**
   * no fewer setups will do
   */
  setups_proven: boolean;
  fixtures: Fixture[];
  posts: Posts | null;
  level: Level | null;
}
/**
 * What FindResult has behind its frame.
 */
export interface PlannedFind {
  heads: FoundHead[];
  blind_run: BlindRun | null;
  pilots: Pilot[];
  learned: Learned[];
  repeatability: Repeatability[];
}
/**
 * What ShapeResult has behind its frame.
 */
export interface PlannedShape {
  /**
   * whose readings
   */
  head: string;
  seats: ShapedSeat[];
  depth: DepthPlan;
  inserts: InsertFit[];
  sensitivity: Sensitivity[];
  near_misses: NearMiss[];
  guides: GuideFit[];
  chambers: Chamber[];
  flow: Flow[];
}
/**
 * What CutResult has behind its frame.
 */
export interface PlannedCut {
  seats: CutSeat[];
  /**
   * as machined, the first seat first and the touched one last
   */
  order: string[];
  seconds_head: number | null;
  estimate: CutEstimate | null;
  programs: CutProgram[];
  /**
   * exit status 3 while it is not empty
   */
  held_back: HeldBack[];
  calm_rpm: (number | null)[];
  cutters: CutterNumber[];
  cutter_changes: number;
  halts_head: number;
  path_mm: number | null;
  /**
   * how short the path is proven to be
   */
  path_bound_mm: number | null;
  seconds: Seconds;
  seconds_batch: number | null;
  chatter: ChatterChart[];
}
/**
 * A plan: plan.json.
 */
export interface PlanResult {
  /**
   * version of the program
   */
  seatwright: string;
  /**
   * title of the job
   */
  job: string;
  warnings: Warning[];
  /**
   * what was taken for granted, as sentences
   */
  assumptions: string[];
  hold: PlannedHold;
  find: PlannedFind;
  shape: PlannedShape;
  cut: PlannedCut;
}
/**
 * What ProveResult has behind its frame.
 */
export interface ProvedPart {
  seats: ProvedSeat[];
  batch: BatchLine[];
  verdict: VerdictWord;
  unmeasured: Unmeasured[];
  /**
   * of kinds whose stem heights tell, where the job has a stem_spread
   */
  stem_spreads?: StemSpread[];
  /**
   * limits of the job that nothing is claimed of here
   */
  not_judged?: NotJudged[];
  positions: Position[];
  components: Component[];
  sampling: Sampling | null;
  calm_rpm: (number | null)[];
}
/**
 * What stands when an error of the program stopped a stage (exit status 1): every stage that is there, and the error among the warnings, with the code program-error.
 */
export interface StoppedResult {
  /**
   * version of the program
   */
  seatwright: string;
  /**
   * title of the job
   */
  job: string;
  warnings: Warning[];
  /**
   * what was taken for granted, as sentences
   */
  assumptions: string[];
  hold?: PlannedHold;
  find?: PlannedFind;
  shape?: PlannedShape;
  cut?: PlannedCut;
  prove?: ProvedPart;
}
