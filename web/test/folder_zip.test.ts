import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';

vi.mock('../src/api/client', () => ({ getText: () => Promise.resolve('') }));
const { crc32, zipOf } = await import('../src/parts/folder_zip');

test('the check sum of "123456789" is the published one', () => {
  expect(crc32(new TextEncoder().encode('123456789')).toString(16)).toBe('cbf43926'); // ITU-T V.42, 8.1.1.6.2, as usually quoted
});

test('another program reads the folder and its files out of it, byte for byte', () => {
  const text = new TextEncoder();
  const files = [{ name: '12/P7A1F.NGC', bytes: text.encode('(head 7)\nG21\nM2\n') }, { name: '12/P7A2.NGC', bytes: text.encode('') }];
  const folder = mkdtempSync(join(tmpdir(), 'seatwright-zip-'));
  try {
    writeFileSync(join(folder, '12.zip'), zipOf(files));
    execFileSync('python3', ['-c', 'import sys, zipfile; z = zipfile.ZipFile(sys.argv[1]); assert z.testzip() is None; z.extractall(sys.argv[2])', join(folder, '12.zip'), folder]);
    for (const f of files) expect(new Uint8Array(readFileSync(join(folder, f.name)))).toEqual(f.bytes);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
