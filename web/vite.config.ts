/** How the page is built into dist/web: what the bowl needs at once, parts that are fetched apart, no third-party asset. */
import { defineConfig } from 'vite';

export default defineConfig({
  root: import.meta.dirname,
  base: './',
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    sourcemap: false,
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: false,
    rolldownOptions: {
      // The charting library by itself: it changes seldom, and what it weighs can be told.
      output: { codeSplitting: { groups: [{ name: 'chart', test: /node_modules\/(?:chart\.js|@kurkle)\// }] } },
    },
  },
});
