// schema/results.json is held against the program that writes the results, and what is made from it against the files.

import Ajv from 'ajv';
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync } from 'node:fs';
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
  const jobs = readdirSync(`${root}examples`).filter((example) => existsSync(`${root}examples/${example}/job.toml`));
  for (const example of jobs) {
    it.each(stages)(`of %s for the example ${example} have the keys and values the schema names, and no others`, (stage) => {
      const check = checkOf(stage);
      let text = '';
      try {
        text = execFileSync(program ?? '', [stage, `${root}examples/${example}/job.toml`, '--json'], { encoding: 'utf8', maxBuffer: 1e8, stdio: ['ignore', 'pipe', 'ignore'] });
      } catch (stopped) {
        text = String((stopped as { stdout?: string }).stdout ?? ''); // exit status 3 comes with a result
      }
      const result = JSON.parse(text) as Record<string, unknown>;
      expect(Object.keys(result).slice(0, 4)).toEqual(['seatwright', 'job', 'warnings', 'assumptions']);
      expect(check(result), JSON.stringify(check.errors?.slice(0, 3))).toBe(true);
      // A schema that lets everything pass proves nothing.
      const one = Object.keys(result).find((k) => Array.isArray(result[k]) && k !== 'warnings') ?? 'seats';
      expect(check({ ...result, [one]: undefined, renamed: result[one] })).toBe(false);
    }, 60_000);
  }
  const other = `${root}examples/survey/readings.toml`;
  it.each([
    ['survey', [other]], ['survey', [other, '--over', '']],
    ['drawing', [`${root}examples/drawing/deck.dxf`]], ['drawing', [`${root}examples/drawing/deck.dxf`, '--over', '']],
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
});
