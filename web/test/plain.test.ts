import { expect, test } from 'vitest';
import { behind, headline, labelled, plain } from '../src/parts/plain';

test('a name is said once, a sentence has a capital, a true minus and a full stop', () => {
  expect(plain('3I: 3I cannot be cleaned up within its limits')).toBe('3I cannot be cleaned up within its limits.');
  expect(plain('1I: repair the guide before its seat is cut', '1I')).toBe('Repair the guide before its seat is cut.');
  expect(plain('it leans -0.5°')).toBe('It leans −0.5°.');
  expect(plain('1Ia leans')).toBe('1Ia leans.');
  expect(plain('')).toBe('');
});

test('no word of a sentence of the server is changed', () => {
  const said = 'or allow = [{ what = "plumb 4E" }], `x` 19 deg, seat.intake.width; wanted to cut; what frees it: head.assumed';
  expect(plain(said)).toBe(`O${said.slice(1)}.`);
});

test('keys in a list or in a fault stand by their labels', () => {
  expect(labelled('seat.intake.material, guide.intake.below')).toBe('seat material (intake), room below the guide (intake)');
  expect(labelled('reading.first.6.3I.depth = 12 mm')).toBe('depth of 3I (reading of a first seat, head 6) = 12 mm');
});

test('over a room stands what is wrong and what to do, not the same twice', () => {
  expect(headline('1Ia: 1Ia is not measured: its plan lacks Z of the cutter resting on it', 'Z of the cutter resting on it'))
    .toBe('1Ia is not measured: its plan lacks Z of the cutter resting on it.');
  expect(headline('3I: 3I cannot be cleaned up within its limits', 'a new insert, or another limit'))
    .toBe('3I cannot be cleaned up within its limits. To free it: a new insert, or another limit.');
  expect(headline('Touch 1E.', undefined)).toBe('Touch 1E.');
  expect(headline('Touch 1E.', '')).toBe('Touch 1E.');
});

test('behind its name a sentence goes on without it', () => {
  expect(behind('1E is not measured: its plan lacks the cleanup', 'the cleanup', '1E')).toBe('is not measured: its plan lacks the cleanup.');
  expect(behind('1I: repair the guide before its seat is cut', undefined, '1I')).toBe('Repair the guide before its seat is cut.');
  expect(behind('two touches disagree', undefined, null)).toBe('Two touches disagree.');
});
