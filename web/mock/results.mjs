// Made-up results of an invented wedge head, in the contract's shape.
const ids = ['1E', '1I', '2I', '2E', '3E', '3I', '4I', '4E'];
export const valves = ids.map((id, i) => ({ id, kind: id.endsWith('I') ? 'intake' : 'exhaust', cylinder: Number(id[0]),
  x_mm: (Number(id[0]) - 1) * 111.76 + (i % 2 === 0 ? -21.6 : 21.6), y_mm: 3.8 }));

export function results(touched, proofs, tilt = 19.5) {
  const off = Math.abs(tilt - 19.5);
  const guides = valves.map((v) => ({ id: v.id, x_mm: v.x_mm + 21.6, y_mm: 0.02, sd_x_mm: touched.includes(v.id) ? 0.019 : 0.08, sd_y_mm: touched.includes(v.id) ? 0.019 : 0.085,
    corr: 0, program_x_mm: v.x_mm + 21.6, program_y_mm: 0.02, enter_probability: touched.includes(v.id) ? 0.99999 : 0.992, touched: touched.includes(v.id), suspect: false, innovation2: null, entry_clearance_mm: 0.6 }));
  const frame = { warnings: [], assumptions: ['assumes that the guides of one row are drawn parallel'] };
  return {
    hold: { ...frame, setups: [{ id: 'A', datum: '1E', tilt_deg: tilt, swing_deg: 0, worst_plumb_deg: off, travel_margin_mm: { x: 512, y: 280 },
      valves: valves.map((v) => ({ id: v.id, plumb_deg: off, reachable: off < 0.05, x_mm: v.x_mm + 21.6, y_mm: 0, z_mm: 0 })), safety: { mass_kg: 21, slope_deg: tilt, slip_factor: 26.2, slides_when_released: true } }],
    fixtures: [{ name: 'roll-over cradle', fits: true, why: 'best' }], posts: { a_mm: [0, 0], b_mm: [446, 0], span_mm: 446, position_sd_mm: 0.2, yaw_sd_deg: 0.03 },
    level: { incline_deg: 0.1, cant_deg: 0, incline_bias_deg: 0.02, cant_bias_deg: null, correction_tilt_deg: -0.1, correction_swing_deg: 0, scatter_deg: 0.01 } },
    find: { ...frame, heads: [{ head: '1', setups: [{ id: 'A', yaw_deg: 0.02, yaw_sd_deg: 0.01, offset_mm: [0, 0], chi2: 1, dof: 1, p_value: 0.3, pattern: 'as declared', guides, set_aside: [], assignments: [], square: null,
      least_enter_probability: 0.992, next_touch: ids.filter((i) => !touched.includes(i)).at(-1) ?? null, touches_to_target: Math.max(0, 4 - touched.length) }] }],
    blind_run: { least_enter_probability: 0.2, head_enter_probability: 0.01 }, pilots: ids.map((v) => ({ valve: v, pilot: '8.71', play_mm: 0.004, guide: 'ok', reason: '' })) },
    shape: { ...frame, seats: ids.map((id) => ({ id, contact_od_mm: 48.26, contact_id_mm: 46.1, gauge_mm: 47.2, section_mm: [], cutter: 'three-face 45', blade_setting_mm: 47.2, cleanup_mm: 0.12,
      depth_mm: 0.18, z_mm: -0.18, stem_height_after_mm: 47.7, recession_added_mm: 0.18, removed_mm3: 30, bridge_mm: 3.1, bridge_to: '1E', insert_wall_mm: null, tip_grind_mm: null, spring_shim_mm: null, decision: 'cut', depth_high_mm: 0.6, limited_by: 'recession' })),
    depth: { total_mm: 1.44, stem_spread_mm: { intake: 0.1, exhaust: 0.12 }, chamber_spread_cm3: 0.3, feasible: true, conflict: [] }, inserts: [], sensitivity: [{ kind: 'intake', facet_deg: 30, width_per_depth: 3.346 }] },
    cut: { ...frame, seats: ids.map((id) => ({ id, rpm: 250, feed_mm_per_turn: 0.03, surface_m_per_min: 38, chip_mm: 0.02, torque_nm: 6.1, power_w: 160, thrust_n: 300, dwell_turns: 2, stable_width_mm: 9.1, seconds: 94 })),
      order: ids, seconds_head: 754, estimate: null, programs: [{ head: '1', setup: 'A', cutter: 1, file: 'program-1-A-1-first.ngc', lines: 120, seats: ids.slice(0, 1), first: true, checked: true,
        zero: { what: 'old seat', valve: ids[1], trim_mm: 0, words: `Z0 of cutter 1 taken on ${ids[1]}: cutter resting on the old seat` } }], held_back: [], calm_rpm: [180, 240] },
    prove: { ...frame, seats: proofs.map((p) => ({ head: p.head, id: p.valve, tir_mm: 0.02, eccentricity_mm: 0.008, eccentricity_deg: 40, roundness_mm: { ls: 0.004, mz: 0.0035, mc: 0.004, mi: 0.004 }, harmonics_mm: [{ order: 2, amplitude_mm: 0.002, phase_deg: 10 }],
      width_mm: 1.5, stem_height_mm: 47.7, verdicts: [{ what: 'runout', value: 0.02, limit_low: null, limit_high: 0.05, u: 0.004, verdict: 'pass' }, { what: 'vacuum', value: null, limit_low: 68, limit_high: null, u: null, verdict: 'not measured' }] })), batch: [], verdict: 'not measured' },
  };
}
