import { defineConfig } from 'vite';

// Everything is a file of our own origin, so that the page runs under a Content-Security-Policy without
// inline script or style: nothing is inlined, and the module preload helper is not needed by today's browsers.
export default defineConfig({
  base: '/',
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
