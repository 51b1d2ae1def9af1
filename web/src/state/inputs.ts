// The inputs behind a number, said with the values they have now: which keys of the job file and of the shelf
// went into it. Formula and source come from the server.

import { valueAt } from '../api/tree';
import type { Stage, TreeValue } from '../api/types';
import made from '../made/keys.json';
import { keyOf, kindIn, kinds } from './keys';
import { isMadeUp } from './made_up';
import { entries, headHere, job } from './open_job';
import { known } from './shelf';

// Both kinds of a key of the table, or one key.
const both = (...keys: string[]): string[] => keys.flatMap((k) => kinds.map((kind) => k.replace('*', kind)));

const guideAngles = [
  'head.pattern.valve[0].incline', 'head.pattern.valve[1].incline', 'head.pattern.valve[0].cant', 'head.pattern.valve[1].cant',
  'fixture.tilt', 'fixture.swing', 'fixture.plumb_limit',
];
const section = both('valve.*.head_diameter', 'seat.*.inset', 'seat.*.width', 'seat.*.angle');
const finding = ['find.touch_sd', 'find.casting_sd', 'find.yaw_sd', 'find.positioning_sd', 'find.enter_target', 'guide.intake.mouth'];
const depths = ['depth.step', 'depth.stem_spread', 'depth.chamber_spread', 'depth.cleanup_margin', ...both('seat.*.recession_max', 'seat.*.stem_height_max')];
const cutting = ['machine.rpm_min', 'machine.rpm_max', 'machine.rpm_step', 'machine.rapid', 'head.material', ...both('seat.*.material')];
const posts = ['head.bolt_hole_diameter', 'fixture.post_diameter'];

const table: Partial<Record<Stage, Record<string, string[]>>> = {
  hold: {
    tilt_deg: guideAngles, swing_deg: guideAngles, worst_plumb_deg: guideAngles,
    travel_margin_mm: ['machine.travel_x', 'machine.travel_y'],
    span_mm: ['head.posts', 'head.bolt_holes'],
    position_sd_mm: posts,
    yaw_sd_deg: posts,
    slip_factor: ['head.mass', 'fixture.clamp_force', 'fixture.friction'],
    slides_when_released: ['fixture.friction', 'fixture.captive', 'fixture.load_from'],
  },
  find: { yaw_deg: finding, least_enter_probability: finding, next_touch: finding, touches_to_target: finding, p_value: finding, blind_run: finding },
  shape: {
    contact_od_mm: section, contact_id_mm: section, gauge_mm: section, cutter: section, blade_setting_mm: section,
    'depth.total_mm': depths, 'depth.stem_spread_mm': depths, 'depth.chamber_spread_cm3': depths,
  },
  cut: { seconds_head: cutting, order: cutting, calm_rpm: cutting },
  prove: { tir_mm: both('seat.*.runout_max') },
};

// "Plumb limit", "Seat width, intake", "Incline, second of the pattern".
function wordsFor(place: string): string {
  const label = keyOf(place)?.label ?? place;
  const kind = kindIn(place);
  const of = /pattern\.valve\[(\d)\]/.exec(place)?.[1];
  return label + (kind ? `, ${kind}` : of === undefined ? '' : of === '0' ? ', first of the pattern' : ', second of the pattern');
}

function said(value: TreeValue, unit: string): string {
  if (Array.isArray(value)) {
    if (value.length > 4) return `${value.length} of them`;
    return value.map((v) => said(v, unit)).join(' to ');
  }
  return typeof value === 'number' ? `${value} ${unit}`.trim() : String(value);
}

// Where a figure comes from.
function whence(place: string): string {
  if (isMadeUp(place)) return 'made up, not confirmed';
  return valueAt(job.value?.tables, place) === undefined ? 'from the shelf' : 'typed in this job';
}

// What a bare number of the file is in.
const bareUnit = (dimension: string | undefined) =>
  dimension === 'length' || dimension === 'feed' ? job.value?.units ?? '' : made.units[(dimension ?? 'number') as keyof typeof made.units]?.bare ?? '';

export function inputsOf(stage: Stage, key: string): string[] {
  const from = table[stage]?.[key] ?? [];
  const words = from.flatMap((place) => {
    const value = known(place);
    const { otherwise, dimension } = keyOf(place) ?? {};
    if (value !== undefined && value !== null) return [`${wordsFor(place)} ${said(value, bareUnit(dimension))} (${whence(place)})`];
    return otherwise === undefined || otherwise === 'none' ? [] : [`${wordsFor(place)} ${otherwise} (nobody gave one)`];
  });
  const read = readingsOf(stage);
  return read === '' ? words : [...words, read];
}

const readKinds: Partial<Record<Stage, string>> = { hold: 'level', find: 'touch', shape: 'seat', prove: 'proof' };

function readingsOf(stage: Stage): string {
  const count = entries.value.entries.filter((e) => e.live && e.kind === readKinds[stage] && e.head === headHere.value).length;
  return count === 0 ? '' : `${count} ${readKinds[stage]} ${count === 1 ? 'reading' : 'readings'} of head ${headHere.value}`;
}
