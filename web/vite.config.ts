import { defineConfig, type Plugin } from 'vite';

// Everything is a file of our own origin, so that the page runs under a Content-Security-Policy without
// inline script or style: nothing is inlined, and the module preload helper is not needed by today's browsers.
// Parts of the page that are fetched when they are asked for, named in it so that the service worker keeps them too.
const namesLater: Plugin = {
  name: 'names-later',
  transformIndexHtml: {
    order: 'post',
    handler(_html, { bundle }) {
      const files = Object.values(bundle ?? {}).filter((f) => f.type === 'chunk' && !f.isEntry).map((f) => `/${f.fileName}`);
      return [{ tag: 'meta', attrs: { name: 'later', content: files.sort().join(' ') }, injectTo: 'head' }];
    },
  },
};

// Of the table of keys what the pages ask for; what is no limit says nothing of it.
const asked = ['key', 'label', 'who', 'limit', 'dimension', 'otherwise', 'low', 'high', 'above', 'from', 'new_head'];
const fewerKeys: Plugin = {
  name: 'fewer-keys',
  enforce: 'pre',
  transform(code, id) {
    if (!id.endsWith('/made/keys.json')) return null;
    const all = JSON.parse(code) as { keys: Record<string, unknown>[] };
    return JSON.stringify({ ...all, keys: all.keys.map((k) => Object.fromEntries(Object.entries(k).filter(([name, value]) => asked.includes(name) && value !== false))) });
  },
};

export default defineConfig({
  base: '/',
  plugins: [namesLater, fewerKeys],
  esbuild: { jsx: 'automatic', jsxImportSource: 'preact' },
  build: {
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: false,
    cssCodeSplit: false,
    rollupOptions: {
      input: { index: 'index.html', offline: 'src/offline.ts' },
      // The service worker keeps its name, as the browser asks for it by name to see whether it is new.
      output: { entryFileNames: (chunk) => (chunk.name === 'offline' ? 'offline.js' : 'assets/[name]-[hash].js') },
    },
  },
  server: {
    // The host stays as the browser asked for it: the server refuses changes asked for by another site.
    proxy: { '/api': { target: process.env['SEATWRIGHT_API'] ?? 'http://127.0.0.1:8080', changeOrigin: false } },
  },
});
