/** A folder with cases of two releases and two formats, counted by the command. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { run } from '../../src/commands.ts';
import { inventedFile, knownFile } from './cases.ts';

const folder = mkdtempSync(join(tmpdir(), 'releases-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
[knownFile('a'), inventedFile('b'), inventedFile('c')].forEach((file, i) =>
  writeFileSync(join(folder, `${i}.case.json`), JSON.stringify(file)),
);

it('across counts them together', async () => {
  const { status, stdout } = await run(['across', folder, '--as', 'json']);
  const { cases, moves } = JSON.parse(stdout) as {
    cases: { counted: number };
    moves: { move: string; ends: Record<string, number> }[];
  };
  expect([status, cases.counted]).toEqual([0, 3]);
  expect(moves.find(({ move }) => move === 'warm-head')?.ends).toEqual({ out: 2, 'half-out': 2 });
  expect(moves.find(({ move }) => move === 'turn-out')?.ends).toEqual({ slipped: 3 });
});

it('across names each of them in its table', async () => {
  const { stdout } = await run(['across', folder, '--as', 'csv']);
  const rows = stdout.split('\r\n').filter((row) => row.startsWith('moves,recess-stripped,warm-head'));
  expect(rows.some((row) => row.includes(',end,half-out,2'))).toBe(true);
});

it('a case of a release that this build lacks is left out by name, and the others are counted', async () => {
  writeFileSync(join(folder, '9.case.json'), JSON.stringify({ ...inventedFile('d'), contentVersion: '2099.9' }));
  const { status, stdout } = await run(['across', folder, '--as', 'json']);
  const { cases, leftOut } = JSON.parse(stdout) as {
    cases: { counted: number };
    leftOut: { file: string; fault: string }[];
  };
  expect([status, cases.counted]).toEqual([1, 3]);
  expect(leftOut).toEqual([
    { file: '9.case.json', why: 'unreadable', fault: 'contentVersion: this build has no content "2099.9"' },
  ]);
});
