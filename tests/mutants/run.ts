/**
 * Mutation testing of `machines/`: changes one thing at a time in a file and looks whether a test fails.
 *
 * `npm run mutants` takes every file, hours; `npm run mutants -- machines/compute/metal.ts …` the named ones. `--again`
 * forgets what earlier runs found; without it, only mutants that lived or whose code or tests changed are tried.
 * `--concurrency N` (1). Prints what survived, and writes a row a file into `MUTANTS.md`.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { setPriority } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { commit, today } from '../rows.ts';
import { suites } from './suites.ts';
import { judged, missed, rowOf, writeRow, type Report } from './table.ts';

const root = resolve(import.meta.dirname, '../..');
const cache = join(root, '.cache/mutants');
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { again: { type: 'boolean', default: false }, concurrency: { type: 'string', default: '1' } },
});

function mutate(file: string): Report | null {
  const tests = (suites[file] ?? []).filter((path) => existsSync(join(root, path)));
  if (tests.length === 0) {
    console.error(`${file}: suites.ts names no test for it`);
    return null;
  }
  const name = file.replaceAll('/', '.');
  const report = join(cache, `${name}.json`);
  const known = join(cache, `${name}.known.json`);
  if (values.again) rmSync(known, { force: true });
  rmSync(report, { force: true });
  const { status } = spawnSync(
    process.execPath,
    [
      join(root, 'node_modules/@stryker-mutator/core/bin/stryker.js'),
      ...['run', 'tests/mutants/stryker.config.mjs', '--mutate', file, '--concurrency', values.concurrency],
      ...['--logLevel', 'warn'],
    ],
    {
      cwd: root,
      stdio: 'inherit',
      env: { ...process.env, MUTANTS_TESTS: tests.join(','), MUTANTS_REPORT: report, MUTANTS_KNOWN: known },
    },
  );
  if (status !== 0 || !existsSync(report)) return null;
  return JSON.parse(readFileSync(report, 'utf8')) as Report;
}

// Hours of it: whatever else runs on this machine goes before.
setPriority(19);
mkdirSync(cache, { recursive: true });
let failed = false;
for (const file of positionals.length ? positionals : Object.keys(suites)) {
  const start = performance.now();
  const report = mutate(file);
  if (!report) {
    failed = true;
    continue;
  }
  const judgement = judged(file, report);
  for (const line of missed(judgement)) console.log(line);
  const row = rowOf(file, judgement, today(), commit('machines', 'content', ...(suites[file] ?? [])));
  await writeRow(row);
  console.log(`${file}: ${row.score} % of ${row.mutants} in ${((performance.now() - start) / 1000).toFixed(0)} s`);
}
process.exitCode = failed ? 1 : 0;
