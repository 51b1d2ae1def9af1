// Shapes of the server's answers; docs/api/openapi.json is the contract. What a stage answers is the JSON of the
// command line (docs/json.md), made from schema/results.json.

import type { CutResult, FindResult, HoldResult, Kind, ProveResult, ScanHole, ScanResult, ShapeResult, SurveyResult, Warning } from '../made/results';
import type { LengthUnit } from '../numbers/quantity';

export type * from '../made/results';

export type Stage = 'hold' | 'find' | 'shape' | 'cut' | 'prove';
export const stages: Stage[] = ['hold', 'find', 'shape', 'cut', 'prove'];
export type Mark = 'open' | 'ready' | 'needs you' | 'done';
export type Role = 'reader' | 'machinist' | 'lead';
export interface Framed { warnings?: Warning[]; assumptions?: string[] }

export interface Person { id: number; name: string; role: Role; owner: boolean; active: boolean }
export interface Session {
  first_start: boolean;
  person: Person | null;
  csrf: string | null;
  now?: string; // the server's clock
  version: string;
  listening: 'loopback' | 'network';
  warning?: string | null;
  by_pin?: boolean; // at an enrolled screen: a machinist's rights at most
  screen?: { name: string; people: string[] } | null; // this screen takes PINs, and whose
  acknowledged?: string | null; // for a lead: where an entry is when it is answered
}
export interface Fault { file: string; line: number; key: string; text: string }
export interface JobCard {
  id: number; title: string; head: string; valves: number; units: LengthUnit; version: number; sequence: number;
  created_at: string; changed_at: string; changed_by: string; archived: boolean;
  marks: Record<Stage, Mark>; next: string;
  frees?: string; // what would free what is next, where it is held back
  promised?: string | null; // the day it is promised for
  number?: string; // the shop's own; empty: none
  customer?: string; // whose it is; empty: not said
  template?: { name: string; version: number } | null; // new jobs may begin from that version of it, under this name
  heads?: { all: number; finished: number }; // finished: every seat of it is measured
}
export type Tree = { [key: string]: TreeValue };
export type TreeValue = string | number | boolean | null | TreeValue[] | Tree;
export interface Job extends JobCard {
  text: string; shop: 'shelf' | 'own'; shop_text?: string | null;
  undo_to: number | null; redo_to: number | null; tables?: Tree;
  open_limits?: string | null; // it came in with, not the shop's, and no lead has accepted them
  first_taken?: { file: string; by: string; at: string } | null; // the first program that left for a machine
}
export interface Version { version: number; by: string; at: string; what: string; same_as?: number | null }
export interface Edit { key: string; value: unknown }

export type EntryKind = 'touch' | 'level' | 'guide' | 'seat' | 'first' | 'proof' | 'choice' | 'override' | 'done' | 'note';
export interface Entry {
  id: number; sequence: number; client_key: string; kind: EntryKind; head: string; valve: string; place: string;
  values: Record<string, unknown>; units: LengthUnit; by: string; read_by?: string | null; at: string; made_at?: string | null;
  corrects?: number | null; withdrawn?: boolean; repeat?: boolean; superseded_by?: number | null;
  live: boolean; conflict?: boolean; reason?: string;
}
export interface Conflict { place: string; kind: string; head: string; valve: string; quantity: string; entries: number[]; used: number }
export interface EntryList { entries: Entry[]; conflicts: Conflict[]; sequence: number }

export interface StageState { mark: Mark; line: string; next?: string; frees?: string; needs?: string[] }
export interface DrawingName { name: string; stage: string; title: string; takes?: string[] }
export interface HeadValve { id: string; kind: Kind; cylinder: number; x_mm: number; y_mm: number }
export interface Results {
  hold?: HoldResult | null; find?: FindResult | null; shape?: ShapeResult | null; cut?: CutResult | null;
  prove?: ProveResult | null;
}
// A step of the walk of a head at the machine, as plan/walk.hpp has it.
export type StepKind = 'load' | 'touch' | 'held' | 'take' | 'zero' | 'first' | 'cut' | 'measure' | 'finished';
export interface WalkStep {
  id: string; kind: StepKind; run: string; setup: string; words: string; mark: string; begins: boolean; done: boolean;
  file: string | null; moves?: string | null; valves: string[]; on: string | null; ways: string[];
  words_of_any?: string; // "{head}" where a head is named
  words_against?: string; // where not every seat passes
}
export interface State {
  key?: string; // names this state: deltas are asked for since it
  job: JobCard; heads: string[]; head: string; stages: Record<Stage, StageState>; results: Results;
  warnings: Warning[]; conflicts: Conflict[]; overrides?: Entry[]; drawings: DrawingName[]; faults?: Fault[];
  valves?: HeadValve[]; walk?: WalkStep[];
}
export interface WhatIf {
  version: number; sequence: number; results: Results; drawings: Record<string, string>;
  stages?: Partial<Record<Stage, StageState>>; warnings: Warning[]; faults: Fault[];
}
export interface Reason { key: string; says: string; formula: string; source: string }
export interface Paper { name: string; title: string; stage: Stage; media: string; pages: string[]; digest?: string }
export interface LedgerLine {
  id: number; at: string; by: string; what: string; job?: number | null; job_title?: string | null;
  version?: number | null; entry?: number | null;
}
export interface Shelf { version: number; text: string; by?: string; at?: string; tables?: Tree }
export interface Task {
  id: string; state: 'running' | 'finished' | 'cancelled' | 'failed'; done: number; total: number; sentence: string;
  job?: number | null;
}


// A scan: a measured surface on its way to a job.
export interface ScanWall { id: string; low_mm: number[]; high_mm: number[]; radius_mm: number }
export type ScanHoleKind = ScanHole['what'];
export interface Scan {
  id: string; file: string; bytes: number; taken: number; found: ScanResult | null;
  end_for_end?: boolean; in_doubt?: Record<string, string>;
  walls?: { valves: ScanWall[]; holes: ScanWall[] };
  points?: { count: number; step_mm: number };
}

// A survey: a head being described at the machine.
export type SurveyKind = 'head' | 'setup' | 'point' | 'level' | 'size' | 'way' | 'left out';
export interface SurveyRow {
  id: number; title: string; units: LengthUnit; sequence: number; made_at: string; changed_at: string; changed_by: string; job: number | null;
}
export interface SurveyEntry {
  id: number; sequence: number; kind: SurveyKind; values: Record<string, unknown>; by: string; at: string;
  corrects: number | null; withdrawn: boolean; live: boolean; set_aside?: string | null;
}
export type AskOf = 'setup' | 'deck level' | 'guide level' | 'deck' | 'hole' | 'guide' | 'valve head' | 'way' | 'size' | 'end';
export interface SurveyStep {
  key: string; of: AskOf; setup: string | null; id: string | null; across: 'incline' | 'cant' | null; size: string | null;
  tilt_deg: number | null; swing_deg: number | null; fields: string[]; sentence: string; why: string; help: number;
}
export interface Survey extends SurveyRow {
  head: Record<string, unknown>; guides: string[]; entries: SurveyEntry[]; steps: SurveyStep[];
  faults: { entry: number | null; key: string; text: string }[]; ready: boolean; whole: boolean; found: SurveyResult | null;
}

// What is known of all heads from one mould.
export interface CastingNote { words: string; by: string; at: string; photograph: string | null }
export interface CastingWorked { kind: Kind; seats: number | null; pilot: string | null; cutter: string | null; rpm: number | null; feed_mm: number | null; from: string | null }
export interface Casting {
  id: number; name: string; version: number; changed_by: string; changed_at: string; what: string; number: string; source: string; notes: CastingNote[];
  heads: number; worked: CastingWorked[]; depths: number; depth_mm: number | null; deepest_mm: number | null; times: number; minutes_head: number | null;
  valves: number; spacing_mm: number | null; fault: string | null;
  strangers: { job: number; words: string }[]; offers: { id: number; job: number; at: string; text: string }[];
}
