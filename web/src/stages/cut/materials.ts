// The shelf also has materials no seat is cut in: those to choose from say how fast they are cut.

import type { TreeValue } from '../../api/types';

export function cuttable(materials: TreeValue | undefined): string[] {
  if (!Array.isArray(materials)) return [];
  return materials.flatMap((m) =>
    m !== null && typeof m === 'object' && !Array.isArray(m) && typeof m['name'] === 'string' && m['speed'] !== undefined ? [m['name']] : []);
}
