/** Readiness and forecast look ahead by the second ladder itself. */
import { describe, expect, it } from 'vitest';
import type { ToolId } from '../../../content/ids.ts';
import { forecast, type Forecast } from '../../../machines/forecast.ts';
import { consentOpen } from '../../../machines/consent.ts';
import { readiness } from '../../../machines/readiness.ts';
import { atTable, first, loose, second } from './build.ts';

describe('looking ahead under the second ladder', () => {
  const ready = (tools: readonly ToolId[], facts: object = {}) => readiness(atTable({ ...loose, tools, facts }).folded);

  it('takes reaming for no way out by itself: the sleeve has to follow', () => {
    const reamed = ready(['hollow-reamer', 'reversing-drive'], { stage: 'fragment-retained' });
    expect(reamed.deadEnds).toMatchObject([{ stage: 'fragment-retained', opensWith: ['extraction-sleeve'] }]);
    const both = ready(['hollow-reamer', 'reversing-drive', 'extraction-sleeve'], { stage: 'fragment-retained' });
    expect(both.deadEnds).toEqual([]);
  });

  it('takes a window for a way to the gripper, and for none without one', () => {
    expect(ready(['bone-saw', 'locking-pliers'], { stage: 'fragment-retained' }).deadEnds).toEqual([]);
    const windowed = ready(['bone-saw'], { stage: 'fragment-retained' });
    expect(windowed.deadEnds).toMatchObject([{ opensWith: ['head-gripper'] }]);
  });

  it('counts no shank, tip or corridor that nobody has found', () => {
    const stump = atTable({ ...loose, tools: ['locking-pliers'], facts: { stage: 'head-sheared' } });
    const dead = () => readiness(stump.folded).deadEnds.map(({ stage }) => stage);
    expect(dead()).toContain('head-sheared');
    stump.finds('1', { shankStands: 3 });
    expect(dead()).not.toContain('head-sheared');
  });

  it('reckons with the plate off where a screw lies under one', () => {
    const log = atTable({ facts: { stage: 'head-sheared' }, tools: ['gouge', 'locking-pliers'] });
    expect(readiness(log.folded).deadEnds.map(({ stage }) => stage)).not.toContain('head-sheared');
  });

  it('comes to an end, with shares that add up, for a screw in each stage', { timeout: 120_000 }, () => {
    for (const stage of ['seated', 'recess-stripped', 'head-sheared', 'fragment-retained'] as const) {
      const tools = [
        'driver-hexagonal',
        'head-gripper',
        'hollow-reamer',
        'reversing-drive',
        'extraction-sleeve',
      ] as const;
      const { screws } = forecast(atTable({ ...loose, tools, facts: { stage } }).folded);
      const { out, leftByChoice, stoppedAtBone, moves } = screws['1'] as Forecast['screws'][string];
      expect(out.mean).toBeGreaterThan(0);
      expect(out.mean + leftByChoice.mean + (stoppedAtBone?.mean ?? NaN)).toBeCloseTo(1, 6);
      expect(moves).toBeGreaterThan(0);
      expect(moves).toBeLessThan(60);
    }
  });

  it('takes a consent point that rests on what nobody said for open, and one that was said not to apply for closed', () => {
    const open = (opened: object) => consentOpen(atTable({ opened }).folded);
    const both = ['placed-elsewhere', 'over-18-months'];
    expect(open({})).toEqual(expect.arrayContaining(both));
    expect(open({ placedBy: 'unknown' })).toContain('placed-elsewhere');
    const said = open({ placedBy: 'same-team', placedMonthsAgo: 6 });
    expect(said.filter((point) => both.includes(point))).toEqual([]);
    expect(consentOpen(atTable({ content: first }).folded).filter((point) => both.includes(point))).toEqual([]);
  });

  it('assumes nothing of a bone that broke, and says that it did', () => {
    const guessed = (content = second) =>
      atTable({ content, tools: [] }).bone(27, 5, { source: 'assumed' }).bone(20, 4, { screw: '1', source: 'assumed' });
    const broke = { type: 'event', kind: 'bone-broke' } as const;
    expect(readiness(guessed().folded).assumed).toEqual(['bone', 'bone:1', 'reamer']);
    expect(readiness(guessed().folded)).not.toHaveProperty('bone');
    const ready = readiness(guessed().write(broke).folded);
    expect(ready).toMatchObject({ assumed: ['reamer'], bone: 'broken' });
    // The first ladder knows no broken bone.
    const before = readiness(guessed(first).write(broke).folded);
    expect(before.assumed).toEqual(['bone', 'bone:1', 'reamer']);
    expect(before).not.toHaveProperty('bone');
  });

  it('assumes the reamer of a screw whose diameter nobody knows, whatever reamer is there', () => {
    const assumed = (facts: object) =>
      readiness(atTable({ ...loose, tools: [], facts }).tool('hollow-reamer', { inner: 5, outer: 7 }).folded).assumed;
    expect(assumed({ diameter: 4.5 })).toEqual([]);
    expect(assumed({ diameter: null })).toEqual(['reamer']);
  });

  it('tells two screws apart that only what was tried or known of them makes different', () => {
    const log = atTable({ ...loose, tools: ['locking-pliers'], facts: { stage: 'head-sheared' } });
    log.screw('2', { stage: 'head-sheared' }).finds('2', { shankStands: 3 });
    const dead = readiness(log.folded).deadEnds.map(({ screw, stage }) => [screw, stage]);
    expect(dead).toContainEqual(['1', 'head-sheared']);
    expect(dead).not.toContainEqual(['2', 'head-sheared']);
  });
});
