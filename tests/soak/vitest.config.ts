/** A soak takes as long as it takes, one part after another. */
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: import.meta.dirname,
    include: ['soak.test.ts'],
    testTimeout: 24 * 3_600_000,
    hookTimeout: 60_000,
    reporters: ['dot'],
    disableConsoleIntercept: true,
  },
});
