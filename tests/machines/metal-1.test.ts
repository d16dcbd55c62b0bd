/** The account of the metal by rules 1: listed = recovered + left + unaccounted. */
import { describe, expect, it } from 'vitest';
import { atTheTable, byRules, type Log } from './build.ts';

/** `assumed` as far as it shows: nothing is said of it where the account is open. */
function metal(log: Log) {
  const { listed, recovered, left, unaccounted, closes } = byRules(1, log).screws['1']?.metal ?? { closes: null };
  return { listed, recovered, left, unaccounted, assumed: closes === 'assumed' };
}
const tipsOf = (log: Log) => byRules(1, log).toolTips;
/** Is the count settled by two roles without a word on a discrepancy? */
const isAccounted = (log: Log) =>
  !byRules(
    1,
    log
      .fork()
      .write({ type: 'work-ended' })
      .write({ type: 'count-answered', by: ['scrub', 'circulating'] }),
  ).holds.includes('count');
const piece = (log: Log, length: number, screw = '1') => log.write({ type: 'piece-recovered', screw, length });

describe('the metal of a screw', () => {
  it('is all unaccounted for before it moves [Z18]', () => {
    expect(metal(atTheTable())).toEqual({ listed: 36, recovered: 0, left: 0, unaccounted: 36, assumed: false });
    expect(isAccounted(atTheTable())).toBe(false);
  });

  it('out with a length counts that length', () => {
    const log = atTheTable().tries('1', 'turn-out', 'out', { recovered: 35.5 });
    expect(metal(log)).toEqual({ listed: 36, recovered: 35.5, left: 0, unaccounted: 0.5, assumed: false });
    expect(isAccounted(log)).toBe(true);
  });

  it('out without a length counts the rest of the listed length, as assumed', () => {
    const log = atTheTable()
      .begins('1', 'turn-out')
      .ends('1', 'shank-broke', { recovered: 20 })
      .tries('1', 'gouge-and-grip', 'out');
    expect(metal(log)).toEqual({ listed: 36, recovered: 36, left: 0, unaccounted: 0, assumed: true });
  });

  it('adds pieces from ends of moves and pieces entered by themselves', () => {
    const log = piece(atTheTable().begins('1', 'turn-out').ends('1', 'shank-broke', { recovered: 20 }), 6);
    expect(metal(log)).toMatchObject({ recovered: 26, unaccounted: 10 });
    expect(isAccounted(log)).toBe(false);
  });

  it('left in counts what was left; left without a length counts the rest', () => {
    const broken = () =>
      atTheTable().begins('1', 'turn-out').ends('1', 'shank-broke', { reachable: false, recovered: 20 });
    expect(metal(broken().leaves('1', { length: 15.5 }))).toEqual({
      listed: 36,
      recovered: 20,
      left: 15.5,
      unaccounted: 0.5,
      assumed: false,
    });
    expect(metal(broken().leaves('1', { length: null }))).toEqual({
      listed: 36,
      recovered: 20,
      left: 16,
      unaccounted: 0,
      assumed: true,
    });
    expect(isAccounted(broken().leaves('1'))).toBe(true);
    expect(isAccounted(broken().leaves('1', { length: 10 }))).toBe(false);
  });

  it('may be off by 1 mm for each measured piece, and by 1 mm at least [Z18]', () => {
    const broken = (...pieces: number[]) => {
      const log = atTheTable().begins('1', 'turn-out').ends('1', 'shank-broke', { reachable: false, recovered: 20 });
      for (const length of pieces) piece(log, length);
      return log.tries('1', 'hollow-ream', 'out', { recovered: 0 });
    };
    expect(isAccounted(atTheTable().tries('1', 'turn-out', 'out', { recovered: 35 }))).toBe(true);
    expect(isAccounted(atTheTable().tries('1', 'turn-out', 'out', { recovered: 34.9 }))).toBe(false);
    expect(isAccounted(atTheTable().tries('1', 'turn-out', 'out', { recovered: 37 }))).toBe(true);
    expect(isAccounted(atTheTable().tries('1', 'turn-out', 'out', { recovered: 37.1 }))).toBe(false);
    expect(isAccounted(broken(13))).toBe(true);
    expect(isAccounted(broken(12.9))).toBe(false);
    expect(isAccounted(atTheTable().leaves('1', { length: 35 }))).toBe(true);
    expect(isAccounted(atTheTable().leaves('1', { length: 34.9 }))).toBe(false);
  });

  it('is accounted for by its pieces, whatever stage the screw is in', () => {
    const log = piece(
      atTheTable().begins('1', 'turn-out').ends('1', 'shank-broke', { reachable: false, recovered: 20 }),
      16,
    );
    expect(log.of('1').stage).toBe('fragment-retained');
    expect(isAccounted(log)).toBe(true);
  });

  it('of an unlisted length cannot be balanced: out and left in count as accounted for, still in does not', () => {
    const unknown = () => atTheTable({ length: null });
    expect(metal(unknown())).toMatchObject({ listed: null, recovered: 0, left: 0, unaccounted: null });
    expect(isAccounted(unknown())).toBe(false);
    const out = unknown().tries('1', 'turn-out', 'out', { recovered: 30 });
    expect(metal(out)).toMatchObject({ listed: null, recovered: 30, unaccounted: null });
    expect(isAccounted(out)).toBe(true);
    expect(isAccounted(unknown().leaves('1'))).toBe(true);
  });

  it('of an unlisted length says whether what came out or stays was measured', () => {
    const unknown = () => atTheTable({ length: null });
    const account = (log: Log) => [metal(log).recovered, metal(log).left, metal(log).assumed];
    expect(account(unknown())).toEqual([0, 0, false]);
    expect(account(unknown().tries('1', 'turn-out', 'out'))).toEqual([0, 0, true]);
    expect(account(unknown().tries('1', 'turn-out', 'out', { recovered: 30 }))).toEqual([30, 0, false]);
    expect(account(unknown().leaves('1', { length: null }))).toEqual([0, 0, true]);
    expect(account(unknown().leaves('1', { length: 12 }))).toEqual([0, 12, false]);
  });

  it('assumes nothing where the measured pieces already make up the listed length', () => {
    const whole = () => atTheTable().begins('1', 'turn-out').ends('1', 'shank-broke', { recovered: 36 });
    expect(metal(whole().tries('1', 'gouge-and-grip', 'out'))).toEqual({
      listed: 36,
      recovered: 36,
      left: 0,
      unaccounted: 0,
      assumed: false,
    });
    expect(metal(whole().leaves('1'))).toMatchObject({ left: 0, unaccounted: 0, assumed: false });
  });

  it('has more than was listed where the pieces are longer, however the rest came out', () => {
    const log = atTheTable()
      .begins('1', 'turn-out')
      .ends('1', 'shank-broke', { recovered: 40 })
      .tries('1', 'gouge-and-grip', 'out');
    expect(metal(log)).toEqual({ listed: 36, recovered: 40, left: 0, unaccounted: -4, assumed: false });
    expect(isAccounted(log)).toBe(false);
  });

  it('leaves the count open as long as any one of several screws is not accounted for', () => {
    const two = () => atTheTable().screw('2').tries('1', 'turn-out', 'out', { recovered: 36 });
    expect(isAccounted(two())).toBe(false);
    expect(isAccounted(two().tries('2', 'turn-out', 'out', { recovered: 36 }))).toBe(true);
  });

  it('follows a corrected length', () => {
    const log = atTheTable().tries('1', 'turn-out', 'out', { recovered: 40 }).screw('1', { length: 40 });
    expect(metal(log)).toMatchObject({ listed: 40, unaccounted: 0 });
    expect(log.of('1').stage).toBe('out');
    expect(log.view.outOfOrder).toEqual([]);
  });
});

describe('the tip of a broken tool', () => {
  const damaged = (log: Log, more: object = {}) =>
    log.write({
      type: 'tool-damaged',
      tool: 'conical-extractor',
      how: 'tip broke off',
      tipMissing: true,
      length: 4,
      ...more,
    });
  const out = () => atTheTable().tries('1', 'turn-out', 'out', { recovered: 36 });

  it('is listed with its own account [Z18]', () => {
    const log = damaged(out());
    const entry = log.n;
    expect(tipsOf(log)).toEqual([
      expect.objectContaining({ tool: 'conical-extractor', entry, listed: 4, recovered: 0, left: 0, unaccounted: 4 }),
    ]);
    expect(isAccounted(log)).toBe(false);
    log.write({ type: 'piece-recovered', tool: 'conical-extractor', length: 3.5 });
    expect(tipsOf(log)).toEqual([
      expect.objectContaining({
        tool: 'conical-extractor',
        entry,
        listed: 4,
        recovered: 3.5,
        left: 0,
        unaccounted: 0.5,
      }),
    ]);
    expect(isAccounted(log)).toBe(true);
  });

  it('may be left in', () => {
    const log = damaged(out()).write({
      type: 'left-in',
      tool: 'conical-extractor',
      length: null,
      where: 'canal',
      reason: 'deep',
    });
    expect(tipsOf(log)).toEqual([expect.objectContaining({ left: 4, unaccounted: 0 })]);
    expect(isAccounted(log)).toBe(true);
    expect(log.view.outOfOrder).toEqual([]);
  });

  it('is none when nothing is missing from the tool', () => {
    expect(tipsOf(damaged(out(), { tipMissing: false }))).toEqual([]);
  });

  it('counts a broken tool that nobody described, of unknown length [Z18]', () => {
    const log = atTheTable().begins('1', 'turn-out', { tool: 'driver-hexagonal' }).ends('1', 'tool-broke');
    expect(tipsOf(log)).toEqual([
      expect.objectContaining({
        tool: 'driver-hexagonal',
        entry: log.n,
        listed: null,
        recovered: 0,
        left: 0,
        unaccounted: null,
      }),
    ]);
    log.tries('1', 'turn-out', 'out', { recovered: 36 });
    expect(isAccounted(log)).toBe(false);
    expect(isAccounted(log.write({ type: 'piece-recovered', tool: 'driver-hexagonal', length: 3 }))).toBe(true);
  });

  it.each([
    ['hexalobular', 'turn-out', 'driver-hexalobular'],
    ['cruciform', 'pack-recess', 'driver-cruciform'],
    ['hexagonal', 'conical-extractor', 'conical-extractor'],
    ['hexagonal', 'burr-out', 'metal-cutting-burr'],
  ] as const)(
    'of a tool that nobody named is taken for that of the one the move works with: %s, %s: %s',
    (drive, move, tool) => {
      expect(tipsOf(atTheTable({ drive }).tries('1', move, 'tool-broke'))).toEqual([expect.objectContaining({ tool })]);
    },
  );

  it('described after the tool broke is one tip, not two', () => {
    const named = () =>
      atTheTable().begins('1', 'conical-extractor', { tool: 'conical-extractor' }).ends('1', 'tool-broke');
    expect(tipsOf(damaged(named()))).toEqual([expect.objectContaining({ entry: named().n + 1, listed: 4 })]);
    const unnamed = atTheTable().tries('1', 'reverse-tap', 'tool-broke');
    const described = damaged(unnamed, { tool: 'reverse-tap' });
    expect(tipsOf(described)).toEqual([expect.objectContaining({ tool: 'reverse-tap', entry: described.n })]);
  });

  it('described before a second tool broke leaves that one open', () => {
    const log = damaged(
      atTheTable().begins('1', 'conical-extractor', { tool: 'conical-extractor' }).ends('1', 'tool-broke'),
    );
    log.begins('1', 'conical-extractor', { tool: 'conical-extractor' }).ends('1', 'tool-broke');
    expect(tipsOf(log).map(({ listed }) => listed)).toEqual([4, null]);
    log.begins('1', 'drill-head-off', { tool: 'hard-metal-drill' }).ends('1', 'tool-broke');
    expect(tipsOf(damaged(log, { tool: 'gouge' }))).toHaveLength(4);
  });
});
