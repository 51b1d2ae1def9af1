// What a stage answers: the JSON of the command line (docs/json.md), made from schema/results.json.

import type { Warning } from '../made/results';

export type * from '../made/results';

export interface Framed { warnings?: Warning[]; assumptions?: string[] }
