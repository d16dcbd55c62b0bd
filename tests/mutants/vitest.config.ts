import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';

/**
 * The tests that a mutated file is tried against: those that `suites.ts` names for it, in Node, without browsers and
 * screens.
 */
export default defineConfig({
  root: resolve(import.meta.dirname, '../..'),
  cacheDir: '.cache/vite-mutants',
  test: {
    environment: 'node',
    include: (process.env.MUTANTS_TESTS ?? 'tests/machines/**/*.test.ts').split(','),
    // The same tests every time: a mutant that lives today is there tomorrow.
    env: { SEED: '20260304', LENGTH: 'least' },
    testTimeout: 300_000,
    // Every mutant has a worker of its own; its test files share one, and load the machines once.
    isolate: false,
  },
});
