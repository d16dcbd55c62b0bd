/**
 * The whole check: types, lint and format, one build, every test. Stops at the first step that fails.
 * The last line sums up: `N passed, N failed`, with `, N skipped` when some were.
 */
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';

const root = resolve(import.meta.dirname, '../..');
const cache = join(root, '.cache');
const report = join(cache, 'vitest.json');
mkdirSync(cache, { recursive: true });
rmSync(report, { force: true });

const bin = (name, script) => [process.execPath, join(root, 'node_modules', name, script)];

const vitest = [
  ...['run', '--config', 'tests/vitest.config.ts', '--reporter=default', '--reporter=json'],
  `--outputFile.json=${report}`,
];
/** Each row runs side by side, the rows one after the other: none of them reads what another of its row writes. */
const rows = [
  [
    ['types', ...bin('typescript', 'bin/tsc'), '-b'],
    ['lint', ...bin('eslint', 'bin/eslint.js'), '--config', 'src/eslint.config.js', '.'],
  ],
  [
    ['format', ...bin('prettier', 'bin/prettier.cjs'), '--check', '--log-level', 'warn', '.'],
    ['build', ...bin('vite', 'bin/vite.js'), 'build', '--config', 'src/vite.config.ts', '--logLevel', 'warn'],
  ],
  [['tests', ...bin('vitest', 'vitest.mjs'), ...vitest]],
];

for (const row of rows) {
  console.log(`\n== ${row.map(([name]) => name).join(', ')}`);
  const ended = await Promise.all(row.map(run));
  const bad = ended.find(({ status }) => status !== 0);
  if (bad) finish(bad.name, bad.status ?? 1);
}
finish(null, 0);

/** Runs a step to its end, its words as they come. */
function run([name, program, ...args]) {
  const start = performance.now();
  return new Promise((done, fail) => {
    const child = spawn(program, args, { cwd: root, stdio: 'inherit' });
    child.on('error', fail);
    child.on('exit', (status) => {
      const seconds = ((performance.now() - start) / 1000).toFixed(1);
      console.log(`== ${name}: ${status === 0 ? 'good' : 'FAILED'} in ${seconds} s`);
      done({ name, status });
    });
  });
}

/** A step before the tests that fails counts as one failure; so does a run that ends badly though no single test failed. */
function finish(failedStep, status) {
  const { passed, failed, skipped, suites } = totals();
  const unexplained = status !== 0 && failed === 0;
  for (const suite of suites) console.log(`Could not run: ${suite}`);
  if (unexplained) console.log(`Failed step: ${failedStep}`);
  const empty = status === 0 && passed === 0;
  if (empty) console.log('No test ran.');
  const all = failed + (unexplained || empty ? 1 : 0);
  console.log(`\n${passed} passed, ${all} failed${skipped ? `, ${skipped} skipped` : ''}`);
  process.exit(all === 0 ? 0 : 1);
}

function totals() {
  if (!existsSync(report)) return { passed: 0, failed: 0, skipped: 0, suites: [] };
  const result = JSON.parse(readFileSync(report, 'utf8'));
  // A test file that breaks while loading holds no tests, so it is in no count of tests.
  const broken = result.testResults.filter((file) => file.status === 'failed' && file.assertionResults.length === 0);
  return {
    passed: result.numPassedTests,
    failed: result.numFailedTests + broken.length,
    skipped: result.numPendingTests + result.numTodoTests,
    suites: broken.map((file) => file.name),
  };
}
