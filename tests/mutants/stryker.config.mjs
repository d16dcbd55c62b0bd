/** Stryker's settings; `run.ts` says which file is mutated and which tests are tried on it. */
export default {
  testRunner: 'vitest',
  plugins: ['@stryker-mutator/vitest-runner'],
  vitest: { configFile: 'tests/mutants/vitest.config.ts', related: false },
  coverageAnalysis: 'perTest',
  reporters: ['json'],
  jsonReporter: { fileName: process.env.MUTANTS_REPORT },
  incremental: true,
  incrementalFile: process.env.MUTANTS_KNOWN,
  tempDirName: '.cache/mutants/sandboxes',
  ignorePatterns: ['/dist', '/.cache', '/tests/browsers', '/tests/screens', '/tests/log', '/tests/store', '/.git'],
  disableTypeChecks: false,
  allowConsoleColors: false,
  // A slow, busy machine is no dead mutant. What runs for ever is found by how often its lines are reached, long before.
  timeoutMS: 300_000,
  timeoutFactor: 4,
  dryRunTimeoutMinutes: 10,
};
