/** The tolerance of a measured piece is the content's: another value carries through account, count and record. */
import { describe, expect, it } from 'vitest';
import type { Content } from '../../content/types.ts';
import { fold } from '../../machines/fold.ts';
import { view } from '../../machines/view.ts';
import { buildRecord } from '../../src/record/build.ts';
import { buildPatient, buildSurgeon } from '../../src/record/index.ts';
import { accountOf } from '../../src/screens/closing/account.ts';
import { atTheTable, content, type Log } from './build.ts';

const within = (value: number): Content => {
  const { limits } = content;
  return { ...content, limits: { ...limits, pieceTolerance: { ...limits.pieceTolerance, value } } };
};

const counted = (log: Log) =>
  log
    .fork()
    .write({ type: 'work-ended' })
    .write({ type: 'count-answered', by: ['scrub', 'circulating'] }).entries;

/** What the count, the screen's account, the paper and the tips say of a log under such a tolerance. */
function said(log: Log, tolerance: number) {
  const [entries, rules] = [counted(log), within(tolerance)];
  const folded = fold(entries, rules);
  const state = view(folded);
  const record = buildRecord(entries, folded, state, rules);
  const metal = record.sections.find(({ id }) => id === 'metal');
  return {
    countOpen: state.holds.includes('count'),
    rows: accountOf(folded).map((row) => [row.state, row.tolerance]),
    onPaper: JSON.stringify(metal),
    stillIn: JSON.stringify([buildPatient(record, rules), buildSurgeon(record, rules)]),
    tips: state.toolTips.map(({ recovered, unaccounted }) => [recovered, unaccounted]),
  };
}

describe('a screw of 36 mm that came out as 34 mm', () => {
  const log = atTheTable({}, { construct: 'screws' }).tries('1', 'turn-out', 'out', { recovered: 34 });

  it('is 2 mm short: too much within 1 mm a piece', () => {
    const { countOpen, rows, onPaper } = said(log, 1);
    expect(countOpen).toBe(true);
    expect(rows).toEqual([['missing', 1]]);
    expect(onPaper).toContain('NOT ACCOUNTED FOR');
    expect(onPaper).toContain('Tolerance: 1 mm for each measured piece, at least 1 mm');
  });

  it('is accounted for within 2.5 mm a piece, in the count, on the screen and on paper', () => {
    const { countOpen, rows, onPaper } = said(log, 2.5);
    expect(countOpen).toBe(false);
    expect(rows).toEqual([['accounted', 2.5]]);
    expect(onPaper).toContain('accounted for');
    expect(onPaper).not.toContain('NOT ACCOUNTED FOR');
    expect(onPaper).toContain('Tolerance: 2.5 mm for each measured piece, at least 2.5 mm');
  });

  it('is listed on the page on what is still in under the first alone', () => {
    const open = '2 mm';
    expect(said(log, 1).stillIn).toContain(open);
    expect(said(log, 2.5).stillIn).not.toContain(open);
  });
});

describe('two broken tips of one tool, 4 and 6 mm, with pieces of 2 and 6 mm', () => {
  const damage = (log: Log, length: number) =>
    log.write({ type: 'tool-damaged', tool: 'gouge', how: 'tip broke off', tipMissing: true, length });
  const piece = (log: Log, length: number) => log.write({ type: 'piece-recovered', tool: 'gouge', length });
  const out = () => atTheTable({}, { construct: 'screws' }).tries('1', 'turn-out', 'out', { recovered: 36 });
  const log = piece(piece(damage(damage(out(), 4), 6), 2), 6);

  it('within 1 mm the first tip, lacking 2 mm, takes the second piece as well', () => {
    const { countOpen, tips } = said(log, 1);
    expect(tips).toEqual([
      [8, -4],
      [0, 6],
    ]);
    expect(countOpen).toBe(true);
  });

  it('within 2.5 mm each piece goes to a tip of its own, and both are accounted for', () => {
    const { countOpen, tips, rows, onPaper } = said(log, 2.5);
    expect(tips).toEqual([
      [2, 2],
      [6, 0],
    ]);
    expect(countOpen).toBe(false);
    expect(rows.map(([state]) => state)).toEqual(['accounted', 'accounted', 'accounted']);
    expect(onPaper).not.toContain('NOT ACCOUNTED FOR');
  });

  it('within half a millimetre, a piece of 3.4 mm leaves a tip of 4 mm open', () => {
    const one = piece(damage(out(), 4), 3.4);
    expect(said(one, 0.5).countOpen).toBe(true);
    expect(said(one, 0.6).countOpen).toBe(false);
  });
});
