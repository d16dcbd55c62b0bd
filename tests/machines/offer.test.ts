/** Which moves are open, in which order, and with which reasons for the closed ones. */
import { describe, expect, it } from 'vitest';
import { moveIds, type MoveId, type WorkingStage } from '../ids.ts';
import { atTheTable, closed, Log, offered } from './build.ts';

const stages: Record<WorkingStage, MoveId[]> = {
  seated: ['turn-out'],
  'recess-stripped': [
    'reseat-driver',
    'pack-recess',
    'drive-oversize',
    'grip-head',
    'conical-extractor',
    'reverse-tap',
    'free-plate',
    'slot-head',
    'drill-head-off',
  ],
  'head-sheared': ['grip-shank', 'gouge-and-grip', 'hollow-ream', 'extraction-sleeve', 'burr-out'],
  'fragment-retained': ['far-side', 'push-through', 'hollow-ream', 'extraction-sleeve', 'burr-out'],
};
const jammed: MoveId[] = ['grip-head', 'conical-extractor', 'free-plate', 'drill-head-off'];

describe('the moves of a stage', () => {
  it.each(Object.entries(stages))(
    '%s: each is offered or withdrawn, leaving in with them, no other named',
    (stage, moves) => {
      const screw = atTheTable(stage === 'seated' ? {} : { stage: stage as WorkingStage }).of('1');
      expect([...offered(screw), ...Object.keys(closed(screw))].sort()).toEqual([...moves, 'leave-in'].sort());
      const order = (ids: MoveId[]) => ids.map((id) => moveIds.indexOf(id));
      expect(order(offered(screw))).toEqual([...order(offered(screw))].sort((a, b) => a - b));
    },
  );

  it.each(['no-change', 'tool-broke', 'tool-jammed'] as const)(
    'opens four more for a seated screw whose turn-out ended %s',
    (outcome) => {
      const screw = atTheTable({ locking: true }).tries('1', 'turn-out', outcome).of('1');
      expect([...offered(screw), ...Object.keys(closed(screw))].sort()).toEqual(
        ['turn-out', ...jammed, 'leave-in'].sort(),
      );
    },
  );

  it('does not open them after a gain, nor after another move', () => {
    const log = atTheTable().tries('1', 'turn-out', 'moving').tries('1', 'grip-head', 'no-change');
    expect(offered(log.of('1'))).toEqual(['turn-out', 'leave-in']);
  });

  it('are those of the sheared head once the head is off, also of a screw that had jammed in its seat', () => {
    const log = atTheTable().tries('1', 'turn-out', 'no-change').tries('1', 'drill-head-off', 'head-sheared');
    const screw = log.of('1');
    expect([...offered(screw), ...Object.keys(closed(screw))].sort()).toEqual(
      [...stages['head-sheared'], 'leave-in'].sort(),
    );
  });

  it('are none once the screw is out or left in', () => {
    for (const log of [atTheTable().tries('1', 'turn-out', 'out'), atTheTable().leaves('1')])
      expect(log.of('1')).toMatchObject({ offered: [], withdrawn: [] });
  });

  it('are given in every phase, and as if the running move had not started', () => {
    const log = atTheTable();
    const before = log.of('1');
    expect(
      new Log()
        .opened()
        .screw('1')
        .room('driver-hexagonal')
        .of('1')
        .offered.map(({ move }) => move),
    ).toEqual(['turn-out', 'leave-in']);
    const running = log.begins('1', 'turn-out').of('1');
    expect(running).toMatchObject({ move: 'turn-out', offered: before.offered, withdrawn: before.withdrawn });
    log.write({ type: 'work-ended' }).write({ type: 'case-closed' });
    expect(log.of('1')).toMatchObject({ offered: before.offered, withdrawn: before.withdrawn });
  });
});

const stripped = (facts: object = {}, opened: object = {}) =>
  atTheTable({ stage: 'recess-stripped', ...facts }, opened);

describe('closed with a reason, the first that applies', () => {
  it('does-not-fit: freeing the plate without a plate', () => {
    for (const construct of ['nail', 'screws'] as const)
      expect(closed(stripped({ locking: true }, { construct }).of('1'))['free-plate']).toBe('does-not-fit');
    expect(offered(stripped({ locking: true }).of('1'))).toContain('free-plate');
    expect(closed(stripped({ locking: true }).write({ type: 'plate-off' }).of('1'))['free-plate']).toBe('does-not-fit');
  });

  it('does-not-fit: freeing the plate for a plain screw that is not the last one in', () => {
    const log = stripped().screw('2');
    expect(closed(log.of('1'))['free-plate']).toBe('does-not-fit');
    expect(offered(log.tries('2', 'turn-out', 'out').of('1'))).toContain('free-plate');
  });

  it('locked-flush: gripping a locking head that was not found proud', () => {
    expect(closed(stripped({ locking: true }).of('1'))['grip-head']).toBe('locked-flush');
    expect(closed(stripped({ locking: true }).finds('1', { headProud: false }).of('1'))['grip-head']).toBe(
      'locked-flush',
    );
    expect(offered(stripped({ locking: true }).finds('1', { headProud: true }).of('1'))).toContain('grip-head');
  });

  it('not-proud: a plain head found flush, a shank, a tip, a corridor that nobody found', () => {
    expect(offered(stripped().of('1'))).toContain('grip-head');
    expect(closed(stripped().finds('1', { headProud: false }).of('1'))['grip-head']).toBe('not-proud');
    const shank = atTheTable({ stage: 'head-sheared' });
    expect(closed(shank.of('1'))['grip-shank']).toBe('not-proud');
    expect(offered(shank.finds('1', { shankProud: true }).of('1'))).toContain('grip-shank');
    expect(offered(atTheTable({ stage: 'head-sheared' }).write({ type: 'plate-off' }).of('1'))).toContain('grip-shank');
    const deep = atTheTable({ stage: 'fragment-retained' });
    expect(closed(deep.of('1'))).toMatchObject({ 'far-side': 'not-proud', 'push-through': 'not-proud' });
    expect(offered(deep.finds('1', { tipProud: true }).of('1'))).toContain('far-side');
    expect(closed(deep.of('1'))['push-through']).toBe('not-proud');
    expect(offered(deep.finds('1', { corridor: true }).of('1'))).toEqual(
      expect.arrayContaining(['far-side', 'push-through']),
    );
    expect(closed(deep.finds('1', { tipProud: false }).of('1'))['far-side']).toBe('not-proud');
  });

  it('a shank stands proud for a screw that is listed after the plate came off', () => {
    const log = atTheTable().write({ type: 'plate-off' }).screw('2', { stage: 'head-sheared' });
    expect(offered(log.of('2'))).toContain('grip-shank');
  });

  it('does not go by the estimate of where the fragment lies', () => {
    const log = atTheTable({ stage: 'fragment-retained' }).finds('1', { nearSurface: 0, fragmentLength: 30 });
    expect(closed(log.of('1'))['far-side']).toBe('not-proud');
  });

  it('used-up: a move after no change or a slip, in its stage alone [Z10]', () => {
    for (const outcome of ['no-change', 'slipped'] as const) {
      const log = stripped().tries('1', 'grip-head', outcome).looksAgain('1');
      expect(closed(log.of('1'))['grip-head']).toBe('used-up');
    }
    for (const outcome of ['moving', 'set-up-done', 'tool-broke'] as const)
      expect(offered(stripped().tries('1', 'grip-head', outcome).of('1'))).toContain('grip-head');
    const lower = atTheTable({ stage: 'head-sheared' }).tries('1', 'burr-out', 'no-change');
    expect(closed(lower.of('1'))['burr-out']).toBe('used-up');
    lower.begins('1', 'gouge-and-grip').ends('1', 'shank-broke', { reachable: false });
    expect(offered(lower.of('1'))).toContain('burr-out');
  });

  it('used-up: reseating the driver after any end but moving [Z10]', () => {
    const once = () => stripped().looksAgain('1');
    expect(offered(once().of('1'))).toContain('reseat-driver');
    for (const outcome of ['no-change', 'slipped', 'tool-broke', 'set-up-done'] as const) {
      const log = once().tries('1', 'reseat-driver', outcome).looksAgain('1');
      expect(closed(log.of('1'))['reseat-driver']).toBe('used-up');
    }
    expect(offered(once().tries('1', 'reseat-driver', 'moving').of('1'))).toContain('reseat-driver');
  });

  it('used-up: turning out after no change opens once more after a voluntary reassessment, and once only', () => {
    const log = atTheTable().tries('1', 'turn-out', 'no-change');
    expect(closed(log.of('1'))['turn-out']).toBe('used-up');
    expect(offered(log.looksAgain('1').of('1'))).toContain('turn-out');
    log.tries('1', 'turn-out', 'no-change').looksAgain('1');
    expect(closed(log.of('1'))['turn-out']).toBe('used-up');
    expect(log.view.outOfOrder).toEqual([]);
  });

  it('used-up: a reassessment that a slip had asked for does not open turning out again', () => {
    const log = atTheTable().tries('1', 'turn-out', 'no-change').tries('1', 'grip-head', 'slipped').looksAgain('1');
    expect(log.of('1').stage).toBe('seated');
    expect(closed(log.of('1'))['turn-out']).toBe('used-up');
    expect(offered(log.looksAgain('1').of('1'))).toContain('turn-out');
  });

  it('a move that is closed otherwise gives the first reason', () => {
    const log = new Log().opened().screw('1', { stage: 'recess-stripped', locking: true }).screw('2').start();
    expect(closed(log.of('1'))).toMatchObject({
      'grip-head': 'locked-flush',
      'free-plate': 'tool-missing',
      'slot-head': 'tool-missing',
    });
    log.tries('1', 'grip-head', 'no-change').tries('1', 'slot-head', 'no-change');
    expect(closed(log.of('1'))).toMatchObject({ 'grip-head': 'locked-flush', 'slot-head': 'used-up' });
    const deep = new Log()
      .opened()
      .screw('1', { stage: 'fragment-retained' })
      .start()
      .tries('1', 'extraction-sleeve', 'no-change');
    expect(closed(deep.of('1'))).toMatchObject({ 'extraction-sleeve': 'needs-reaming', 'far-side': 'not-proud' });
    const twice = new Log().opened().screw('1').start().tries('1', 'turn-out', 'slipped').looksAgain('1');
    twice.tries('1', 'reseat-driver', 'slipped').looksAgain('1');
    expect(twice.of('1').withdrawn).toContainEqual({ move: 'reseat-driver', why: 'slipped', missing: [] });
    expect(closed(twice.room('driver-hexagonal', 'metal-foil').of('1'))['reseat-driver']).toBe('slipped');
    expect(offered(twice.of('1'))).toContain('pack-recess');
  });

  it('a jammed tool closes what needs the recess until a later move ends otherwise', () => {
    const log = stripped().looksAgain('1').tries('1', 'conical-extractor', 'tool-jammed');
    const needing: MoveId[] = ['reseat-driver', 'pack-recess', 'drive-oversize', 'conical-extractor', 'reverse-tap'];
    expect(offered(log.of('1'))).toEqual(['grip-head', 'free-plate', 'slot-head', 'drill-head-off', 'leave-in']);
    expect(closed(log.of('1'))).toEqual(Object.fromEntries(needing.map((move) => [move, 'does-not-fit'])));
    log.tries('1', 'grip-head', 'tool-jammed');
    expect(offered(log.of('1'))).not.toContain('pack-recess');
    log.tries('1', 'grip-head', 'moving');
    expect(offered(log.of('1'))).toEqual(expect.arrayContaining(['pack-recess', 'conical-extractor', 'reverse-tap']));
  });
});
