import { cleanup } from '@solidjs/testing-library';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Draft, Entry } from '../../machines/entry.ts';
import { sayEntry } from '../../src/screens/table/said.ts';
import { Table } from '../../src/screens/table/Table.tsx';
import { content, opening, room, steadyFingers, w } from './rooms.harness.tsx';

beforeEach(steadyFingers);
afterEach(cleanup);

const listed = (screw: string): Draft => ({
  type: 'screw-listed',
  screw,
  diameter: 4.5,
  thread: 'cortical',
  locking: false,
  drive: 'hexagonal',
  material: 'steel',
  length: 36,
  cortices: 2,
});
const slipped = (screw: string): Draft[] => [
  { type: 'screw-called', screw },
  { type: 'move-started', screw, move: 'turn-out' },
  { type: 'move-ended', screw, outcome: 'slipped' },
];

describe('looking again', () => {
  it('begins unchecked on every screw: what was seen on one is not recorded of another', async () => {
    const before: Draft[] = [opening, listed('1'), listed('2'), { type: 'work-started' }];
    const at = await room(Table, { drafts: [...before, ...slipped('1'), ...slipped('2')] });
    await at.touch(w('check.recessCleared'));
    await at.touch(w('check.freshDriver'));
    await at.touch(/^1 .*: screw/);
    await at.touch(w('check.inLine'));
    await at.touch(w('hold.looked'));
    const last = at.entries().at(-1);
    expect(last).toMatchObject({ type: 'reassessed', screw: '1' });
    expect(last).toHaveProperty('checks', { inLine: true });
  });
});

describe('an entry in words', () => {
  const start = (move: string) => ({ type: 'move-started', screw: '1', move });
  const ended = (outcome: string) => ({ type: 'move-ended', screw: '1', outcome });
  const strike = (entry: number) => ({ type: 'struck', entry, reason: 'mistap' });
  /** The one with this number, or the last. */
  const said = (rows: object[], n = rows.length) => {
    const entries = rows.map((row, i) => ({ ...row, n: i + 1 }) as Entry);
    return sayEntry(entries[n - 1] as Entry, entries, content);
  };
  const packed = said([start('pack-recess'), ended('set-up-done')]);

  it('tells the end of the move that stands, not of one begun later and struck', () => {
    const drilled = said([start('drill-head-off'), ended('set-up-done')]);
    expect(drilled).not.toBe(packed);
    const before = [start('drill-head-off'), ended('no-change'), start('pack-recess')];
    expect(said([...before, ended('set-up-done')])).toBe(packed);
    expect(said([...before, strike(2), strike(3), ended('set-up-done')])).toBe(drilled);
  });

  it('tells a struck end of the move it was recorded for', () => {
    expect(said([start('pack-recess'), ended('set-up-done'), strike(2), strike(1)], 2)).toBe(packed);
  });

  it('does not say "again" of a screw whose first listing was struck', () => {
    expect(said([listed('1'), strike(1), listed('1')])).toBe(said([listed('1')]));
    expect(said([listed('1'), listed('1')])).not.toBe(said([listed('1')]));
  });
});
