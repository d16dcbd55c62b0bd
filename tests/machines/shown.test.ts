/** What is shown of a state: the offer once worked out, the holds left behind, the clock of the move, the seals. */
import { describe, expect, it } from 'vitest';
import { situationOf } from '../../machines/standing.ts';
import type { Situation } from '../../machines/offer.ts';
import { epoch } from '../../machines/time.ts';
import { chanceLeft } from '../../machines/slips.ts';
import { offerFor, timed, view } from '../../machines/view.ts';
import { atTheTable, content, offered, type Log } from './build.ts';

describe('the offer', () => {
  it('stands as long as screw, holds and room do, and is worked out once', () => {
    const log = atTheTable();
    const before = log.of('1').offered;
    expect(view(log.folded).screws['1']?.offered).toBe(before);
    expect(log.remarks().of('1').offered).toBe(before);
    expect(log.tool('driver-hexagonal', { present: false }).of('1').offered).not.toBe(before);
    expect(offered(log.of('1'))).not.toContain('turn-out');
  });

  it('is another one while somebody has to look again, and once a screw is the last one in', () => {
    const log = atTheTable({ stage: 'recess-stripped' }).screw('2');
    const { room } = log.folded.case.context;
    const situation = situationOf(log.folded, '1') as Situation;
    const moves = (more: Partial<Situation>) =>
      offerFor(content, room, { ...situation, ...more }).offered.map(({ move }) => move);
    const plain = moves({});
    expect(plain).toContain('grip-head');
    expect(moves({ reassess: true })).toEqual(['leave-in']);
    expect(moves({})).toEqual(plain);
    expect(plain).not.toContain('free-plate');
    expect(moves({ lastIn: true })).toContain('free-plate');
    expect(moves({})).toEqual(plain);
  });

  it('frees the plate for the screw that is the last one in, once the others are out', () => {
    const log = atTheTable({ stage: 'recess-stripped' }).screw('2');
    expect(offered(log.of('1'))).not.toContain('free-plate');
    expect(offered(log.tries('2', 'turn-out', 'out').of('1'))).toContain('free-plate');
  });
});

describe('the holds of a case that is closed', () => {
  const both = ['scrub', 'circulating'] as const;
  const cut = () => atTheTable({ stage: 'recess-stripped' }).tries('1', 'slot-head', 'out', { recovered: 36 });
  const closed = (log: Log) => log.write({ type: 'work-ended' }).write({ type: 'case-closed' });

  it('are shavings and count, as far as it was closed over them', () => {
    expect(closed(cut()).view.holds).toEqual(['shavings', 'count']);
    expect(closed(cut().write({ type: 'washed-out' })).view.holds).toEqual(['count']);
    const counted = cut()
      .write({ type: 'work-ended' })
      .write({ type: 'count-answered', by: [...both] });
    expect(counted.write({ type: 'case-closed' }).view.holds).toEqual(['shavings']);
  });

  it('are none of those that moves went past', () => {
    const log = atTheTable().tries('1', 'turn-out', 'slipped').tries('1', 'pack-recess', 'out', { recovered: 36 });
    expect(log.view.unanswered.map(({ hold }) => hold)).toEqual(['reassess']);
    expect(log.view.holds).toEqual([]);
    expect(closed(log).view.holds).toEqual(['count']);
  });
});

describe('the clock of the move', () => {
  const minutes = (log: Log) => view(log.folded, epoch('2026-03-04T10:00:00Z')).clocks.moveMinutes;
  const running = () =>
    atTheTable()
      .screw('2')
      .screw('3')
      .begins('1', 'turn-out', { at: '2026-03-04T09:10:00Z' })
      .begins('2', 'turn-out', { at: '2026-03-04T09:30:00Z' });

  it('is that of the screw called, else of the move begun last', () => {
    expect(minutes(running())).toBe(30);
    expect(minutes(running().call('1'))).toBe(50);
    expect(minutes(running().call('3'))).toBe(30);
    const later = running().begins('3', 'turn-out', { at: '2026-03-04T09:50:00Z' }).ends('3', 'out');
    expect(minutes(later)).toBe(30);
  });

  it('is that of the one move that runs, whatever screw was called', () => {
    const log = atTheTable().screw('2').begins('2', 'turn-out', { at: '2026-03-04T09:30:00Z' });
    expect(minutes(log.call('1'))).toBe(30);
    expect(minutes(log.ends('2', 'out'))).toBeNull();
  });

  it('of moves begun in another order than the screws were listed is the newest', () => {
    const log = atTheTable()
      .screw('2')
      .screw('3')
      .begins('2', 'turn-out', { at: '2026-03-04T09:10:00Z' })
      .begins('1', 'turn-out', { at: '2026-03-04T09:30:00Z' })
      .call('3');
    expect(minutes(log)).toBe(30);
  });
});

describe('the whole view', () => {
  it('is of an unsealed log unless it is said what was found of its seals', () => {
    const { folded } = atTheTable();
    expect(view(folded)).toMatchObject({ seals: 'unsealed', brokenAt: null });
    expect(view(folded, undefined, { seals: 'broken', brokenAt: 3 })).toMatchObject({ seals: 'broken', brokenAt: 3 });
  });

  it('changes with time alone in holds, notices and clocks', () => {
    const log = atTheTable().write({ type: 'tourniquet', to: 'up', at: '2026-03-04T09:00:00Z' });
    const at = (time: string) => timed(log.folded, epoch(time));
    expect(at('2026-03-04T10:50:00Z')).toMatchObject({ holds: [], notices: ['tourniquet'] });
    expect(at('2026-03-04T11:00:00Z')).toMatchObject({ holds: ['tourniquet'], notices: [] });
    expect(at('2026-03-04T11:00:00Z').clocks.tourniquetMinutes).toBe(120);
    const { holds, notices, clocks } = view(log.folded, epoch('2026-03-04T11:00:00Z'));
    expect(at('2026-03-04T11:00:00Z')).toEqual({ holds, notices, clocks });
  });

  it('halves the chance left with each slip', () =>
    expect([0, 1, 2, 3].map((slips) => chanceLeft(slips, 0.5))).toEqual([1, 0.5, 0.25, 0.125]));
});
