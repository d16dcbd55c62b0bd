import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesBelow, root } from '../floors.code.ts';
import { suites, withoutCode } from './suites.ts';
import { judged, missed, rowOf, type Mutant, type Report } from './table.ts';

describe('every file of the machines', () => {
  const files = filesBelow('machines').filter((path) => /\.ts$/.test(path));

  it('is named with its tests, or as one without code of its own, and nothing else is', () => {
    expect([...Object.keys(suites), ...withoutCode].sort()).toEqual(files);
  });

  it('has tests that are there', () => {
    const gone = Object.values(suites)
      .flat()
      .filter((path) => !existsSync(join(root, path)));
    expect(gone).toEqual([]);
    expect(Object.values(suites).every((tests) => tests.length > 0)).toBe(true);
  });
});

describe('what a run found', () => {
  const mutant = (status: Mutant['status'], line = 1): Mutant => ({
    mutatorName: 'ConditionalExpression',
    replacement: 'true',
    status,
    location: { start: { line, column: 11 }, end: { line, column: 16 } },
  });
  const report = (...mutants: Mutant[]): Report => ({
    files: { 'machines/made-up.ts': { source: 'const a = b > 0;\nconst c = d < 0;', mutants } },
  });

  it('is scored as killed or timed out, of all that ran, rounded down', () => {
    const found = judged(
      'machines/made-up.ts',
      report(mutant('Killed'), mutant('Timeout'), mutant('Survived'), mutant('CompileError')),
    );
    expect(rowOf('machines/made-up.ts', found, '2026-03-04', 'abc')).toMatchObject({
      ...{ mutants: 3, killed: 1, timedOut: 1, survived: 1, equivalent: 0, score: '66.6' },
    });
  });

  it('counts as killed what kept a test file from loading: not all of its tests ran', () => {
    const atLoad = (testsCompleted: number): Mutant => ({ ...mutant('Survived'), static: true, testsCompleted });
    const inATest: Mutant = { ...mutant('Survived'), testsCompleted: 1 };
    const found = judged('machines/made-up.ts', {
      ...report(atLoad(0), atLoad(1), atLoad(3), inATest),
      testFiles: { 'a.test.ts': { tests: [{}] }, 'b.test.ts': { tests: [{}, {}] } },
    });
    expect(found).toMatchObject({ killed: 2, survived: [atLoad(3), inATest] });
  });

  it('names a survivor by its place, what stood there and what stood there instead', () => {
    const found = judged('machines/made-up.ts', report(mutant('Survived', 2), mutant('NoCoverage')));
    expect(missed(found)).toEqual([
      '  2:11\n    - d < 0\n    + true',
      '  1:11 (no test comes here)\n    - b > 0\n    + true',
    ]);
  });
});
