// schema/results.json is held against the program that writes the results, and what is made from it against the files.

import Ajv from 'ajv';
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { made, onDisk, schema } from '../scripts/made.mjs';

const root = fileURLToPath(new URL('../../', import.meta.url));
// ./check names the program it built; by hand any build will do.
const program = [process.env['SEATWRIGHT_BINARY'], `${root}build/release/seatwright`, `${root}build/dev/seatwright`].find((p) => p && existsSync(p));
const stages = ['hold', 'find', 'shape', 'cut', 'prove', 'forecast'];

describe('what is made from the schema', () => {
  it('is on disk as it would be made anew (node web/scripts/made.mjs)', async () => {
    for (const [path, text] of Object.entries(await made())) expect(onDisk(path) === text, path).toBe(true);
  }, 60_000);
});

describe.runIf(program || process.env['CI'])('the program’s results', () => {
  const ajv = new Ajv({ allowUnionTypes: true });
  const whole = schema();
  const checkOf = (stage: string) =>
    ajv.compile({ $ref: `#/definitions/${stage[0]?.toUpperCase()}${stage.slice(1)}Result`, definitions: whole.definitions });
  // What the command prints; exit status 3 comes with a result.
  const printed = (args: readonly string[]) => {
    try {
      return execFileSync(program ?? '', args, { encoding: 'utf8', maxBuffer: 1e8, stdio: ['ignore', 'pipe', 'ignore'] });
    } catch (stopped) {
      return String((stopped as { stdout?: string }).stdout ?? '');
    }
  };
  const framed = ['seatwright', 'job', 'warnings', 'assumptions'];
  const jobs = readdirSync(`${root}examples`).filter((example) => existsSync(`${root}examples/${example}/job.toml`));
  for (const example of jobs) {
    it.each(stages)(`of %s for the example ${example} have the keys and values the schema names, and no others`, (stage) => {
      const check = checkOf(stage);
      const text = printed([stage, `${root}examples/${example}/job.toml`, '--json']);
      const result = JSON.parse(text) as Record<string, unknown>;
      expect(Object.keys(result).slice(0, 4)).toEqual(framed);
      expect(check(result), JSON.stringify(check.errors?.slice(0, 3))).toBe(true);
      // A schema that lets everything pass proves nothing.
      const one = Object.keys(result).find((k) => Array.isArray(result[k]) && k !== 'warnings') ?? 'seats';
      expect(check({ ...result, [one]: undefined, renamed: result[one] })).toBe(false);
    }, 60_000);
    it.each([['plan', 'Plan'], ['certify', 'Prove']])(`of %s for the example ${example} have the keys and values of a %sResult, and no others`, (command, of) => {
      const check = checkOf(of);
      const result = JSON.parse(printed([command, `${root}examples/${example}/job.toml`, '--json'])) as Record<string, unknown>;
      expect(Object.keys(result).slice(0, 4)).toEqual(framed);
      expect(check(result), JSON.stringify(check.errors?.slice(0, 3))).toBe(true);
      const one = of === 'Plan' ? 'cut' : 'verdict';
      expect(check({ ...result, [one]: undefined, renamed: result[one] })).toBe(false);
    }, 60_000);
    it(`of casting for the example ${example} have the keys and values the schema names, and no others`, () => {
      const folder = mkdtempSync(`${tmpdir()}/casting-`);
      const check = checkOf('casting');
      const result = JSON.parse(printed(['casting', `${root}examples/${example}/job.toml`, '--out', `${folder}/casting.toml`, '--json'])) as Record<string, unknown>;
      expect(check(result), JSON.stringify(check.errors?.slice(0, 3))).toBe(true);
      expect(check({ ...result, heads: undefined, renamed: result['heads'] })).toBe(false);
    }, 60_000);
  }
  // A part of plan.json is what the stage answers alone, less the frame, which stands there once.
  it.each(['Hold', 'Find', 'Shape', 'Cut'])('of plan name for %s what the stage alone has behind its frame', (stage) => {
    const of = whole.definitions as Record<string, { properties: Record<string, unknown>; required: string[] } | undefined>;
    const alone = of[`${stage}Result`], planned = of[`Planned${stage}`];
    if (!alone || !planned) throw new Error(`the schema lacks what ${stage} answers`);
    const own = Object.fromEntries(Object.entries(alone.properties).filter(([key]) => !framed.includes(key)));
    expect(planned.properties).toEqual(own);
    expect(planned.required).toEqual(alone.required.filter((key) => !framed.includes(key)));
    expect(Object.keys(own).length).toBeGreaterThan(3);
  });
  const other = `${root}examples/survey/readings.toml`;
  it.each([
    ['survey', [other]], ['survey', [other, '--over', '']],
    ['drawing', [`${root}examples/drawing/deck.dxf`]], ['drawing', [`${root}examples/drawing/deck.dxf`, '--over', '']],
    ['scan', [`${root}examples/scan/head.ply`]], ['scan', [`${root}examples/scan/head.ply`, '--over', '']],
  ] as const)('of %s %j have the keys and values the schema names, and no others', (command, given) => {
    const folder = mkdtempSync(`${tmpdir()}/head-`);
    const over = `${folder}/over.toml`;
    const words = given.map((w) => (w === '' ? over : w));
    const run = (out: string, args: readonly string[]) => execFileSync(program ?? '', [command, ...args, '--out', out, '--json'], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] });
    run(over, [words[0] ?? '']);
    const result = JSON.parse(run(`${folder}/job.toml`, words)) as Record<string, unknown>;
    const check = checkOf(command);
    expect(check(result), JSON.stringify(check.errors?.slice(0, 3))).toBe(true);
    expect(result['over'] !== undefined).toBe(given.length > 1);
    expect(check({ ...result, valves: undefined, renamed: result['valves'] })).toBe(false);
  }, 60_000);
  // What the whole surface does not have: a guide too little of is seen, a hole that is no bolt's.
  it.each([['along X', 0, 0.3, 'obstacle'], ['along Z', 2, 0.1, 'not_seen']] as const)('of scan for a surface cut off %s have the keys and values the schema names', (_, axis, part, has) => {
    const file = `${mkdtempSync(`${tmpdir()}/cut-`)}/head.ply`;
    writeFileSync(file, cutOff(readFileSync(`${root}examples/scan/head.ply`), axis, part));
    const result = JSON.parse(printed(['scan', file, '--out', `${file}.toml`, '--json'])) as { not_seen: unknown[]; head: { obstacle: unknown[] } };
    const check = checkOf('scan');
    expect(check(result), JSON.stringify(check.errors?.slice(0, 3))).toBe(true);
    expect((has === 'obstacle' ? result.head.obstacle : result.not_seen).length).toBeGreaterThan(0);
  }, 60_000);
});

// A PLY of x y z as float without the points that lie lowest along an axis.
function cutOff(ply: Buffer, axis: number, part: number): Buffer {
  const ends = 'end_header\n', size = 12;
  const from = ply.indexOf(ends) + ends.length;
  const all = Array.from({ length: (ply.length - from) / size }, (_, i) => ply.subarray(from + size * i, from + size * (i + 1)));
  const at = (point: Buffer) => point.readFloatLE(4 * axis);
  const low = all.map(at).sort((a, b) => a - b)[Math.floor(part * all.length)] ?? 0;
  const kept = all.filter((point) => at(point) > low);
  return Buffer.concat([Buffer.from(ply.subarray(0, from).toString('latin1').replace(String(all.length), String(kept.length)), 'latin1'), ...kept]);
}
