/** How the page is built: one bundle, no third-party asset, into dist/web. */
import { defineConfig } from 'vite';

export default defineConfig({
  root: import.meta.dirname,
  base: './',
  build: { outDir: '../dist/web', emptyOutDir: true, sourcemap: false, target: 'es2022', assetsInlineLimit: 0 },
});
