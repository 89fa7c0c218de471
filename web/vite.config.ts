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
      output: {
        codeSplitting: {
          groups: [
            // The charting library by itself: it changes seldom, and what it weighs can be told.
            { name: 'chart', test: /node_modules\/(?:chart\.js|@kurkle)\// },
            // All that stands at once in one piece, however many other parts share some of it: many small ones weigh more.
            { name: 'bowl', test: /\/web\/main\.tsx$/ },
          ],
        },
      },
    },
  },
});
