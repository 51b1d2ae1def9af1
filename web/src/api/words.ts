// The words that every answer uses.

export type Stage = 'hold' | 'find' | 'shape' | 'cut' | 'prove';
export const stages: Stage[] = ['hold', 'find', 'shape', 'cut', 'prove'];
export type Mark = 'open' | 'ready' | 'needs you' | 'done';
export type Kind = 'intake' | 'exhaust';
export type Role = 'reader' | 'machinist' | 'lead';
export interface Warning { stage: string; code: string; valve: string | null; text: string; blocking?: boolean }
