import './browser_globals';
import { expect, test } from 'vitest';
import { renewalOf, type Held, type Known } from '../src/state/renewed';

const idle: Held = { typing: false, waiting: 0, sending: 0 };
const newer: Known = { first: '1.0.0', heard: '1.1.0', reloadedFor: [] };

test('a page that nobody types on reloads for another version, an older one too', () => {
  expect(renewalOf(newer, idle)).toBe('reload');
  expect(renewalOf({ ...newer, heard: '0.9.0' }, idle)).toBe('reload');
});

test('the version first heard, or none yet, reloads nothing', () => {
  expect(renewalOf({ ...newer, heard: '1.0.0' }, idle)).toBe('none');
  expect(renewalOf({ first: null, heard: null, reloadedFor: [] }, idle)).toBe('none');
});

test('what waits is sent first, typed or not', () => {
  expect(renewalOf(newer, { ...idle, waiting: 2 })).toBe('send');
  expect(renewalOf(newer, { typing: true, waiting: 1, sending: 1 })).toBe('send');
});

test('what is typed or on its way is waited for', () => {
  expect(renewalOf(newer, { ...idle, typing: true })).toBe('wait');
  expect(renewalOf(newer, { ...idle, sending: 1 })).toBe('wait');
});

test('never twice for one version, however the servers take turns', () => {
  let first = '1.0.0';
  const reloadedFor: string[] = [];
  let reloads = 0;
  for (let i = 0; i < 20; ++i) {
    const heard = i % 2 === 0 ? '1.1.0' : '1.0.0';
    if (renewalOf({ first, heard, reloadedFor }, idle) !== 'reload') continue;
    reloads += 1;
    reloadedFor.push(heard);
    first = heard;
  }
  expect(reloads).toBe(2);
});
