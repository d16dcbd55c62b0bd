/** What a run of mutants found, as lines to read and as a row of `MUTANTS.md`. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { writeRow as write } from '../rows.ts';

export interface Mutant {
  mutatorName: string;
  replacement: string;
  status: 'Killed' | 'Survived' | 'NoCoverage' | 'Timeout' | 'RuntimeError' | 'CompileError' | 'Ignored' | 'Pending';
  location: { start: { line: number; column: number }; end: { line: number; column: number } };
  /** Its code runs when a test file is loaded, so every test is tried on it. */
  static?: boolean;
  testsCompleted?: number;
}

export interface Report {
  files: Record<string, { source: string; mutants: Mutant[] }>;
  testFiles?: Record<string, { tests: readonly object[] }>;
}

export interface Judgement {
  killed: number;
  timedOut: number;
  equivalent: Mutant[];
  survived: Mutant[];
  source: readonly string[];
}

/** A mutant that no test can tell from the code: the line it changes, what it puts there, the input that shows it. */
interface Equivalent {
  file: string;
  line: string;
  from: string;
  to: string;
  why: string;
}

const equivalents = JSON.parse(readFileSync(join(import.meta.dirname, 'equivalent.json'), 'utf8')) as Equivalent[];

/** The code that a mutant replaces; `source` by lines, columns and lines counted from 1. */
export function replaced({ location: { start, end } }: Mutant, source: readonly string[]): string {
  const lines = source.slice(start.line - 1, end.line);
  const last = lines.length - 1;
  return lines
    .map((line, i) => line.slice(i === 0 ? start.column - 1 : 0, i === last ? end.column - 1 : undefined))
    .join('\n');
}

/**
 * Whether a mutant kept a test file from loading: tests that were to be tried on it never ran. Vitest fails such a run;
 * Stryker counts the tests that failed, sees none, and calls the mutant survived.
 */
const unloaded = ({ status, static: atLoad, testsCompleted }: Mutant, tests: number): boolean =>
  status === 'Survived' && atLoad === true && testsCompleted !== undefined && testsCompleted < tests;

/** Sorts the mutants of a file; one that never compiled or ran counts in neither way. */
export function judged(file: string, report: Report): Judgement {
  const found = report.files[file];
  if (!found) throw new Error(`the report does not speak of ${file}`);
  const source = found.source.split('\n');
  const tests = Object.values(report.testFiles ?? {}).reduce((sum, one) => sum + one.tests.length, 0);
  const ran = found.mutants.filter((mutant) => !unloaded(mutant, tests));
  const of = (...statuses: Mutant['status'][]) => ran.filter(({ status }) => statuses.includes(status));
  const isEquivalent = (mutant: Mutant) =>
    equivalents.some(
      (one) =>
        one.file === file &&
        one.line === source[mutant.location.start.line - 1]?.trim() &&
        one.from === replaced(mutant, source) &&
        one.to === mutant.replacement,
    );
  const alive = of('Survived', 'NoCoverage');
  const named = equivalents.filter((one) => one.file === file).length;
  if (named > 5) throw new Error(`equivalent.json names ${named} mutants of ${file}, five at most`);
  return {
    killed: of('Killed', 'RuntimeError').length + (found.mutants.length - ran.length),
    timedOut: of('Timeout').length,
    equivalent: alive.filter(isEquivalent),
    survived: alive.filter((mutant) => !isEquivalent(mutant)),
    source,
  };
}

/** One line for each survivor: place, what stood there, what stood there instead. */
export const missed = ({ survived, source }: Judgement): string[] =>
  survived.map((mutant) => {
    const { line, column } = mutant.location.start;
    const mark = mutant.status === 'NoCoverage' ? ' (no test comes here)' : '';
    return `  ${line}:${column}${mark}\n    - ${replaced(mutant, source)}\n    + ${mutant.replacement}`;
  });

export interface Row {
  file: string;
  mutants: number;
  killed: number;
  survived: number;
  timedOut: number;
  equivalent: number;
  score: string;
  date: string;
  commit: string;
}

/** Score = killed or timed out, of all but the equivalent ones, in percent, rounded down to a tenth. */
export function rowOf(file: string, judgement: Judgement, date: string, commit: string): Row {
  const { killed, timedOut } = judgement;
  const [equivalent, survived] = [judgement.equivalent.length, judgement.survived.length];
  const all = killed + timedOut + survived;
  const score = all === 0 ? '100.0' : (Math.floor(((killed + timedOut) / all) * 1000) / 10).toFixed(1);
  return { file, mutants: all + equivalent, killed, survived, timedOut, equivalent, score, date, commit };
}

const intro = `# Mutants

Each file of \`machines/\` changed in one place at a time, and tried against the tests that \`suites.ts\` names for it.
Killed: a test failed. Timeout: the change made it run for ever, which counts as killed; where the machine is starved,
tests run out of time as well, and the row is to be run again on a quiet one. Equivalent: no input tells it from the
code, each with its reason in \`equivalent.json\`, at most five a file. Score: killed and timed out, of all but the
equivalent. A plus behind the commit: changes not in it yet. Written by \`npm run mutants\`, one row for each file run.
Files of types alone have no mutants and no row: \`withoutCode\` in \`suites.ts\`.
`;

/** Puts a file's row into the table; rows of files that are no longer there go. */
export const writeRow = (row: Row): Promise<void> =>
  write(
    {
      path: join(import.meta.dirname, 'MUTANTS.md'),
      intro,
      columns: ['file', 'mutants', 'killed', 'survived', 'timeout', 'equivalent', 'score %', 'date', 'commit'],
      words: 1,
    },
    [
      row.file,
      row.mutants,
      row.killed,
      row.survived,
      row.timedOut,
      row.equivalent,
      row.score,
      row.date,
      row.commit,
    ].map(String),
    (file) => existsSync(join(import.meta.dirname, '../..', file)),
  );
