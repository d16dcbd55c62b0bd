/** What turned under the driver: a driver that turned alone has slipped, whatever it was called. */
import { describe, expect, it } from 'vitest';
import type { EntryOf } from '../../machines/entry.ts';
import { readAsSlip } from '../../machines/turned.ts';
import { table2 } from './build-2.ts';

const time = '2026-03-04T09:00:00Z';
const end = (more: Partial<EntryOf<'move-ended'>>): EntryOf<'move-ended'> => ({
  n: 9,
  at: time,
  logged: time,
  type: 'move-ended',
  screw: '1',
  outcome: 'turns-free',
  ...more,
});

describe('an end that turns free', () => {
  it('is a slip where the driver turned alone, and keeps all else that was said of it', () => {
    const told = end({ turned: 'driver', recess: 'sound', start: 8 });
    expect(readAsSlip(told)).toEqual({ ...told, outcome: 'slipped' });
    expect(told.outcome).toBe('turns-free');
  });

  it.each(['screw', 'not-known', undefined] as const)('is what it was told as where %s turned', (turned) => {
    const told = end(turned ? { turned } : {});
    expect(readAsSlip(told)).toBe(told);
  });

  it.each(['out', 'moving', 'no-change', 'slipped', 'tool-broke'] as const)(
    'alone is read so: one that was %s stays it, whatever turned',
    (outcome) => {
      const told = end({ outcome, turned: 'driver' });
      expect(readAsSlip(told)).toBe(told);
    },
  );

  it('is told by an end: an answer that comes while the move runs makes no slip of its start', () => {
    const log = table2().begins('1', 'turn-out');
    const of = log.n;
    log.write({ type: 'move-answered', of, turned: 'driver' });
    expect(log.of('1')).toMatchObject({ move: 'turn-out', slips: 0, stage: 'seated' });
    const answer = log.entries.at(-1) as EntryOf<'move-answered'>;
    expect(readAsSlip(answer)).toBe(answer);
    expect(log.ends('1', 'turns-free').of('1')).toMatchObject({ move: null, slips: 1, stage: 'recess-stripped' });
  });
});

it('counts like any slip: the recess is taken for stripped until somebody saw it sound', () => {
  const free = (more: Partial<EntryOf<'move-ended'>>) => table2().tries('1', 'turn-out', 'turns-free', more).of('1');
  expect(free({ turned: 'driver' })).toMatchObject({ slips: 1, stage: 'recess-stripped', holds: ['reassess'] });
  expect(free({ turned: 'driver', recess: 'sound' })).toMatchObject({ slips: 1, stage: 'seated' });
  expect(free({ turned: 'screw' })).toMatchObject({ slips: 0, stage: 'seated', holds: [] });
});
