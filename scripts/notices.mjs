// What of others goes into the program, and under which terms.
//
//   node scripts/notices.mjs                      rewrites THIRD-PARTY at the top of the sources
//   node scripts/notices.mjs --sbom OUT [BINARY]  writes a bill of materials (SPDX 2.3, JSON): what is compiled in,
//                                                 what BINARY is linked to, what the pages are made of and with
//
// Debian's packages and the lock file of the pages are asked; nothing is fetched. web/ must be installed (npm ci).
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const top = dirname(dirname(fileURLToPath(import.meta.url)));

// `as`: the names the build asks for it by (a test holds the build against this list). `licence`: SPDX.
export const compiledIn = [
  { name: 'Eigen', deb: 'libeigen3-dev', as: ['Eigen3'], licence: 'MPL-2.0' },
  { name: 'JSON for Modern C++', deb: 'nlohmann-json3-dev', as: ['nlohmann_json'], licence: 'MIT' },
  { name: 'CLI11', deb: 'libcli11-dev', as: ['CLI11'], licence: 'BSD-3-Clause' },
  { name: 'Boost', deb: 'libboost1.74-dev', as: ['Boost'], licence: 'BSL-1.0', only: 'BSL-1.0' },
  { name: 'expected', deb: 'libexpected-dev', as: ['tl-expected'], licence: 'CC0-1.0' },
];
export const linked = [
  { name: 'fmt', deb: 'libfmt9', dev: 'libfmt-dev', as: ['fmt'], licence: 'MIT' },
  { name: 'spdlog', deb: 'libspdlog1.10', dev: 'libspdlog-dev', as: ['spdlog'], licence: 'MIT' },
  { name: 'Clp and CoinUtils', deb: 'coinor-libclp1', as: ['clp'], licence: 'EPL-1.0' },
  { name: 'SOCI', deb: 'libsoci-core4.0', as: ['soci_core', 'soci_sqlite3', 'soci_postgresql'], licence: 'BSL-1.0' },
  { name: 'SQLite', deb: 'libsqlite3-0', as: ['sqlite3'], licence: 'blessing' },
  { name: 'jemalloc', deb: 'libjemalloc2', as: ['jemalloc'], licence: 'BSD-2-Clause' },
  { name: 'libpq', deb: 'libpq5', dev: 'libpq-dev', as: ['libpq'], licence: 'PostgreSQL' },
  { name: 'libsodium', deb: 'libsodium23', as: ['libsodium'], licence: 'ISC' },
  { name: 'OpenSSL', deb: 'libssl3', as: ['OpenSSL'], licence: 'Apache-2.0' },
  { name: 'Brotli', deb: 'libbrotli1', as: ['brotlienc', 'libbrotlienc'], licence: 'MIT' },
  { name: 'zlib', deb: 'zlib1g', as: ['ZLIB', 'z'], licence: 'Zlib' },
  { name: 'libqrencode', deb: 'libqrencode4', as: ['libqrencode'], licence: 'LGPL-2.1-or-later' },
  { name: 'cracklib', deb: 'libcrack2', as: ['crack'], licence: 'LGPL-2.1-only' },
  { name: 'ICU', deb: 'libicu72', as: ['icu-i18n'], licence: 'ICU' },
  { name: 'pugixml', deb: 'libpugixml1v5', dev: 'libpugixml-dev', as: ['pugixml'], licence: 'MIT' },
  { name: 'librsvg', deb: 'librsvg2-2', as: ['librsvg-2.0'], licence: 'LGPL-2.1-or-later' },
  { name: 'Cairo', deb: 'libcairo2', as: ['cairo-pdf'], licence: 'LGPL-2.1-only OR MPL-1.1' },
  { name: 'GCC runtime', deb: 'libstdc++6', as: [], licence: 'GPL-3.0-or-later WITH GCC-exception-3.1' },
];

// The pages' packages: those that go into the program, and those they are made with.
export function ofPages(lock) {
  const all = Object.entries(lock.packages).filter(([path]) => path !== '')
    .map(([path, p]) => ({ name: path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length), path, ...p }));
  return { embedded: all.filter((p) => !p.dev && !p.optional), tools: all.filter((p) => p.dev || p.optional) };
}

const version = (deb) => {
  try {
    return execFileSync('dpkg-query', ['-W', '-f=${Version}', deb], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] });
  } catch {
    return 'not installed here';
  }
};

// The terms as Debian has them; of a long file one licence alone.
function terms({ deb, only }) {
  const file = `/usr/share/doc/${deb}/copyright`;
  if (!existsSync(file)) throw new Error(`${deb} is not installed here: its terms cannot be copied`);
  const text = readFileSync(file, 'utf8');
  if (!only) return text.trimEnd();
  const found = text.split(/\n\s*\n/).find((part) => part.includes(`License: ${only}\n `));
  if (!found) throw new Error(`${file} has no text of ${only}`);
  return found.slice(found.indexOf(`License: ${only}`)).trimEnd();
}

export function notices(lock) {
  const rule = `\n${'-'.repeat(100)}\n`;
  const as = (part) => (part.as.length > 0 ? `, asked for as ${part.as.join(', ')}` : '');
  let out = 'What of others goes into Seatwright, and under which terms. Made by scripts/notices.mjs.\n\n';
  out += 'Compiled in:\n';
  for (const p of compiledIn) out += `  ${p.name} (${p.licence}${as(p)})\n`;
  out += '\nIn the pages, which are in the binary:\n';
  for (const p of ofPages(lock).embedded) out += `  ${p.name} ${p.version} (${p.license})\n`;
  out += '\nLinked, or opened when needed; not handed out with it. Debian has the terms in /usr/share/doc/PACKAGE/copyright:\n';
  for (const p of linked) out += `  ${p.name} (${p.licence}; ${p.deb}${as(p)})\n`;
  for (const p of compiledIn) out += `${rule}${p.name}\n\n${terms(p)}\n`;
  // Of these the headers are compiled in, too.
  for (const p of linked.filter((l) => l.dev)) out += `${rule}${p.name}\n\n${terms({ deb: p.dev })}\n`;
  for (const p of ofPages(lock).embedded)
    out += `${rule}${p.name}\n\n${readFileSync(join(top, 'web', p.path, 'LICENSE'), 'utf8').trimEnd()}\n`;
  return out;
}

// The Debian packages a binary's libraries come from.
function packagesOf(binary) {
  const files = execFileSync('ldd', [binary], { encoding: 'utf8' }).split('\n').map((l) => /=> (\/\S+)/.exec(l)?.[1]).filter(Boolean);
  const names = new Set();
  for (const file of files)
    for (const path of [file, file.replace(/^\/lib\//, '/usr/lib/')])
      try {
        const said = execFileSync('dpkg-query', ['-S', path], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] });
        names.add(said.slice(0, said.indexOf(':')));
        break;
      } catch {
        // Debian knows some libraries by the other of the two paths.
      }
  return [...names].sort();
}

export function sbom(lock, own, { now, binaryPackages = [] }) {
  const packages = [];
  const relationships = [];
  const add = (id, fields) => {
    const spdxId = `SPDXRef-${id.replace(/[^A-Za-z0-9.-]/g, '-')}`;
    if (!packages.some((p) => p.SPDXID === spdxId))
      packages.push({ SPDXID: spdxId, downloadLocation: 'NOASSERTION', filesAnalyzed: false, licenseConcluded: 'NOASSERTION', copyrightText: 'NOASSERTION', ...fields });
    return spdxId;
  };
  const relate = (from, relationshipType, to) => relationships.push({ spdxElementId: from, relationshipType, relatedSpdxElement: to });
  const debian = (deb, licence) => {
    const v = version(deb);
    return add(`deb-${deb}`, {
      name: deb, versionInfo: v, supplier: 'Organization: Debian', licenseDeclared: licence ?? 'NOASSERTION',
      externalRefs: [{ referenceCategory: 'PACKAGE-MANAGER', referenceType: 'purl', referenceLocator: `pkg:deb/debian/${deb}@${encodeURIComponent(v)}` }],
    });
  };
  const npm = (p) => add(`npm-${p.name}-${p.version}`, {
    name: p.name, versionInfo: p.version, supplier: 'NOASSERTION', downloadLocation: p.resolved ?? 'NOASSERTION', licenseDeclared: p.license ?? 'NOASSERTION',
    externalRefs: [{ referenceCategory: 'PACKAGE-MANAGER', referenceType: 'purl', referenceLocator: `pkg:npm/${p.name.replace('@', '%40')}@${p.version}` }],
    ...(p.integrity?.startsWith('sha512-') ? { checksums: [{ algorithm: 'SHA512', checksumValue: Buffer.from(p.integrity.slice(7), 'base64').toString('hex') }] } : {}),
  });
  const seatwright = add('seatwright', { name: 'seatwright', versionInfo: own, supplier: 'NOASSERTION', licenseDeclared: 'Apache-2.0' });
  relate('SPDXRef-DOCUMENT', 'DESCRIBES', seatwright);
  for (const p of compiledIn) relate(seatwright, 'STATIC_LINK', debian(p.deb, p.licence));
  for (const p of linked) relate(seatwright, 'DYNAMIC_LINK', debian(p.deb, p.licence));
  const known = new Set(linked.map((p) => p.deb));
  for (const deb of binaryPackages.filter((name) => !known.has(name))) relate(seatwright, 'DYNAMIC_LINK', debian(deb));
  const pages = ofPages(lock);
  for (const p of pages.embedded) relate(seatwright, 'CONTAINS', npm(p));
  for (const p of pages.tools) relate(npm(p), 'BUILD_TOOL_OF', seatwright);
  const content = createHash('sha256').update(JSON.stringify(packages)).digest('hex').slice(0, 32);
  return {
    spdxVersion: 'SPDX-2.3', dataLicense: 'CC0-1.0', SPDXID: 'SPDXRef-DOCUMENT', name: `seatwright-${own}`,
    documentNamespace: `https://seatwright.invalid/spdx/${own}/${content}`,
    creationInfo: { created: now, creators: ['Tool: seatwright-notices'] },
    packages, relationships,
  };
}

const [what, out, binary] = process.argv.slice(2);
if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const lock = JSON.parse(readFileSync(join(top, 'web/package-lock.json'), 'utf8'));
  if (what === '--sbom') {
    const own = JSON.parse(readFileSync(join(top, 'web/package.json'), 'utf8')).version;
    const now = `${new Date().toISOString().slice(0, 19)}Z`;
    writeFileSync(out, JSON.stringify(sbom(lock, own, { now, binaryPackages: binary ? packagesOf(binary) : [] }), null, 1) + '\n');
  } else {
    writeFileSync(join(top, 'THIRD-PARTY'), notices(lock));
  }
}
