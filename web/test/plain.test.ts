import { expect, test } from 'vitest';
import { behind, headline, plain } from '../src/parts/plain';

test('a name is said once, a sentence has a capital and a full stop', () => {
  expect(plain('3I: 3I cannot be cleaned up within its limits')).toBe('3I cannot be cleaned up within its limits.');
  expect(plain('1I: repair the guide before its seat is cut', '1I')).toBe('Repair the guide before its seat is cut.');
  expect(plain('cooled rings burn: gloves')).toBe('Cooled rings burn: gloves.');
  expect(plain('')).toBe('');
});

test('no key and no line of the file stands in it', () => {
  expect(plain('seat.intake.material is missing; wanted to cut: the name of a [[material]], here or as head.material'))
    .toBe('Seat material (intake) is missing; it is needed to cut: the name of a material, here or as head material.');
  expect(plain('tilt set to 19.5825 deg, and the guides read again; or allow = [{ what = "plumb 4E", why = …, by = … }]'))
    .toBe('Tilt set to 19.5825°, and the guides read again, or a lead lets it pass.');
  expect(plain('a blade of the form to order, or allow what = "width intake"')).toBe('A blade of the form to order, or a lead lets it pass.');
  expect(plain('pilot "F" needs the free room under the guide\'s far end (`guide.intake.below`)')).toBe('Pilot "F" needs the free room under the guide\'s far end (“room below the guide (intake)”).');
  expect(plain('those of the drawing or as measured, taken out of head.assumed')).toBe('Those of the drawing or as measured, or said to be right.');
  expect(plain('Type those of the drawing, or measure them, and take them out of head.assumed; nothing is written for the machine before.'))
    .toBe('Type those of the drawing, or measure them, or say that they are right; nothing is written for the machine before.');
  expect(plain('The figure reading.first.6.3I.depth = 12 mm cannot be right: a depth lies between 0 mm and 1 mm.'))
    .toBe('The figure depth of 3I (reading of a first seat, head 6) = 12 mm cannot be right: a depth lies between 0 mm and 1 mm.');
  expect(plain('The figure head.valve.1I.z = 30 mm cannot be right')).toBe('The figure Z of 1I = 30 mm cannot be right.');
  expect(plain('plan = "shifted" or plan = "anew" in the [[reading.first]] of 3I')).toBe('Plan = "shifted" or plan = "anew" in the reading of a first seat of 3I.');
  expect(plain('depth.feeler is missing')).toBe('Feeler is missing.');
  expect(plain('touch 4I again, or keep = true beside its touch if the guide really stands there')).toBe('Touch 4I again, or say “use it all the same” beside its touch if the guide really stands there.');
  expect(plain('correct it, or write sure = ["head.lies = as declared"] if it is right')).toBe('Correct it, or somebody says that it is right.');
});

test('over a room stands what is wrong and what to do, not the same twice', () => {
  expect(headline('1Ia: 1Ia is not measured: its plan lacks rest_z of 1Ia: Z of the cutter resting on it, Z0 taken on 4Ib; what frees it: rest_z of 1Ia: Z of the cutter resting on it, Z0 taken on 4Ib'))
    .toBe('1Ia is not measured: its plan lacks Z of the cutter resting on it, Z0 taken on 4Ib.');
  expect(headline('3I: 3I cannot be cleaned up within its limits; what frees it: a new insert, or another limit'))
    .toBe('3I cannot be cleaned up within its limits. To free it: a new insert, or another limit.');
  expect(headline('Touch 1E.')).toBe('Touch 1E.');
});

test('behind its name a sentence goes on without it', () => {
  expect(behind('1E is not measured: its plan lacks the cleanup; what frees it: the cleanup', '1E')).toBe('is not measured: its plan lacks the cleanup.');
  expect(behind('1I: repair the guide before its seat is cut', '1I')).toBe('Repair the guide before its seat is cut.');
  expect(behind('two touches disagree', null)).toBe('Two touches disagree.');
});
