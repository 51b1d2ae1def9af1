// What was said in a survey, in words: a reading with its units, an answer as it was given. Pure.

import type { SurveyKind } from '../api/types';
import type { LengthUnit } from '../numbers/quantity';
import { minus } from '../numbers/show';
import { kinds } from '../state/keys';

interface Said { kind: SurveyKind; values: Record<string, unknown>; withdrawn?: boolean }

const figures: Record<string, { words: string; angle?: boolean }> = {
  x: { words: 'X' }, y: { words: 'Y' }, z: { words: 'Z' }, ball: { words: 'ball radius' }, diameter: { words: 'hole diameter' }, head_height: { words: 'head over its gauge plane' }, way: { words: 'lean' },
  first: { words: 'sensor', angle: true }, second: { words: 'turned half a turn', angle: true }, tilt: { words: 'tilt', angle: true }, swing: { words: 'swing', angle: true }, value: { words: '' },
};
const kindsOfEntry: Partial<Record<SurveyKind, string>> = { point: 'a place', level: 'a lean', size: 'a size', setup: 'a setup', head: 'an answer', way: 'which way guides lean' };
const answers: Record<string, Record<string, string>> = {
  lean_of: { chamber: 'leans are the pilots’, on the chamber side', stem: 'leans are the stems’, on the other side' },
  end: { turned: 'the head lies turned end for end', readout: 'the readout counts to the left' },
};

function figure(key: string, value: unknown, unit: LengthUnit): string {
  const { words, angle } = figures[key] ?? { words: key.replaceAll('_', ' ') };
  const number = minus(String(value));
  const shown = typeof value !== 'number' || !(key in figures) ? number : angle ? `${number}°` : `${number} ${unit}`;
  return words === '' ? shown : `${words} ${shown}`;
}

function answer(key: string, value: unknown): string {
  if (key === 'accepted') return Array.isArray(value) && value.length > 0 ? `taken over: ${value.join(', ')}` : 'nothing is taken over';
  if (key === 'cylinders') return `${String(value)} cylinders`;
  if (kinds.some((k) => k === key)) return `${String(value)} ${key} a cylinder`;
  return answers[key]?.[String(value)] ?? `${key.replaceAll('_', ' ')} ${String(value)}`;
}

function about({ kind, values }: Said): string {
  const text = (k: string) => (typeof values[k] === 'string' ? String(values[k]) : '');
  const all = (...parts: string[]) => parts.filter((w) => w !== '').join(' ');
  const setup = text('setup') && `in setup ${text('setup')}`;
  switch (kind) {
    case 'left out': return `left out ${text('key').replaceAll('/', ' ')}`;
    case 'head': return 'the head';
    case 'setup': return `setup ${text('setup')}`;
    case 'way': return text('letters') !== '' ? `guides ${text('letters')}` : `guide ${text('id')}`;
    case 'size': return all(text('what'), 'of', text('id'));
    case 'level': return all('lean of', text('what'), text('id'), text('across') === 'cant' ? 'along the head' : 'across the head', setup);
    default: return all(text('what'), text('id'), setup);
  }
}

const named = ['setup', 'what', 'id', 'across', 'letters', 'key', 'from', 'sure'];

export function saidInWords(said: Said, unit: LengthUnit): string {
  if (said.withdrawn) return `take back ${kindsOfEntry[said.kind] ?? `a ${said.kind}`}`;
  const { kind, values } = said;
  const told = Object.entries(values).filter(([k]) => !named.includes(k)).map(([k, v]) => (kind === 'head' ? answer(k, v) : figure(k, v, unit))).join(', ');
  const from = typeof values['from'] === 'string' ? ` (${values['from']})` : '';
  return `${told === '' ? about(said) : `${about(said)}: ${told}`}${values['sure'] === true ? ', said to be right' : ''}${from}`;
}
