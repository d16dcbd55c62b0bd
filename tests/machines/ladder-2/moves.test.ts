/** The moves of the second ladder, point by point. */
import { describe, expect, it } from 'vitest';
import type { WorkingStage } from '../../../content/ids.ts';
import { byRules, closed, offer, offered, type Log } from '../build.ts';
import { atTable, everyTool, first, loose, second } from './build.ts';

const at = (stage: WorkingStage, facts: object = {}) => atTable({ ...loose, facts: { stage, ...facts } });
const context = (log: Log) => log.folded.screws.get('1')?.context;

describe('the order of a stage', () => {
  it('is its own for a jammed seat', () => {
    const log = atTable({ facts: { locking: true, thread: 'partly' } })
      .finds('1', { headCovered: true, headProud: true })
      .tries('1', 'turn-out', 'turns-free')
      .tries('1', 'turn-out', 'no-change')
      .finds('1', { tipProud: true });
    expect(offered(log.of('1'))).toEqual([
      ...['turn-out', 'uncover', 'break-loose', 'lift-and-turn', 'open-near-cortex'],
      ...['free-plate', 'drill-head-off', 'conical-extractor', 'grip-head', 'leave-in'],
    ]);
  });

  it('is that of the list in a stripped recess, and its own at a sheared head and a deep piece', () => {
    const all = (stage: WorkingStage) => {
      const screw = at(stage).of('1');
      return [...offered(screw), ...Object.keys(closed(screw))];
    };
    expect(offered(at('recess-stripped').of('1'))).toEqual([
      ...['pack-recess', 'drive-oversize', 'grip-head', 'conical-extractor', 'reverse-tap', 'slot-head'],
      ...['drill-head-off', 'leave-in'],
    ]);
    expect(all('head-sheared')).toEqual([
      ...['grip-shank', 'gouge-and-grip', 'hollow-ream', 'burr-out', 'leave-in', 'extraction-sleeve'],
    ]);
    expect(all('fragment-retained')).toEqual([
      ...['far-side', 'push-through', 'hollow-ream', 'window', 'burr-out', 'leave-in', 'extraction-sleeve'],
    ]);
  });

  it('puts leaving in first only when every other move that is offered carries the stop of the bone', () => {
    const thin = (log: Log) => log.bone(12, 2).write({ type: 'limits-set', boneStop: 0.01, boneConsider: 0 });
    const log = thin(atTable({ ...loose, facts: { stage: 'head-sheared' }, tools: ['gouge', 'head-gripper'] }));
    expect(offered(log.finds('1', { shankProud: false }).of('1'))).toEqual(['leave-in', 'gouge-and-grip']);
    expect(offered(log.finds('1', { shankProud: true }).of('1')).at(-1)).toBe('leave-in');
    const none = thin(atTable({ ...loose, facts: { stage: 'head-sheared' }, tools: [] }));
    expect(offered(none.of('1'))).toEqual(['leave-in']);
  });
});

describe('what opens a move', () => {
  const lists = (log: Log) => [...offered(log.of('1')), ...Object.keys(closed(log.of('1')))];

  it('is not listed at all before it happened', () => {
    expect(lists(atTable())).toEqual(['turn-out', 'leave-in']);
    expect(lists(atTable({ tools: [] }).tries('1', 'turn-out', 'moving'))).toEqual(['leave-in', 'turn-out']);
  });

  it('is a head found covered, until it is cleared', () => {
    expect(lists(atTable().finds('1', { headCovered: false }))).not.toContain('uncover');
    const log = atTable().finds('1', { headCovered: true });
    expect(offered(log.of('1'))).toContain('uncover');
    expect(lists(log.fork().tries('1', 'uncover', 'no-change'))).toContain('uncover');
    expect(lists(log.tries('1', 'uncover', 'set-up-done'))).not.toContain('uncover');
  });

  it('is a turning out that brought nothing and did not slip', () => {
    expect(lists(atTable().tries('1', 'turn-out', 'no-change'))).toContain('break-loose');
    expect(lists(atTable().tries('1', 'turn-out', 'slipped', { recess: 'sound' }))).not.toContain('break-loose');
    expect(lists(atTable().tries('1', 'turn-out', 'turns-free'))).not.toContain('break-loose');
  });

  it('is a screw that moved and then stuck, or that is threaded in part', () => {
    expect(lists(atTable({ facts: { thread: 'partly' } }))).toContain('open-near-cortex');
    const log = atTable().tries('1', 'turn-out', 'no-change').tries('1', 'turn-out', 'moving');
    expect(lists(log)).not.toContain('open-near-cortex');
    expect(lists(log.tries('1', 'turn-out', 'no-change'))).toContain('open-near-cortex');
  });

  it('says of what needs the recess that a tool is jammed in it', () => {
    const log = atTable().tries('1', 'turn-out', 'tool-jammed');
    expect(closed(log.of('1'))).toMatchObject({ 'turn-out': 'tool-jammed', 'break-loose': 'tool-jammed' });
    expect(offered(log.of('1'))).toContain('grip-head');
  });
});

describe('turning free', () => {
  it('is a slip where the driver turned alone, told at once or later', () => {
    const now = atTable().tries('1', 'turn-out', 'turns-free', { turned: 'driver' });
    const later = atTable().tries('1', 'turn-out', 'turns-free');
    later.write({ type: 'move-answered', of: later.n - 1, turned: 'driver' });
    for (const log of [now, later]) {
      expect(log.of('1')).toMatchObject({ stage: 'recess-stripped', slips: 1, holds: ['reassess'] });
      expect(context(log)?.climb?.turnedFree).toBe(false);
    }
  });

  it('spends nothing and calls nobody, however often', () => {
    const log = atTable();
    for (let i = 0; i < 4; i++) log.tries('1', 'turn-out', 'turns-free', { turned: 'not-known' });
    expect(log.of('1')).toMatchObject({ stage: 'seated', slips: 0, holds: [] });
    expect(context(log)).toMatchObject({ withoutGain: 0, usedUp: [], jammedSeat: false });
  });

  it('turns in the recess with a driver, not with a gripper, nor with nothing named', () => {
    const pulled = (tool?: 'driver-hexagonal' | 'head-gripper') =>
      atTable()
        .tries('1', 'turn-out', 'turns-free')
        .begins('1', 'lift-and-turn', tool && { tool })
        .ends('1', 'slipped')
        .of('1');
    expect(pulled('driver-hexagonal')).toMatchObject({ stage: 'recess-stripped', slips: 1 });
    expect(pulled('head-gripper')).toMatchObject({ stage: 'seated', slips: 0 });
    expect(pulled()).toMatchObject({ stage: 'seated', slips: 0 });
  });
});

describe('used up', () => {
  const tools = ['head-gripper', 'locking-pliers', 'gouge', 'driver-hexagonal'] as const;
  const stump = () => atTable({ ...loose, tools, facts: { stage: 'head-sheared' } }).finds('1', { shankProud: true });
  const gripped = (log: Log, tool?: (typeof tools)[number]) =>
    log.begins('1', 'grip-shank', tool && { tool }).ends('1', 'no-change');

  it('is a move with each tool that is here; one that is not named is one of them', () => {
    expect(offered(gripped(stump(), 'head-gripper').of('1'))).toContain('grip-shank');
    expect(offered(gripped(gripped(stump(), 'head-gripper'), 'head-gripper').of('1'))).toContain('grip-shank');
    expect(closed(gripped(gripped(stump(), 'head-gripper'), 'locking-pliers').of('1'))['grip-shank']).toBe('used-up');
    expect(offered(gripped(stump()).of('1'))).toContain('grip-shank');
    expect(closed(gripped(gripped(stump())).of('1'))['grip-shank']).toBe('used-up');
  });

  it('is over once another tool is brought, or the same in another size', () => {
    const log = gripped(gripped(stump()));
    expect(offered(log.fork().tool('retired-rongeur').of('1'))).toContain('grip-shank');
    expect(offered(log.tool('head-gripper', { fits: [4.5] }).of('1'))).toContain('grip-shank');
  });

  it('says that a tool is missing, where there is none left of those it was tried with', () => {
    const log = gripped(atTable({ ...loose, tools: ['head-gripper'], facts: { stage: 'head-sheared' } }));
    expect(closed(log.of('1'))['grip-shank']).toBe('used-up');
    log.tool('head-gripper', { present: false });
    expect(closed(log.of('1'))['grip-shank']).toBe('tool-missing');
  });

  it.each([
    ['the shank was seen to stand', (log: Log) => log.finds('1', { shankStands: 4 })],
    ['the corridor was found', (log: Log) => log.finds('1', { corridor: true })],
    ['a bore', (log: Log) => log.tries('1', 'gouge-and-grip', 'no-change')],
    ['it moved', (log: Log) => log.tries('1', 'gouge-and-grip', 'moving', { bores: [] })],
    ['it turned free', (log: Log) => log.tries('1', 'gouge-and-grip', 'turns-free', { bores: [] })],
    ['the other was prepared', (log: Log) => log.tries('1', 'gouge-and-grip', 'set-up-done', { bores: [] })],
  ])('is forgotten after %s', (_, change) => {
    expect(offered(change(gripped(gripped(stump()))).of('1'))).toContain('grip-shank');
  });

  it('is not forgotten after a word that tells nothing new, nor after a bore that was not made', () => {
    const spent = gripped(gripped(stump()));
    expect(closed(spent.fork().finds('1', {}).of('1'))['grip-shank']).toBe('used-up');
    expect(closed(spent.fork().finds('1', { shankProud: true }).of('1'))['grip-shank']).toBe('used-up');
    expect(closed(spent.fork().finds('1', { nearSurface: 2, openingsMeet: false }).of('1'))['grip-shank']).toBe(
      'used-up',
    );
    const corridor = gripped(gripped(stump().finds('1', { corridor: true })));
    expect(closed(corridor.fork().finds('1', { corridor: true }).of('1'))['grip-shank']).toBe('used-up');
    expect(offered(corridor.finds('1', { corridor: false }).of('1'))).toContain('grip-shank');
    const none = spent.tries('1', 'gouge-and-grip', 'no-change', { bores: [] });
    expect(closed(none.of('1'))['grip-shank']).toBe('used-up');
  });

  it('is forgotten when the plate comes off, by whatever touch', () => {
    const jammed = () =>
      atTable({ tools: ['locking-pliers', 'hard-metal-drill'] })
        .tries('1', 'turn-out', 'no-change')
        .finds('1', {
          headProud: true,
        });
    const spent = () => jammed().tries('1', 'grip-head', 'no-change');
    expect(closed(spent().of('1'))['grip-head']).toBe('used-up');
    expect(offered(spent().write({ type: 'plate-off' }).of('1'))).toContain('grip-head');
    expect(closed(spent().write({ type: 'plate-off', part: 'cable' }).of('1'))['grip-head']).toBe('used-up');
    const levered = { type: 'part-move', part: 'plate', move: 'lever-plate', outcome: 'out' } as const;
    expect(offered(spent().write(levered).of('1'))).toContain('grip-head');
    expect(
      closed(
        spent()
          .write({ ...levered, outcome: 'no-change' })
          .of('1'),
      )['grip-head'],
    ).toBe('used-up');
  });

  it('counts the driver where foil is packed and the gripper where bone is gouged', () => {
    const packed = atTable({
      ...{ ...loose, facts: { stage: 'recess-stripped' } },
      tools: ['metal-foil', 'driver-hexagonal', 'locking-pliers'],
    }).tries('1', 'pack-recess', 'no-change');
    expect(closed(packed.of('1'))['pack-recess']).toBe('used-up');
    expect(offered(packed.tool('driver-hexagonal', { size: 3.5 }).of('1'))).toContain('pack-recess');
  });
});

describe('under a plate that is on', () => {
  const under = (facts: object = {}) => atTable({ facts: { stage: 'head-sheared', ...facts } });

  it('is every screw of a plate that nobody said otherwise of, and any that is said to be', () => {
    expect(closed(under().of('1'))['burr-out']).toBe('plate-on');
    expect(offered(under({ underPlate: false }).of('1'))).toContain('burr-out');
    const said = at('head-sheared', { underPlate: true });
    expect(closed(said.of('1'))['burr-out']).toBe('plate-on');
    expect(offered(said.write({ type: 'plate-off' }).of('1'))).toContain('burr-out');
  });

  it('may be done anyway, as what was not offered, with the holds that it meets with the plate off', () => {
    const log = under().bone(12, 2).begins('1', 'hollow-ream');
    expect(log.view.unoffered).toEqual([log.n]);
    const anyway = log.view.unanswered.map(({ hold }) => hold);
    const off = under().bone(12, 2).write({ type: 'plate-off' }).begins('1', 'hollow-ream');
    expect(off.view.unoffered).toEqual([]);
    expect(anyway).toContain('reverse');
    expect(anyway).toEqual(off.view.unanswered.map(({ hold }) => hold));
  });

  it('leaves the shank not known once the plate is off, whatever was found before, until it is seen', () => {
    const log = under().finds('1', { shankProud: true, shankStands: 6 }).write({ type: 'plate-off' });
    expect(offer(log.of('1'), 'grip-shank')?.unknown).toEqual(['shankProud']);
    expect(closed(log.of('1'))['extraction-sleeve']).toBe('needs-reaming');
    const seen = log.fork().finds('1', { shankStands: 6 }).write({ type: 'plate-off' });
    expect(offer(seen.of('1'), 'grip-shank')).not.toHaveProperty('unknown');
    expect(closed(log.finds('1', { shankStands: 0 }).of('1'))['grip-shank']).toBe('not-proud');
  });
});

describe('drilling the head off', () => {
  const lone = (facts: object = {}) =>
    atTable({ ...loose, tools: ['hard-metal-drill'], facts: { stage: 'recess-stripped', ...facts } });

  it('fits where the head holds something down, or the shank could be taken hold of', () => {
    expect(closed(lone().of('1'))['drill-head-off']).toBe('does-not-fit');
    expect(offered(lone({ washer: true }).of('1'))).toContain('drill-head-off');
    expect(offered(lone().tool('hollow-reamer', { inner: 5 }).of('1'))).toContain('drill-head-off');
    expect(closed(lone().tool('hollow-reamer', { inner: 4.5 }).of('1'))['drill-head-off']).toBe('does-not-fit');
    const plate = atTable({ tools: ['hard-metal-drill'], facts: { stage: 'recess-stripped' } });
    expect(offered(plate.of('1'))).toContain('drill-head-off');
    expect(closed(plate.write({ type: 'plate-off' }).of('1'))['drill-head-off']).toBe('does-not-fit');
  });

  it('fits while a washer or a barrel that is listed is not off', () => {
    const log = lone().write({ type: 'part-listed', part: 'barrel', kind: 'barrel' });
    expect(offered(log.of('1'))).toContain('drill-head-off');
    log.write({ type: 'part-ended', part: 'barrel', end: 'out' });
    expect(closed(log.of('1'))['drill-head-off']).toBe('does-not-fit');
  });
});

describe('reaming prepares', () => {
  const deep = (depth?: number) => {
    const log = at('fragment-retained', { length: 36 });
    return log.tries('1', 'hollow-ream', 'set-up-done', depth === undefined ? {} : { depth });
  };

  it('puts the sleeve first', () => {
    expect(offered(deep(36).of('1'))[0]).toBe('extraction-sleeve');
    expect(deep(36).of('1').stage).toBe('fragment-retained');
  });

  it('is made again only where it was short, or nobody said how deep, or with a wider one', () => {
    expect(offered(deep(20).of('1'))).toContain('hollow-ream');
    expect(offered(deep().of('1'))).toContain('hollow-ream');
    expect(closed(deep(36).of('1'))['hollow-ream']).toBe('used-up');
    expect(closed(deep(36).finds('1', { tipProud: true }).of('1'))['hollow-ream']).toBe('used-up');
    expect(offered(deep(20).finds('1', { fragmentLength: 18 }).of('1'))).not.toContain('hollow-ream');
    expect(
      offered(
        deep(36)
          .tool('hollow-reamer', { fits: [4.5], outer: 8 })
          .of('1'),
      ),
    ).toContain('hollow-ream');
    expect(
      closed(
        deep(36)
          .tool('hollow-reamer', { fits: [4.5], outer: 5 })
          .of('1'),
      )['hollow-ream'],
    ).toBe('used-up');
  });

  it('is foreseen with the next size once the first went all the way', () => {
    const log = atTable({
      ...{ ...loose, facts: { stage: 'fragment-retained' } },
      tools: ['reversing-drive', 'extraction-sleeve'],
    })
      .tool('hollow-reamer', { fits: [4.5], outer: 6 })
      .tool('hollow-reamer', { fits: [4.5], outer: 8 });
    const cost = offer(log.of('1'), 'hollow-ream')?.cortexLost as number;
    const next = log.tries('1', 'hollow-ream', 'set-up-done', { depth: 36 });
    expect(offer(next.of('1'), 'hollow-ream')?.cortexLost).toBeGreaterThan(cost + 0.01);
    expect(offer(next.of('1'), 'hollow-ream')?.cortexLostBefore).toBeCloseTo(cost, 12);
  });
});

describe('what fits by its sizes', () => {
  const hex = { drive: 'hexagonal', driveSize: 3.5, stage: 'recess-stripped' } as const;
  const oversize = (facts: object, tool: 'driver-hexalobular' | 'driver-hexagonal' | 'driver-slotted', size?: number) =>
    atTable({ ...loose, tools: ['mallet'], facts: { ...hex, ...facts } })
      .tool(tool, size === undefined ? {} : { size })
      .of('1');

  it('is a driver of another form only when it is wider than the recess', () => {
    expect(closed(oversize({}, 'driver-hexalobular', 15))['drive-oversize']).toBe('tool-missing');
    expect(offer(oversize({}, 'driver-hexalobular', 20), 'drive-oversize')).not.toHaveProperty('sizeUnknown');
    expect(offered(oversize({}, 'driver-hexalobular', 20))).toContain('drive-oversize');
    expect(closed(oversize({}, 'driver-hexagonal', 3.5))['drive-oversize']).toBe('tool-missing');
    expect(offered(oversize({}, 'driver-hexagonal', 4))).toContain('drive-oversize');
    const star = { drive: 'hexalobular', driveSize: 25 };
    expect(closed(oversize(star, 'driver-hexagonal', 4))['drive-oversize']).toBe('tool-missing');
    expect(offered(oversize(star, 'driver-hexagonal', 5))).toContain('drive-oversize');
  });

  it('may be one whose size nobody told, or of a recess that nobody measured', () => {
    for (const screw of [
      oversize({}, 'driver-hexalobular'),
      oversize({}, 'driver-slotted'),
      oversize({ driveSize: undefined }, 'driver-hexalobular', 20),
      oversize({ drive: 'unknown' }, 'driver-hexalobular', 20),
    ])
      expect(offer(screw, 'drive-oversize')?.sizeUnknown).toBe(true);
  });

  it('is a reamer with play, and a sleeve by its list; by its inner diameter alone a sleeve may fit', () => {
    const with2 = (tool: 'hollow-reamer' | 'extraction-sleeve', sizes: object) =>
      atTable({ ...loose, tools: ['reversing-drive'], facts: { stage: 'head-sheared' } })
        .finds('1', { shankStands: 9 })
        .tool(tool, sizes)
        .of('1');
    expect(closed(with2('hollow-reamer', { inner: 4.6 }))['hollow-ream']).toBe('tool-missing');
    expect(closed(with2('hollow-reamer', { fits: [4.5], outer: 4.5 }))['hollow-ream']).toBe('tool-missing');
    expect(offer(with2('hollow-reamer', { inner: 4.7 }), 'hollow-ream')).not.toHaveProperty('sizeUnknown');
    expect(offer(with2('hollow-reamer', {}), 'hollow-ream')?.sizeUnknown).toBe(true);
    expect(offer(with2('extraction-sleeve', { inner: 4.5 }), 'extraction-sleeve')?.sizeUnknown).toBe(true);
    expect(offer(with2('extraction-sleeve', { fits: [4.5] }), 'extraction-sleeve')).not.toHaveProperty('sizeUnknown');
    expect(closed(with2('extraction-sleeve', { fits: [3.5], inner: 5 }))['extraction-sleeve']).toBe('tool-missing');
  });
});

describe('a slip', () => {
  it('in a recess not looked at strips it; turning out opens once where it was sound, and not again', () => {
    expect(atTable().tries('1', 'turn-out', 'slipped').of('1').stage).toBe('recess-stripped');
    expect(atTable().tries('1', 'turn-out', 'slipped', { recess: 'damaged' }).of('1').stage).toBe('recess-stripped');
    const kept = atTable().tries('1', 'turn-out', 'slipped', { recess: 'sound' });
    expect(closed(kept.of('1'))['turn-out']).toBe('hold-open');
    const again = kept.looksAgain('1').tries('1', 'turn-out', 'no-change');
    expect(closed(again.of('1'))['turn-out']).toBe('used-up');
    expect(closed(again.looksAgain('1').of('1'))['turn-out']).toBe('used-up');
  });

  it('that was told later to have left the recess sound stands on a seated screw', () => {
    const log = atTable().tries('1', 'turn-out', 'slipped');
    log.write({ type: 'move-answered', of: log.n - 1, recess: 'sound' });
    expect(log.of('1')).toMatchObject({ stage: 'seated', slips: 1 });
  });

  it('that is told late strips what one slip had left whole', () => {
    const log = atTable().tries('1', 'turn-out', 'slipped', { recess: 'sound' }).looksAgain('1');
    const late = { at: '2026-03-04T08:20:00Z' };
    log.after(30).remarks();
    const logged = log.entries.at(-1)?.logged as string;
    log.write({ type: 'move-started', screw: '1', move: 'turn-out', ...late, logged });
    log.write({ type: 'move-ended', screw: '1', outcome: 'slipped', recess: 'sound', ...late, logged });
    expect(log.of('1')).toMatchObject({ stage: 'recess-stripped', slips: 2 });
  });
});

it('a screw under the first ladder carries nothing of the second', () => {
  const log = atTable({ content: second });
  expect(context(log)?.climb).toBeDefined();
  expect(byRules(2, log).screws['1']?.ifYouWait).toEqual([]);
  expect(everyTool(second).length).toBeGreaterThan(26);
});

describe('putting a screw off', () => {
  const three = () => atTable().screw('2').screw('3');
  const defers = (log: Log, ...ids: string[]) =>
    ids.reduce((all, screw) => all.write({ type: 'deferred', screw }), log);
  const others = (log: Log) => ['1', '2', '3'].map((id) => log.of(id).othersWait);

  it('says so where all the others that are in wait already', () => {
    expect(others(three())).toEqual([false, false, false]);
    expect(others(defers(three(), '2'))).toEqual([false, false, false]);
    expect(others(defers(three(), '2', '3'))).toEqual([true, false, false]);
    expect(others(defers(three(), '2').tries('3', 'turn-out', 'out'))).toEqual([true, false, false]);
  });

  it('says so no more once somebody came back to one, by a call or by a move, or the word was struck', () => {
    const waiting = () => defers(three(), '2', '3');
    expect(waiting().call('3').of('1').othersWait).toBe(false);
    expect(waiting().begins('3', 'turn-out').of('1').othersWait).toBe(false);
    const log = waiting();
    expect(log.strikes(log.n).of('1').othersWait).toBe(false);
    expect(defers(waiting().call('3'), '3').of('1').othersWait).toBe(true);
  });

  it('says nothing of a screw that is alone, nor by the first ladder', () => {
    expect(atTable().of('1').othersWait).toBe(false);
    expect(atTable({ content: first }).of('1').othersWait).toBeUndefined();
  });
});
