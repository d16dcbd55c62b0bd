/** Ten faults of the first ladder: each log under 2026.1 as it was, and under 2026.2. */
import { describe, expect, it } from 'vitest';
import { closed, offer, offered } from '../build.ts';
import { atTable, both, first, loose, second } from './build.ts';

const underPlate = ['grip-shank', 'gouge-and-grip', 'hollow-ream', 'extraction-sleeve', 'burr-out'] as const;

describe('what was wrong in the first ladder', () => {
  it('1: a gouge, a reamer and a burr were offered under a plate that is on; now the plate comes off first', () => {
    const { before, now } = both({ facts: { stage: 'head-sheared' } }, (log) => log.screw('2'));
    expect(offered(before.of('1'))).toEqual(expect.arrayContaining(['gouge-and-grip', 'hollow-ream', 'burr-out']));
    expect(offered(now.of('1'))).toEqual(['leave-in']);
    expect(closed(now.of('1'))).toEqual(Object.fromEntries(underPlate.map((id) => [id, 'plate-on'])));
    expect(now.of('1').ifYouWait).toMatchObject([{ tactic: 'plate-off', screws: ['2'], opens: 'grip-shank' }]);
    const off = now.tries('2', 'turn-out', 'out').write({ type: 'plate-off' });
    expect(offered(off.of('1'))).toEqual(['grip-shank', 'gouge-and-grip', 'hollow-ream', 'burr-out', 'leave-in']);
  });

  it('2: a jammed screw with a good recess got the cone first; now the cone comes after all that spares the recess', () => {
    const { before, now } = both({ facts: { locking: true } }, (log) =>
      log.tries('1', 'turn-out', 'no-change').finds('1', { headProud: true }),
    );
    expect(offered(before.of('1'))).toEqual([
      ...['grip-head', 'conical-extractor', 'free-plate', 'drill-head-off', 'leave-in'],
    ]);
    // Something was found since, so that turning out is no longer used up.
    expect(offered(now.of('1'))).toEqual([
      ...['turn-out', 'break-loose', 'free-plate', 'drill-head-off', 'conical-extractor', 'grip-head', 'leave-in'],
    ]);
  });

  it('3: "turns but does not come" had no word of its own; now it has, and opens pulling while turning', () => {
    expect(first.ids.outcomes).not.toContain('turns-free');
    const now = atTable().tries('1', 'turn-out', 'turns-free', { turned: 'screw' });
    expect(now.of('1')).toMatchObject({ stage: 'seated', slips: 0, holds: [] });
    expect(offered(now.of('1'))).toEqual(['turn-out', 'lift-and-turn', 'leave-in']);
    expect(now.folded.screws.get('1')?.context.withoutGain).toBe(0);
    expect(now.folded.trace?.row.ended?.gained).toBe(false);
  });

  it('4: a move was used up after one try with one tool; now after each tool that is here', () => {
    const { before, now } = both({ facts: { stage: 'recess-stripped' } }, (log) =>
      log.begins('1', 'grip-head', { tool: 'head-gripper' }).ends('1', 'no-change'),
    );
    expect(closed(before.of('1'))['grip-head']).toBe('used-up');
    expect(offered(now.of('1'))).toContain('grip-head');
    for (const tool of ['locking-pliers', 'retired-rongeur'] as const)
      now.begins('1', 'grip-head', { tool }).ends('1', 'no-change');
    expect(closed(now.of('1'))['grip-head']).toBe('used-up');
  });

  it('5: a lone screw was to have its head drilled off with nothing to take the shank out by', () => {
    const tools = ['hard-metal-drill', 'driver-hexagonal'] as const;
    const { before, now } = both({ ...loose, tools, facts: { stage: 'recess-stripped' } }, (log) => log);
    expect(offered(before.of('1'))).toContain('drill-head-off');
    expect(closed(now.of('1'))['drill-head-off']).toBe('does-not-fit');
    expect(offered(now.fork().tool('locking-pliers').of('1'))).toContain('drill-head-off');
  });

  it('6: a shank that stands proud could not take the sleeve unreamed', () => {
    const { before, now } = both({ ...loose, facts: { stage: 'head-sheared' } }, (log) =>
      log.finds('1', { shankProud: true, shankStands: 4.5 }),
    );
    expect(closed(before.of('1'))['extraction-sleeve']).toBe('needs-reaming');
    expect(offered(now.of('1'))).toContain('extraction-sleeve');
    const short = atTable({ ...loose, facts: { stage: 'head-sheared' } }).finds('1', { shankStands: 4.4 });
    expect(closed(short.of('1'))['extraction-sleeve']).toBe('needs-reaming');
  });

  it('7: a deep piece had one way to the gripper; now a window over it is another, and its bone is asked', () => {
    const { before, now } = both({ ...loose, facts: { stage: 'fragment-retained' } }, (log) => log);
    expect(offered(before.of('1'))).not.toContain('window');
    const ahead = { cortexLost: null, bendingKept: null, holds: ['far-wall'] };
    expect(offer(now.of('1'), 'window')).toMatchObject(ahead);
    expect(offered(now.of('1'))).not.toContain('grip-shank');
    const made = now
      .begins('1', 'window', { bores: [{ wall: 'near', diameter: 8, length: 15 }] })
      .ends('1', 'set-up-done');
    expect(offered(made.of('1'))[0]).toBe('grip-shank');
    expect(made.of('1').offered[0]?.cortexLostBefore).toBeGreaterThan(0.13);
  });

  it('8: a corridor nobody had looked for closed the way through; now only one that was looked for in vain does', () => {
    const { before, now } = both({ ...loose, facts: { stage: 'fragment-retained' } }, (log) => log);
    expect(closed(before.of('1'))).toMatchObject({ 'far-side': 'not-proud', 'push-through': 'not-proud' });
    expect(offer(now.of('1'), 'push-through')?.unknown).toEqual(['corridor']);
    expect(offer(now.of('1'), 'far-side')?.unknown).toEqual(['tipProud']);
    const seen = now.finds('1', { corridor: false, tipProud: true });
    expect(closed(seen.of('1'))['push-through']).toBe('not-proud');
    expect(offer(seen.of('1'), 'far-side')).not.toHaveProperty('unknown');
  });

  it('9: a slip stripped a recess that was not seen; now the first keeps it, the second strips it', () => {
    const { before, now } = both({}, (log) => log.tries('1', 'turn-out', 'slipped', { recess: 'not-seen' }));
    expect(before.of('1').stage).toBe('recess-stripped');
    expect(now.of('1')).toMatchObject({ stage: 'seated', slips: 1, holds: ['reassess'] });
    expect(offered(now.looksAgain('1').of('1'))).toContain('turn-out');
    expect(now.tries('1', 'turn-out', 'slipped', { recess: 'sound' }).of('1')).toMatchObject({
      ...{ stage: 'recess-stripped', slips: 2 },
    });
  });

  it('10: what an opening costs was printed as the own hole of the screw; now it is not known until said', () => {
    const before = atTable({ facts: { stage: 'recess-stripped' }, content: first });
    expect(before.of('1').offered.every(({ cortexLost }) => cortexLost !== null)).toBe(true);
    const now = atTable().finds('1', { headCovered: true });
    expect(offer(now.of('1'), 'uncover')).toMatchObject({ cortexLost: null, cortexLostBefore: null });
    const done = now.fork().tries('1', 'uncover', 'set-up-done');
    expect(offer(done.of('1'), 'turn-out')).toMatchObject({ cortexLost: null });
    const said = now.tries('1', 'uncover', 'set-up-done', { bores: [{ wall: 'near', diameter: 9 }] });
    const costs = offer(said.of('1'), 'turn-out')?.cortexLost as number;
    expect(costs).toBeGreaterThan(0.131);
    expect(second.moves.filter(({ boneAsked }) => boneAsked).map(({ id }) => id)).toEqual(['uncover', 'window']);
  });
});
