import { resolve } from 'node:path';
import solid from 'vite-plugin-solid';
import { defineConfig } from 'vitest/config';

/**
 * Three projects: pure code and files in Node, screens in a simulated page, the built app in real engines.
 * Solid's plugin stands in the first two: without it Solid resolves to its server build, where effects never run and
 * no error says so. In the third it would resolve the browser drivers to their browser builds, which refuse to run.
 */
export default defineConfig({
  root: resolve(import.meta.dirname, '..'),
  cacheDir: '.cache/vite',
  test: {
    // A slow, busy machine is no fault of the code.
    testTimeout: 20_000,
    projects: [
      {
        extends: true,
        plugins: [solid()],
        test: {
          name: 'node',
          environment: 'node',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: ['tests/screens/**', 'tests/browsers/**', 'tests/bench/**'],
        },
      },
      {
        extends: true,
        plugins: [solid()],
        test: { name: 'screens', environment: 'happy-dom', include: ['tests/screens/**/*.test.{ts,tsx}'] },
      },
      {
        extends: true,
        test: {
          name: 'browsers',
          environment: 'node',
          include: ['tests/browsers/**/*.test.ts'],
          fileParallelism: false,
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
});
