// The words that every answer uses.

export type { Kind, Warning } from '../made/results';

export type Stage = 'hold' | 'find' | 'shape' | 'cut' | 'prove';
export const stages: Stage[] = ['hold', 'find', 'shape', 'cut', 'prove'];
export type Mark = 'open' | 'ready' | 'needs you' | 'done';
export type Role = 'reader' | 'machinist' | 'lead';
