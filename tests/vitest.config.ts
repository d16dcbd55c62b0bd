import { resolve } from 'node:path';
import solid from 'vite-plugin-solid';
import { defineConfig } from 'vitest/config';

const inEngines = { environment: 'node', testTimeout: 120_000, hookTimeout: 120_000 } as const;
/** What is measured in time, or tears and kills: one file after the other, with the machine to itself. */
const alone = ['kill', 'log', 'taps', 'wall'].map((name) => `tests/browsers/${name}.test.ts`);

/** What properties explore at this run besides the cases that stand; see `explore.ts`. Read once for each project. */
if (process.env.SEED === undefined) {
  process.env.SEED = String(Math.floor(Math.random() * 2 ** 31));
  console.log(`Fresh cases of this run: SEED=${process.env.SEED}`);
}

/**
 * Four projects: pure code and files in Node, screens in a simulated page, the built app in real engines, three files
 * at a time, since they wait for the page most of the time, or alone. Solid's plugin stands in the first two: without it Solid resolves to its server build, where effects
 * never run and no error says so. In the others it would resolve the browser drivers to their browser builds, which
 * refuse to run.
 */
export default defineConfig({
  root: resolve(import.meta.dirname, '..'),
  cacheDir: '.cache/vite',
  test: {
    // A slow, busy machine is no fault of the code.
    testTimeout: 20_000,
    // Left to itself, one core of two would stand idle.
    maxWorkers: '100%',
    env: { SEED: process.env.SEED },
    projects: [
      {
        extends: true,
        plugins: [solid()],
        test: {
          name: 'node',
          setupFiles: ['tests/all-words.ts'],
          environment: 'node',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: ['tests/screens/**', 'tests/browsers/**', 'tests/bench/**'],
        },
      },
      {
        extends: true,
        plugins: [solid()],
        test: {
          name: 'screens',
          environment: 'happy-dom',
          setupFiles: ['tests/all-words.ts'],
          include: ['tests/screens/**/*.test.{ts,tsx}'],
        },
      },
      {
        extends: true,
        test: {
          ...inEngines,
          name: 'browsers',
          include: ['tests/browsers/**/*.test.ts'],
          exclude: alone,
          maxWorkers: 3,
          sequence: { groupOrder: 1 },
        },
      },
      {
        extends: true,
        test: {
          ...inEngines,
          name: 'alone',
          include: alone,
          fileParallelism: false,
          sequence: { groupOrder: 2 },
        },
      },
    ],
  },
});
