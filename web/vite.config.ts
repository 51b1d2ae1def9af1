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
    reportCompressedSize: true,
  },
  server: {
    proxy: { '/api': process.env['SEATWRIGHT_API'] ?? 'http://127.0.0.1:8080' },
  },
});
