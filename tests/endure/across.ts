/** A folder of generated cases, and the real command over it as a process: time and peak memory. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { caseFile } from '../../src/session/case-file.ts';
import { wholeCase } from '../machines/whole-case.ts';

const root = resolve(import.meta.dirname, '../..');

/** Runs the command; the last line of its standard error is the peak of its memory in KiB. */
const probe = `process.on('exit', () => process.stderr.write(\`\\n\${process.resourceUsage().maxRSS}\`));`;

export interface AcrossCost {
  cases: number;
  entries: number;
  mebibytes: number;
  seconds: number;
  /** Largest memory of the process, MiB. */
  peak: number;
  counted: number;
}

/**
 * Writes so many generated cases into a folder and counts them with the command.
 *
 * @param count cases, ≥ 1
 * @throws when the command fails
 */
export function acrossCost(count: number): AcrossCost {
  const folder = mkdtempSync(join(tmpdir(), 'across-'));
  try {
    let [entries, bytes] = [0, 0];
    for (let written = 0; written < count; written++) {
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
        '"$0" --import tsx --import "$1" src/cli.ts across "$2" --as json --forecasts 0 2> "$3"',
        process.execPath,
        preload,
        folder,
        errors,
      ],
      { cwd: root, encoding: 'utf8', maxBuffer: 1 << 28 },
    );
    const { cases } = JSON.parse(output) as { cases: { counted: number } };
    return {
      cases: count,
      entries,
      mebibytes: bytes / 2 ** 20,
      seconds: (performance.now() - began) / 1000,
      peak: Number(readFileSync(errors, 'utf8').trim().split('\n').at(-1)) / 1024,
      counted: cases.counted,
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
