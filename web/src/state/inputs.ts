// The inputs behind a number, said with the values they have now: which keys of the job file and of the shelf
// went into it. Formula and source come from the server.

import type { Stage, TreeValue } from '../api/types';
import { entries, headHere, job } from './open_job';
import { known } from './shelf';

type Unit = 'length' | 'deg' | 'kg' | 'N' | '';
type Input = [words: string, key: string, unit: Unit];

const both = (words: string, rest: string, unit: Unit, table = 'seat'): Input[] =>
  (['intake', 'exhaust'] as const).map((k) => [`${words}, ${k}`, `${table}.${k}.${rest}`, unit]);

const guideAngles: Input[] = [
  ['incline, first of the pattern', 'head.pattern.valve[0].incline', 'deg'], ['incline, second', 'head.pattern.valve[1].incline', 'deg'],
  ['cant, first of the pattern', 'head.pattern.valve[0].cant', 'deg'], ['cant, second', 'head.pattern.valve[1].cant', 'deg'],
  ['fixture tilts', 'fixture.tilt', 'deg'], ['and swings', 'fixture.swing', 'deg'], ['plumb limit', 'fixture.plumb_limit', 'deg'],
];
const section: Input[] = [
  ...both('valve head diameter', 'head_diameter', 'length', 'valve'), ...both('inset', 'inset', 'length'), ...both('seat width', 'width', 'length'),
  ...both('seat angle', 'angle', 'deg'),
];
const finding: Input[] = [
  ['touch error', 'find.touch_sd', 'length'], ['casting scatter', 'find.casting_sd', 'length'], ['yaw expected within', 'find.yaw_sd', 'deg'],
  ['positioning error', 'find.positioning_sd', 'length'], ['aim', 'find.enter_target', ''], ['mouth, intake', 'guide.intake.mouth', 'length'],
];
const depths: Input[] = [
  ['step', 'depth.step', 'length'], ['stem heights within', 'depth.stem_spread', 'length'], ['chambers within', 'depth.chamber_spread', ''],
  ['cleanup margin', 'depth.cleanup_margin', 'length'], ...both('recession at most', 'recession_max', 'length'), ...both('stem height at most', 'stem_height_max', 'length'),
];
const cutting: Input[] = [
  ['slowest', 'machine.rpm_min', ''], ['fastest', 'machine.rpm_max', ''], ['step', 'machine.rpm_step', ''], ['rapid', 'machine.rapid', ''],
  ['head material', 'head.material', ''], ...both('seat material', 'material', ''),
];

const table: Partial<Record<Stage, Record<string, Input[]>>> = {
  hold: {
    tilt_deg: guideAngles, swing_deg: guideAngles, worst_plumb_deg: guideAngles,
    travel_margin_mm: [['travel X', 'machine.travel_x', 'length'], ['travel Y', 'machine.travel_y', 'length']],
    span_mm: [['posts, from 0', 'head.posts', ''], ['bolt holes', 'head.bolt_holes', 'length']],
    position_sd_mm: [['bolt hole', 'head.bolt_hole_diameter', 'length'], ['post', 'fixture.post_diameter', 'length']],
    yaw_sd_deg: [['bolt hole', 'head.bolt_hole_diameter', 'length'], ['post', 'fixture.post_diameter', 'length']],
    slip_factor: [['mass', 'head.mass', 'kg'], ['clamp force', 'fixture.clamp_force', 'N'], ['friction', 'fixture.friction', '']],
    slides_when_released: [['friction', 'fixture.friction', ''], ['captive', 'fixture.captive', ''], ['loads from', 'fixture.load_from', '']],
  },
  find: { yaw_deg: finding, least_enter_probability: finding, next_touch: finding, touches_to_target: finding, p_value: finding, blind_run: finding },
  shape: {
    contact_od_mm: section, contact_id_mm: section, gauge_mm: section, cutter: section, blade_setting_mm: section,
    'depth.total_mm': depths, 'depth.stem_spread_mm': depths, 'depth.chamber_spread_cm3': depths,
  },
  cut: { seconds_head: cutting, order: cutting, calm_rpm: cutting },
  prove: { tir_mm: both('runout at most', 'runout_max', 'length') },
};

function said(value: TreeValue, unit: Unit): string {
  if (Array.isArray(value)) {
    if (value.length > 4) return `${value.length} of them`;
    return value.map((v) => said(v, unit)).join(' to ');
  }
  if (typeof value !== 'number') return String(value);
  return `${value} ${unit === 'length' ? job.value?.units ?? '' : unit}`.trim();
}

export function inputsOf(stage: Stage, key: string): string[] {
  const from = table[stage]?.[key] ?? [];
  const words = from.flatMap(([name, path, unit]) => {
    const value = known(path);
    return value === undefined || value === null ? [] : [`${name} ${said(value, unit)}`];
  });
  const read = readingsOf(stage);
  return read === '' ? words : [...words, read];
}

const readKinds: Partial<Record<Stage, string>> = { hold: 'level', find: 'touch', shape: 'seat', prove: 'proof' };

function readingsOf(stage: Stage): string {
  const count = entries.value.entries.filter((e) => e.live && e.kind === readKinds[stage] && e.head === headHere.value).length;
  return count === 0 ? '' : `${count} ${readKinds[stage]} ${count === 1 ? 'reading' : 'readings'} of head ${headHere.value}`;
}
