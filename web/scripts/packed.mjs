// Each built page once more as a browser may take it, by brotli and gzip: page.js.br, page.js.gz. The server
// hands these out as they are and packs no page itself. `npm run build` does it last.

import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { brotliCompressSync, constants, gzipSync } from 'node:zlib';

const built = new URL('../dist/', import.meta.url);
const least = 1000; // a shorter one gains nothing
const words = /\.(js|css|html|svg|json|webmanifest|txt)$/;

for (const name of readdirSync(built, { recursive: true })) {
  if (!words.test(name)) continue;
  const file = new URL(name, built);
  const bytes = readFileSync(file);
  if (bytes.length < least) continue;
  const hints = { [constants.BROTLI_PARAM_MODE]: constants.BROTLI_MODE_TEXT, [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length };
  writeFileSync(`${file.pathname}.br`, brotliCompressSync(bytes, { params: hints }));
  writeFileSync(`${file.pathname}.gz`, gzipSync(bytes, { level: 9 }));
}
