// Which of the server's reasons explains a number: its own, or that of the quantity it is a case of.

import type { Reason } from '../api/types';

const sameAs: Record<string, string> = {
  swing_deg: 'tilt_deg', worst_plumb_deg: 'plumb_deg', yaw_sd_deg: 'position_sd_mm', incline_deg: 'correction_tilt_deg',
  cant_deg: 'correction_tilt_deg', incline_bias_deg: 'correction_tilt_deg', scatter_deg: 'correction_tilt_deg',
  least_enter_probability: 'enter_probability', touches_to_target: 'next_touch', p_value: 'chi2', blind_run: 'enter_probability',
  'depth.total_mm': 'depth_mm', 'depth.stem_spread_mm': 'depth_mm', 'depth.chamber_spread_cm3': 'depth_mm', seconds_head: 'seconds',
};

export function reasonOf(all: Reason[], key: string): Reason | undefined {
  return all.find((r) => r.key === key) ?? all.find((r) => r.key === sameAs[key]);
}
