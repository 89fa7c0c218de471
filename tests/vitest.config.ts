/** How the tests run: one project for plain Node tests, one for those that need the browser or a pseudo-terminal. */
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: 'node',
          root: import.meta.dirname,
          include: ['**/*.test.ts'],
          exclude: ['browser/**', 'bench/**'],
          testTimeout: 20_000,
        },
      },
      {
        test: {
          name: 'browser',
          root: import.meta.dirname,
          include: ['browser/**/*.test.ts'],
          testTimeout: 90_000,
          hookTimeout: 90_000,
          fileParallelism: false,
        },
      },
    ],
  },
});
