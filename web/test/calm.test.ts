import './browser_globals';
import { expect, it } from 'vitest';
import { calmSpeeds } from '../src/stages/cut/marks';

// By counting, not by the formula: at a calm speed each blade passes a place after a whole number of waves.
it('at a calm speed a whole number of waves passes between blades', () => {
  for (const [marks, rpm, blades] of [[24, 300, 2], [31, 320, 1], [17.5, 180, 3]] as const) {
    const { hz, rpm: calm } = calmSpeeds(marks, rpm, blades, 40, 1200);
    expect(calm.length).toBeGreaterThan(2);
    const seconds = 60 / rpm; // a turn of the chattered cut
    expect(hz * seconds).toBeCloseTo(marks, 9);
    for (const n of calm) {
      const waves = hz * (60 / n / blades);
      expect(Math.abs(waves - Math.round(waves))).toBeLessThan(1e-9);
      expect(n).toBeGreaterThanOrEqual(40);
      expect(n).toBeLessThanOrEqual(1200);
    }
  }
});

it('says none when the machine is too slow or too fast', () => {
  expect(calmSpeeds(24, 300, 2, 5000, 9000).rpm).toEqual([]);
  expect(calmSpeeds(24, 300, 2, 0, 0.5).rpm).toEqual([]);
});
