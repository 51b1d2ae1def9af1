import { expect, test } from 'vitest';
import type { Mark, Stage } from '../src/api/types';
import { arranged } from '../src/pages/bench_order';

const marks = (all: Mark) => Object.fromEntries(['hold', 'find', 'shape', 'cut', 'prove'].map((s) => [s, all])) as Record<Stage, Mark>;
const card = (id: number, title: string, over: object = {}) => ({ id, title, head: 'iron head', next: 'Touch 2I.', marks: marks('ready'), archived: false, changed_by: 'A. Turner',
  created_at: `2026-01-0${id}T00:00:00Z`, changed_at: `2026-02-0${9 - id}T00:00:00Z`, ...over });
const all = [card(1, 'Pumps'), card(2, 'Tractors', { marks: marks('done') }), card(3, 'Boats', { marks: { ...marks('ready'), cut: 'needs you' } }), card(4, 'Old one', { archived: true })];
const ids = (got: { id: number }[]) => got.map((c) => c.id);

test('what is put away is not on the bench, and each filter shows its own', () => {
  expect(ids(arranged(all, '', 'on the bench', 'first made'))).toEqual([1, 2, 3]);
  expect(ids(arranged(all, '', 'needs you', 'first made'))).toEqual([3]);
  expect(ids(arranged(all, '', 'waiting', 'first made'))).toEqual([1]);
  expect(ids(arranged(all, '', 'done', 'first made'))).toEqual([2]);
  expect(ids(arranged(all, '', 'put away', 'first made'))).toEqual([4]);
  const kept = [...all, card(5, 'Put away, and kept', { archived: true, template: { name: 'row heads', version: 2 } }), card(6, 'No more', { template: null })];
  expect(ids(arranged(kept, '', 'templates', 'first made'))).toEqual([5]);
});

test('every word searched for must be there; the order is the one asked for', () => {
  expect(ids(arranged(all, 'turner PUMP', 'all', 'name'))).toEqual([1]);
  expect(ids(arranged(all, '', 'all', 'name'))).toEqual([3, 4, 1, 2]);
  expect(ids(arranged(all, '', 'all', 'last changed'))).toEqual([1, 2, 3, 4]);
});

test('by promise: the nearest day first, what nobody promised last', () => {
  const promised = [card(1, 'Pumps', { promised: '2026-03-02' }), card(2, 'Tractors', { promised: null }), card(3, 'Boats', { promised: '2026-02-28' })];
  expect(ids(arranged(promised, '', 'all', 'promised'))).toEqual([3, 1, 2]);
});

test('by job number as people count, and by customer; what nothing was said of comes last', () => {
  const jobs = [card(1, 'Pumps', { number: 'A-17', customer: 'Zebra Works' }), card(2, 'Tractors'), card(3, 'Boats', { number: 'A-9', customer: 'Anvil Works' }), card(4, 'Old one', { number: 'A-10', customer: 'Anvil Works' })];
  expect(ids(arranged(jobs, '', 'all', 'job number'))).toEqual([3, 4, 1, 2]);
  expect(ids(arranged(jobs, '', 'all', 'customer'))).toEqual([3, 4, 1, 2]);
  expect(ids(arranged(jobs, 'zebra', 'all', 'name'))).toEqual([1]);
  expect(ids(arranged(jobs, 'a-9', 'all', 'name'))).toEqual([3]);
});
