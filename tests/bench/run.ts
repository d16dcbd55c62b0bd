/**
 * `npm run bench [RUNS]`: ratios against floors measured in the same run, into `tests/bench/BENCH.md`. No test: a slow
 * machine only makes both slower.
 */
import { execFileSync } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import { cpus, loadavg, totalmem } from 'node:os';
import { join } from 'node:path';
import { format, resolveConfig } from 'prettier';
import { findChromium } from '../../src/tools/engines.mjs';
import { buildApp, buildFloor, inTemporary } from './built.ts';
import { coreRows } from './core.ts';
import { memoryRows } from './memory.ts';
import { breakdown, sizeRows } from './size.ts';
import { startRows } from './start.ts';
import { tableOf, type Row } from './stats.ts';
import { tapRows } from './tap.ts';

const runs = Number(process.argv[2] ?? 1);

function machine(): string {
  const chromium = findChromium();
  const browser = chromium
    ? execFileSync(chromium, ['--version', '--no-sandbox'], { encoding: 'utf8' }).trim()
    : 'no Chromium';
  const gigabytes = Math.round(totalmem() / 2 ** 30);
  return `${cpus().length} × ${cpus()[0]?.model.trim()}, ${gigabytes} GiB, Node ${process.version}, ${browser}, drawn by software`;
}

const load = () => `load of the machine ${loadavg()[0]?.toFixed(1)}`;

async function oneRun(folder: string): Promise<Row[]> {
  const rows: Row[] = [];
  for (const part of [sizeRows, tapRows, startRows, memoryRows]) rows.push(...(await part(folder)));
  return [...rows, ...coreRows()];
}

const report = await inTemporary(async (folder) => {
  await buildApp(join(folder, 'app'));
  await buildFloor(join(folder, 'floor'), 'index.html');
  await buildFloor(join(folder, 'hello'), 'hello.tsx');
  const tables: string[] = [];
  for (let run = 1; run <= runs; run++) {
    const before = load();
    const table = tableOf(await oneRun(folder));
    tables.push(`## Run ${run}\n\n${before} when it began, ${load()} when it ended.\n\n${table}`);
    console.log(tables.at(-1));
  }
  return `# Measured\n\n\`npm run bench ${runs}\` on ${machine()}. Every floor was measured in the same run, in turn with what stands against it; \`processor 6×\` is Chromium's main thread slowed six times.\n\n${tables.join('\n\n')}\n\n## The scripts by part\n\n${await breakdown(folder)}\n`;
});
const file = join(import.meta.dirname, 'BENCH.md');
await writeFile(file, await format(report, { ...(await resolveConfig(file)), filepath: file }));
