// node scripts/alone.mjs [WORDS…]   every source by itself, read by clang: does it include what it needs? What others
// of its unit, or a precompiled header, have included before it does not help it here. Nothing is built. WORDS: only
// sources whose path has one of them in it.
import { execFile, execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { dirname, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '..');
const folder = resolve(root, 'build/alone');
execFileSync(
  'cmake',
  ['-S', root, '-B', folder, '-G', 'Ninja', '-DCMAKE_CXX_COMPILER=clang++-14', '-DSEATWRIGHT_TOGETHER=OFF', '-DSEATWRIGHT_BENCH=ON', '-DSEATWRIGHT_FUZZ=ON',
    '-DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON', '-DCCACHE_PROGRAM=OFF'],
  { stdio: ['ignore', 'ignore', 'inherit'] },
);

const words = process.argv.slice(2);
const wanted = (file) => words.length === 0 || words.some((word) => file.includes(word));
const waiting = JSON.parse(readFileSync(resolve(folder, 'compile_commands.json'), 'utf8'))
  .map(({ directory, command, file }) => ({ directory, command, file: relative(root, resolve(directory, file)) }))
  .filter(({ file }) => wanted(file));
const count = waiting.length;
const faults = [];

async function read() {
  for (let one = waiting.shift(); one; one = waiting.shift()) {
    const command = one.command.replace(/ -o \S+ -c /, ' -fsyntax-only ');
    const said = await new Promise((done) => {
      execFile('sh', ['-c', command], { cwd: one.directory, maxBuffer: 1 << 26 }, (fault, _, text) =>
        done(fault ? text || fault.message : ''),
      );
    });
    if (said) faults.push(`${one.file}:\n${said}`);
  }
}

if (count === 0) {
  console.error(`alone: no source has ${words.join(' or ')} in its path`);
  process.exit(2);
}
await Promise.all(Array.from({ length: availableParallelism() }, read));
if (faults.length > 0) {
  console.error(faults.join('\n'));
  console.error(`alone: ${faults.length} of ${count} sources lack something by themselves`);
  process.exit(1);
}
console.log(`${count} sources include what they need`);
