import { expect, test } from 'vitest';
import { readoutFrame } from '../src/stages/map/frame';

test('two rows of guides fix the scale of both axes', () => {
  const head = [{ x: 0, y: -20 }, { x: 100, y: -20 }, { x: 0, y: 20 }, { x: 100, y: 20 }];
  const readout = head.map((p) => ({ x: -(p.x - 0), y: 0.9 * (p.y + 20) }));
  const to = readoutFrame(head, readout, 25);
  expect(to({ x: 50, y: 0 }).x).toBeCloseTo(-50, 9);
  expect(to({ x: 50, y: 0 }).y).toBeCloseTo(18, 9);
});

test('one row says nothing of the scale across it: the tilt does', () => {
  const to = readoutFrame([{ x: 0, y: 5 }, { x: 100, y: 5 }], [{ x: 0, y: 0 }, { x: 100, y: 0 }], 60);
  expect(to({ x: 0, y: 5 }).y).toBeCloseTo(0, 9);
  expect(to({ x: 0, y: 15 }).y).toBeCloseTo(5, 9); // cos 60° of 10
});
