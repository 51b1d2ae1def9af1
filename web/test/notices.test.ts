// What of others goes into the program is named, with its terms, and stands in the bill of materials.

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
// @ts-expect-error: a script without types
import { compiledIn, linked, ofPages, sbom } from '../../scripts/notices.mjs';

const read = (path: string) => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');
const lock = JSON.parse(read('web/package-lock.json'));

interface Spdx {
  spdxVersion: string; dataLicense: string; SPDXID: string; name: string; documentNamespace: string;
  creationInfo: { created: string; creators: string[] };
  packages: { SPDXID: string; name: string; downloadLocation: string; versionInfo: string }[];
  relationships: { spdxElementId: string; relationshipType: string; relatedSpdxElement: string }[];
}

describe('notices', () => {
  it('name every library the build asks for', () => {
    const asked = [...(read('cmake/house.cmake') + read('apps/server/CMakeLists.txt')).matchAll(
      /^(?:find_package\((\S+)|pkg_check_modules\(\S+ REQUIRED (?:IMPORTED_TARGET )?([^)]+)\)|find_library\(\S+ (\S+))/gm)]
      .flatMap((m) => (m[1] ?? m[2] ?? m[3] ?? '').replace(')', '').split(' '));
    expect(asked.length).toBeGreaterThan(15);
    const named = [...compiledIn, ...linked].flatMap((p: { as: string[] }) => p.as);
    expect(asked.filter((name) => !named.includes(name) && !['Threads', 'PkgConfig'].includes(name))).toEqual([]);
    const text = read('THIRD-PARTY');
    for (const p of [...compiledIn, ...linked] as { name: string }[]) expect(text).toContain(`  ${p.name} (`);
  });

  it('have the terms of everything in the pages', () => {
    const text = read('THIRD-PARTY');
    const inside = ofPages(lock).embedded as { name: string; version: string }[];
    expect(inside.map((p) => p.name)).toContain('preact');
    for (const p of inside) {
      expect(text).toContain(`  ${p.name} ${p.version} (`);
      expect(text).toMatch(new RegExp(`\\n${p.name}\\n\\n(The )?MIT License`));
    }
  });

  it('make a bill of materials that holds together (SPDX 2.3, sections 6, 7 and 11)', () => {
    const made = sbom(lock, '1.2.3', { now: '2026-01-31T12:34:56Z' }) as Spdx;
    expect(made.spdxVersion).toBe('SPDX-2.3');
    expect(made.dataLicense).toBe('CC0-1.0');
    expect(made.SPDXID).toBe('SPDXRef-DOCUMENT');
    expect(made.documentNamespace).toMatch(/^https:\/\/[^#]+$/);
    expect(made.creationInfo.created).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$/);
    const ids = made.packages.map((p) => p.SPDXID);
    expect(new Set(ids).size).toBe(ids.length);
    for (const p of made.packages) {
      expect(p.SPDXID).toMatch(/^SPDXRef-[A-Za-z0-9.-]+$/);
      expect(p.name).not.toBe('');
      expect(p.downloadLocation).not.toBe('');
    }
    for (const r of made.relationships) {
      expect([...ids, 'SPDXRef-DOCUMENT']).toContain(r.spdxElementId);
      expect(ids).toContain(r.relatedSpdxElement);
    }
    for (const p of ofPages(lock).embedded as { name: string }[]) expect(made.packages.map((q) => q.name)).toContain(p.name);
  });
});
