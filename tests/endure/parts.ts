/** What is tried long: each part with its full length, and what it found at the length asked for. */
import { spawnSync } from 'node:child_process';
import { join, resolve } from 'node:path';
import { memoryRows } from '../bench/memory.ts';
import { buildApp, buildFloor, inTemporary } from '../bench/built.ts';
import { runImportKills } from '../browsers/import-kills.ts';
import { runKills } from '../browsers/kills.ts';
import { acrossCost } from './across.ts';
import { runWebKitKills } from './kills-webkit.ts';

export interface Found {
  good: boolean;
  figures: string;
}

export interface Part {
  /** The length of a whole run, in its unit. */
  full: number;
  unit: string;
  /** Left out unless it is named. */
  onlyNamed?: boolean;
  run(length: number): Promise<Found>;
}

const root = resolve(import.meta.dirname, '../..');
const tell = (line: string) => console.log(line);
const missing = (engine: string): Found => ({ good: false, figures: `${engine} is not on this machine` });

const kills = (engine: 'Chromium' | 'Firefox', full: number): Part => ({
  full,
  unit: 'kills',
  async run(length) {
    const tally = await runKills(engine, length, tell);
    if (!tally) return missing(engine);
    const { acknowledged, lost, revived, oneCopy, givenBack, refused, disagreements, damaged } = tally;
    return {
      good: tally.kills === length && acknowledged > 0 && lost === 0 && revived === 0,
      figures: `${acknowledged} entries acknowledged, ${lost} lost, ${revived} wiped cases back, ${oneCopy} in one copy; given back to the database ${givenBack.database}, to the journal ${givenBack.journal}; ${refused} refused starts, ${disagreements} disagreements, ${damaged} damaged`,
    };
  },
});

/** Test files that try properties or random cases, at so many times the length of `npm test`. */
const properties = [
  ...['properties', 'properties-2', 'across', 'across-needs', 'readiness', 'walks', 'golden'].map(
    (name) => `tests/machines/${name}.test.ts`,
  ),
  ...['record/forms', 'record/note', 'record/timeline', 'compute/ring', 'content/overlay', 'cli/damaged'].map(
    (name) => `tests/${name}.test.ts`,
  ),
  ...['parts/tap-guard', 'store/journal', 'standards/fhir'].map((name) => `tests/${name}.test.ts`),
];

const node = (args: string[], env: object = {}): number | null =>
  spawnSync(process.execPath, args, { cwd: root, stdio: 'inherit', env: { ...process.env, ...env } }).status;

export const parts: Readonly<Record<string, Part>> = {
  'kills-chromium': kills('Chromium', 200),
  'kills-firefox': kills('Firefox', 20),
  'kills-import': {
    full: 60,
    unit: 'kills',
    async run(length) {
      const tally = await runImportKills(length, tell);
      if (!tally) return missing('Chromium');
      return {
        good:
          tally.kills === length &&
          tally.inside > length / 2 &&
          tally.stored > 0 &&
          tally.half === 0 &&
          tally.lost === 0,
        figures: `${tally.inside} kills in the middle of a case, ${tally.stored} cases brought in, ${tally.lost} lost, ${tally.half} half there, ${tally.unasked} whole although the answer never came`,
      };
    },
  },
  'kills-webkit': {
    full: 60,
    unit: 'kills',
    async run(length) {
      const tally = await runWebKitKills(length, tell);
      if (!tally) return missing('WebKit');
      return {
        good: tally.kills === length && tally.recorded > 0 && tally.lost === 0,
        figures: `${tally.recorded} entries recorded in one copy, ${tally.lost} lost`,
      };
    },
  },
  across: {
    full: 10_000,
    unit: 'generated cases',
    run(length) {
      const { entries, mebibytes, seconds, peak, counted } = acrossCost(length);
      return Promise.resolve({
        good: counted > 0,
        figures: `${counted} counted, ${entries} entries, ${mebibytes.toFixed(1)} MiB of files in ${seconds.toFixed(1)} s, ${((seconds * 1000) / length).toFixed(2)} ms a case, peak ${peak.toFixed(0)} MiB`,
      });
    },
  },
  properties: {
    full: 10,
    unit: 'times the cases of npm test',
    run(length) {
      const seed = String(Math.floor(Math.random() * 2 ** 31));
      const status = node(
        [
          join(root, 'node_modules/vitest/vitest.mjs'),
          ...['run', '--config', 'tests/vitest.config.ts', '--project', 'node', '--testTimeout', '7200000'],
          ...properties,
        ],
        { LENGTH: String(length), SEED: seed },
      );
      return Promise.resolve({ good: status === 0, figures: `${properties.length} files, SEED=${seed}` });
    },
  },
  windows: {
    full: 10,
    unit: 'times the take-overs of npm test',
    run(length) {
      const status = node(
        [
          join(root, 'node_modules/vitest/vitest.mjs'),
          ...['run', '--config', 'tests/vitest.config.ts', '--project', 'browsers', 'tests/browsers/windows.test.ts'],
        ],
        { LENGTH: String(length) },
      );
      return Promise.resolve({
        good: status === 0,
        figures: 'two windows that write, the lock taken away between them',
      });
    },
  },
  memory: {
    full: 12,
    unit: 'simulated hours',
    run: (length) =>
      inTemporary(async (folder) => {
        await buildApp(join(folder, 'app'));
        await buildFloor(join(folder, 'floor'), 'index.html');
        const rows = await memoryRows(folder, length);
        if (rows.length === 0) return missing('Chromium');
        // A figure to read beside its floor, no verdict: a browser's own memory differs from day to day.
        return {
          good: true,
          figures: rows.map(({ what, ratio }) => `${what.split(': ').at(-1)} × ${ratio}`).join('; '),
        };
      }),
  },
  mutants: {
    full: 1,
    unit: 'run of npm run mutants',
    onlyNamed: true,
    run: () =>
      Promise.resolve({
        good: node(['--import', 'tsx', 'tests/mutants/run.ts', '--again']) === 0,
        figures: 'in MUTANTS.md',
      }),
  },
};
