/**
 * A folder of generated cases, and the real command over it as a process: time and peak memory at 1,000 and at 10,000
 * cases. `npx tsx tests/bench/across.ts [COUNT…]`; no test.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { caseFile } from '../../src/session/case-file.ts';
import { wholeCase } from '../machines/whole-case.ts';

const root = resolve(import.meta.dirname, '../..');
const counts = process.argv.length > 2 ? process.argv.slice(2).map(Number) : [1000, 10_000];
const folder = mkdtempSync(join(tmpdir(), 'across-'));

/** Runs the command; the last line of its standard error is the peak of its memory in KiB. */
const probe = `process.on('exit', () => process.stderr.write(\`\\n\${process.resourceUsage().maxRSS}\`));`;

console.log('cases   entries   MiB of files   seconds   ms a case   peak RSS MiB   counted');
let [written, entries, bytes] = [0, 0, 0];
for (const count of counts) {
  for (; written < count; written++) {
    const one = wholeCase(written);
    const text = JSON.stringify(caseFile({ contentVersion: '2026.1' }, one.entries));
    entries += one.entries.length;
    bytes += text.length;
    writeFileSync(join(folder, `${String(written).padStart(6, '0')}.case.json`), text);
  }
  const preload = `data:text/javascript,${encodeURIComponent(probe)}`;
  const errors = join(folder, 'stderr.txt');
  const began = performance.now();
  const output = execFileSync(
    'sh',
    [
      '-c',
      '"$0" --import tsx --import "$1" src/cli.ts across "$2" --as json 2> "$3"',
      process.execPath,
      preload,
      folder,
      errors,
    ],
    { cwd: root, encoding: 'utf8', maxBuffer: 1 << 28 },
  );
  const seconds = (performance.now() - began) / 1000;
  const peak = Number(readFileSync(errors, 'utf8').trim().split('\n').at(-1)) / 1024;
  const { cases } = JSON.parse(output) as { cases: { counted: number } };
  console.log(
    [
      String(count).padStart(5),
      String(entries).padStart(9),
      (bytes / 2 ** 20).toFixed(1).padStart(14),
      seconds.toFixed(1).padStart(9),
      ((seconds * 1000) / count).toFixed(2).padStart(11),
      peak.toFixed(0).padStart(14),
      String(cases.counted).padStart(9),
    ].join(' '),
  );
}
rmSync(folder, { recursive: true, force: true });
