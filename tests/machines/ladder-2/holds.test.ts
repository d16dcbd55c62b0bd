/** Holds and notices of the second ladder. */
import { describe, expect, it } from 'vitest';
import type { ToolId } from '../../../content/ids.ts';
import { offer } from '../build.ts';
import type { Log } from '../build.ts';
import { atTable, both, first, second } from './build.ts';

const holdsBefore = (log: Log, move: Parameters<typeof offer>[1], screw = '1') => offer(log.of(screw), move)?.holds;
const passedOver = (log: Log) => log.view.unanswered.map(({ hold }) => hold);
const deep = { stage: 'fragment-retained', underPlate: false } as const;
const proud = { tipProud: true, corridor: true } as const;

describe('looking again', () => {
  it('is asked at the first slip with each kind of tool, and at no later one', () => {
    const log = atTable({ facts: { underPlate: false } }).tries('1', 'turn-out', 'slipped');
    expect(log.of('1').holds).toEqual(['reassess']);
    log.looksAgain('1').tries('1', 'reseat-driver', 'slipped');
    expect(log.of('1').holds).not.toContain('reassess');
    log.begins('1', 'grip-head', { tool: 'head-gripper' }).ends('1', 'slipped');
    expect(log.of('1').holds).toContain('reassess');
    log.looksAgain('1').begins('1', 'grip-head', { tool: 'locking-pliers' }).ends('1', 'slipped');
    expect(log.of('1').holds).not.toContain('reassess');
  });

  it('was asked at every slip by the first ladder', () => {
    const { before, now } = both({ facts: { stage: 'recess-stripped' } }, (log) =>
      log.looksAgain('1').tries('1', 'reseat-driver', 'slipped').looksAgain('1').tries('1', 'pack-recess', 'slipped'),
    );
    expect(before.of('1').holds).toContain('reassess');
    expect(now.of('1').holds).not.toContain('reassess');
  });
});

describe('a second surgeon', () => {
  const stuck = (log: Log, ...moves: ('pack-recess' | 'grip-head' | 'conical-extractor' | 'drive-oversize')[]) =>
    moves.reduce((all, move) => all.tries('1', move, 'no-change'), log);
  const stripped = () => atTable({ facts: { stage: 'recess-stripped' } });
  const asked = (log: Log) => log.of('1').holds.includes('second-surgeon');

  it('[Z35] is asked for after two moves without gain, and once more when two further ones brought nothing', () => {
    const log = stuck(stripped(), 'pack-recess');
    expect(asked(log)).toBe(false);
    expect(asked(stuck(log, 'grip-head'))).toBe(true);
    log.answers('second-surgeon', { screw: '1' });
    expect(asked(log)).toBe(false);
    expect(asked(stuck(log, 'conical-extractor'))).toBe(false);
    expect(asked(stuck(log, 'drive-oversize'))).toBe(true);
    log.answers('second-surgeon', { screw: '1' });
    expect(asked(stuck(log, 'grip-head', 'pack-recess'))).toBe(false);
  });

  it('is asked for no more on any screw once a colleague was called', () => {
    const log = stripped().write({ type: 'colleague-called' }).screw('2', { stage: 'recess-stripped' });
    expect(asked(stuck(log, 'pack-recess', 'grip-head', 'conical-extractor'))).toBe(false);
    log.tries('2', 'pack-recess', 'no-change').tries('2', 'grip-head', 'no-change');
    expect(log.of('2').holds).not.toContain('second-surgeon');
  });

  it('is asked for no more where none is to be had', () => {
    const log = stuck(stripped(), 'pack-recess', 'grip-head').answers('second-surgeon', {
      ...({ screw: '1', answer: 'not-available' } as const),
    });
    expect(asked(stuck(log, 'conical-extractor', 'drive-oversize', 'grip-head'))).toBe(false);
  });

  it('is asked for when a tool breaks', () => {
    expect(asked(stripped().tries('1', 'conical-extractor', 'tool-broke'))).toBe(true);
  });
});

describe('the tip of a tool that broke', () => {
  const broke = () => atTable({ facts: { stage: 'recess-stripped' } }).tries('1', 'reverse-tap', 'tool-broke');

  it('[Z37] is to be found at once; put off, the question is answered and the tip is not', () => {
    const log = broke();
    expect(log.view.holds).toEqual(['find-tip']);
    log.answers('find-tip', { answer: 'later', tool: 'reverse-tap' });
    expect(log.view.holds).toEqual([]);
    expect(log.view.toolTips).toMatchObject([{ closes: 'open' }]);
  });

  it('is asked for by its own number when two broke', () => {
    const log = broke();
    const tip = log.n;
    log.tries('1', 'conical-extractor', 'tool-broke');
    log.answers('find-tip', { answer: 'not-found', tip });
    expect(log.view.holds).toEqual(['find-tip']);
    log.answers('find-tip', { answer: 'not-found' });
    expect(log.view.holds).toEqual([]);
  });

  it('counts as a piece that came out when it was found', () => {
    const found = { answer: 'found', length: 6, lengthHow: 'measured' } as const;
    const log = broke().answers('find-tip', { ...found, tool: 'reverse-tap' });
    expect(log.view.toolTips).toMatchObject([{ tool: 'reverse-tap', recovered: 6 }]);
  });

  it('is asked for no more once a piece of it was handed over', () => {
    const log = broke();
    log.write({ type: 'piece-recovered', tool: 'reverse-tap', tip: log.n, complete: true });
    expect(log.view.holds).toEqual([]);
  });

  it('stands as passed over once, however many moves follow', () => {
    const log = broke().write({ type: 'colleague-called' });
    log.tries('1', 'conical-extractor', 'no-change').tries('1', 'grip-head', 'no-change');
    expect(passedOver(log).filter((hold) => hold === 'find-tip')).toHaveLength(1);
  });
});

describe('a part that may still be fixed', () => {
  const lift = { type: 'part-move', part: 'plate', move: 'lift' } as const;
  const eight = () => atTable().screw('2').tries('1', 'turn-out', 'out', { recovered: 36 });

  it('stops the lift while a screw with its head is in; a word lets it go on', () => {
    const log = eight().write(lift);
    expect(log.view.holds).toEqual(['still-fixed']);
    log.answers('still-fixed');
    expect(log.view.holds).toEqual([]);
    log.write({ type: 'plate-off' });
    expect(passedOver(log)).toEqual([]);
  });

  it('stands where the plate is simply told to be off', () => {
    expect(passedOver(eight().write({ type: 'plate-off' }))).toEqual(['still-fixed']);
    expect(
      passedOver(eight().write({ type: 'part-move', part: 'plate', move: 'lever-plate', outcome: 'out' })),
    ).toEqual(['still-fixed']);
  });

  it('lets the plate go when all are out and the numbers agree, and not when they differ', () => {
    const out = () => eight().tries('2', 'turn-out', 'out', { recovered: 36 }).write(lift);
    expect(out().view.holds).toEqual([]);
    const count = (seen: number, gone: number) =>
      out().answers('still-fixed', { answer: 'confirmed', seen, out: gone }).view.holds;
    expect(count(2, 2)).toEqual([]);
    expect(count(3, 2)).toEqual(['still-fixed']);
  });

  it('is left as it is when the surgeon says stop', () => {
    expect(eight().write(lift).answers('still-fixed', { answer: 'stop' }).view.holds).toEqual([]);
  });

  it('is not asked of a screw that has no head any more, nor of one that lies beside the plate', () => {
    const headless = atTable({ facts: { stage: 'head-sheared' } }).write(lift);
    expect(headless.view.holds).toEqual([]);
    expect(atTable({ facts: { underPlate: false } }).write(lift).view.holds).toEqual([]);
  });
});

describe('the far wall', () => {
  it('[Z38] is asked about before a tool goes through it, once for the same finding and tool', () => {
    const log = atTable({ facts: deep }).finds('1', proud);
    expect(holdsBefore(log, 'push-through')).toEqual(['far-wall']);
    log.answers('far-wall', { screw: '1', answer: 'confirmed', checks: { corridor: 'yes' } });
    expect(holdsBefore(log, 'push-through')).toEqual([]);
    log.tries('1', 'push-through', 'moving');
    expect(passedOver(log)).toEqual([]);
    expect(holdsBefore(log, 'push-through')).toEqual([]);
    log.finds('1', { fragmentLength: 9 });
    expect(holdsBefore(log, 'push-through')).toEqual(['far-wall']);
  });

  it('is asked about anew once another tool that goes with the screw is here, and not for one that does not', () => {
    const tools: readonly ToolId[] = ['hollow-reamer', 'reversing-drive'];
    const log = atTable({ facts: deep, tools });
    log.answers('far-wall', { screw: '1', answer: 'confirmed' }).answers('reverse', { screw: '1' });
    log
      .begins('1', 'hollow-ream', { tool: 'hollow-reamer', reverseConfirmed: true })
      .ends('1', 'no-change', { bores: [] });
    expect(log.view.unanswered).toEqual([]);
    // 0.1 mm of play round the thread: it does not go over the screw.
    log.tool('hollow-reamer', { inner: 4.6 });
    log.begins('1', 'hollow-ream', { reverseConfirmed: true }).ends('1', 'no-change', { bores: [] });
    expect(passedOver(log)).not.toContain('far-wall');
    log.tool('hollow-reamer', { inner: 5 });
    expect(holdsBefore(log, 'hollow-ream')).toContain('far-wall');
  });

  it('is asked about again where the team went another way, and stands as passed over when the move is made all the same', () => {
    const log = atTable({ facts: deep }).finds('1', proud);
    log.answers('far-wall', { screw: '1', answer: 'heeded' });
    expect(holdsBefore(log, 'push-through')).toEqual(['far-wall']);
    log.answers('far-wall', { screw: '1', answer: 'stop' });
    expect(holdsBefore(log, 'push-through')).toEqual(['far-wall']);
    log.begins('1', 'push-through');
    expect(passedOver(log)).toEqual(['far-wall']);
  });

  it('is asked about before reaming a deep piece that may pass it, and not one in one cortex', () => {
    expect(holdsBefore(atTable({ facts: deep }), 'hollow-ream')).toContain('far-wall');
    expect(holdsBefore(atTable({ facts: { ...deep, cortices: null } }), 'hollow-ream')).toContain('far-wall');
    expect(holdsBefore(atTable({ facts: { ...deep, cortices: 1 } }), 'hollow-ream')).not.toContain('far-wall');
  });

  it('stands open where nobody was asked, by a move made although it was closed, too', () => {
    const log = atTable({ facts: deep }).finds('1', { corridor: false });
    expect(offer(log.of('1'), 'push-through')).toBeUndefined();
    log.begins('1', 'push-through');
    expect(log.view.unoffered).toEqual([log.n]);
    expect(passedOver(log)).toEqual(['far-wall']);
  });
});

describe('stop and think', () => {
  const happens = (kind: 'bone-broke' | 'not-healed' | 'infection-found' | 'bleeding') =>
    atTable({ facts: { stage: 'recess-stripped' } }).write({ type: 'event', kind });

  it('[Z36] is asked when the bone broke, has not healed or is infected, and not at any bleeding', () => {
    expect(happens('bone-broke').view.holds).toEqual(['stop-and-think']);
    expect(happens('not-healed').view.holds).toEqual(['stop-and-think']);
    expect(happens('infection-found').view.holds).toEqual(['stop-and-think']);
    expect(happens('bleeding').view.holds).toEqual([]);
  });

  it('is asked anew by each event, and noted as passed over once an opening', () => {
    const log = happens('not-healed').tries('1', 'pack-recess', 'no-change').tries('1', 'grip-head', 'moving');
    expect(passedOver(log)).toEqual(['stop-and-think']);
    log.answers('stop-and-think').write({ type: 'event', kind: 'infection-found' });
    expect(log.view.holds).toEqual(['stop-and-think']);
    log.begins('1', 'conical-extractor');
    expect(passedOver(log)).toEqual(['stop-and-think', 'stop-and-think']);
  });

  it('is asked when the side is changed at the table, and not before', () => {
    const turned = { type: 'case-corrected', side: 'right', reason: 'wrong in the tablet' } as const;
    expect(atTable().write(turned).view.holds).toEqual(['stop-and-think']);
    expect(atTable().write({ ...turned, side: 'left' }).view.holds).toEqual([]);
    const before = both({}, (log) => log).before.write(turned);
    expect(before.view.holds).toEqual([]);
  });
});

describe('the bone', () => {
  const stump = { stage: 'head-sheared', underPlate: false } as const;
  const at = (more: Parameters<typeof atTable>[0] = {}) => atTable({ facts: stump, ...more });
  const gouge = (log: Log) => holdsBefore(log, 'gouge-and-grip');

  it('[Z35] is asked about by its limits where a shaft was measured', () => {
    expect(gouge(at().bone(14, 3))).toEqual(['bone-stop']);
    expect(gouge(at().bone(60, 6))).toEqual([]);
  });

  it('is never stopped by a figure that nobody measured: it is to be measured, once a case', () => {
    const log = at().bone(14, 3, { source: 'assumed' });
    expect(gouge(log)).toEqual(['bone-unmeasured']);
    log.answers('bone-unmeasured', { answer: 'heeded' });
    expect(gouge(log.tries('1', 'grip-shank', 'no-change'))).toEqual(['bone-unmeasured']);
    log.answers('bone-unmeasured', { answer: 'go-on' });
    expect(gouge(log)).toEqual([]);
  });

  it('[Z33] is a matter of its own with every bore where it was said to be fragile, or a child’s', () => {
    expect(gouge(at({ opened: { fragile: true } }).bone(60, 6))).toEqual(['bone-consider']);
    expect(gouge(at({ opened: { patient: 'child' } }).bone(60, 6))).toEqual(['bone-consider']);
    expect(gouge(at({ opened: { fragile: false, patient: 'adult' } }).bone(60, 6))).toEqual([]);
    const unmeasured = at({ opened: { fragile: true } }).bone(60, 6, { source: 'assumed' });
    expect(gouge(unmeasured)).toEqual(['bone-consider', 'bone-unmeasured']);
    expect(holdsBefore(at({ opened: { fragile: true } }), 'grip-shank')).toEqual([]);
  });

  it('of a humerus is thin by the published cut-off, 0.137 of its diameter, where it was measured', () => {
    const humerus = (cortex: number, source: 'measured' | 'assumed' = 'measured') =>
      gouge(at({ opened: { bone: 'Humerus' } }).bone(60, cortex, { source }));
    expect(humerus(60 * 0.136)).toEqual(['bone-consider']);
    expect(humerus(60 * 0.138)).toEqual([]);
    expect(humerus(60 * 0.136, 'assumed')).toEqual(['bone-unmeasured']);
    expect(gouge(at().bone(60, 60 * 0.13))).toEqual([]);
  });

  it('counts as fragile once somebody says that it is thin', () => {
    const log = at()
      .bone(60, 8)
      .answers('bone-consider', { screw: '1', checks: { thinBone: 'yes' } });
    expect(gouge(log.begins('1', 'grip-shank').ends('1', 'no-change'))).toEqual(['bone-consider']);
    const no = at()
      .bone(60, 8)
      .answers('bone-consider', { screw: '1', checks: { thinBone: 'not-known' } });
    expect(gouge(no.begins('1', 'grip-shank').ends('1', 'no-change'))).toEqual([]);
  });

  it('[Z33] is not modelled near a joint, in the neck, round a lag screw, or once it broke: no figure, no limit', () => {
    const figures = (log: Log) => offer(log.of('1'), 'gouge-and-grip');
    for (const place of ['near-joint', 'neck'] as const)
      expect(figures(at().bone(14, 3, { place }))).toMatchObject({ holds: [], cortexLost: null });
    for (const place of ['shaft', 'not-known'] as const)
      expect(figures(at().bone(14, 3, { place }))).toMatchObject({ holds: ['bone-stop'] });
    expect(figures(at().bone(14, 3).write({ type: 'event', kind: 'bone-broke' }))).toMatchObject({
      ...{ holds: [], cortexLost: null, bendingKept: null },
    });
    const lag = at({ facts: { ...stump, thread: 'partly', diameter: 13, drive: 'unknown' } });
    expect(figures(lag)).toMatchObject({ holds: [], cortexLost: null });
  });
});

describe('the tourniquet without a limit', () => {
  const up = (minutes: number) =>
    atTable().write({ type: 'tourniquet', to: 'up' }).after(minutes).remarks('still up').view;

  it('stops nobody: it is said from an hour on', () => {
    expect(up(59)).toMatchObject({ holds: [], notices: [], limits: { tourniquet: null } });
    expect(up(60)).toMatchObject({ holds: [], notices: ['tourniquet'] });
    expect(up(200)).toMatchObject({ holds: [], notices: ['tourniquet'] });
  });

  it('stops by the limit that was set for the case', () => {
    const log = atTable().write({ type: 'limits-set', tourniquetMinutes: 90 }).write({ type: 'tourniquet', to: 'up' });
    expect(log.fork().after(74).remarks().view).toMatchObject({ holds: [], notices: [] });
    expect(log.fork().after(76).remarks().view).toMatchObject({ holds: [], notices: ['tourniquet'] });
    expect(log.fork().after(91).remarks().view).toMatchObject({ holds: ['tourniquet'], notices: [] });
  });
});

describe('what is said without stopping', () => {
  it('is to look at the first turn with each size of driver', () => {
    const log = atTable({ facts: { driveSize: 2.5 } })
      .screw('2', { driveSize: 2.5 })
      .screw('3', { driveSize: 3.5 });
    expect(log.of('1').notices).toEqual(['first-turn']);
    log.tries('1', 'turn-out', 'out', { recovered: 36 });
    expect(log.of('2').notices).toEqual([]);
    expect(log.of('3').notices).toEqual(['first-turn']);
    expect(log.write({ type: 'checked', what: 'first-turn', size: 3.5 }).of('3').notices).toEqual([]);
  });

  it('is eyes and swabs at the first cut of the case', () => {
    const log = atTable({ facts: { stage: 'recess-stripped' } }).begins('1', 'drill-head-off');
    expect(log.view.notices).toEqual(['eyes-and-swabs']);
    log.ends('1', 'no-change').begins('1', 'slot-head');
    expect(log.view.notices).toEqual([]);
  });

  it('is that a deep piece may stay, until reaming has failed or the bone would not bear it', () => {
    expect(atTable({ facts: deep }).of('1').notices).toContain('consider-trephine');
    expect(atTable({ facts: deep }).bone(12, 2.5).of('1').notices).not.toContain('consider-trephine');
    const reamed = atTable({ facts: deep }).tries('1', 'hollow-ream', 'no-change');
    expect(reamed.of('1').notices).not.toContain('consider-trephine');
  });
});

describe('several at once', () => {
  it('stand in the order of the content, each once', () => {
    const log = atTable({ facts: { stage: 'recess-stripped' } }).screw('2');
    log.write({ type: 'limits-set', theatreMinutes: 1, tourniquetMinutes: 1 }).write({ type: 'tourniquet', to: 'up' });
    log.tries('1', 'reverse-tap', 'tool-broke').write({ type: 'part-move', part: 'plate', move: 'lift' });
    log.write({ type: 'event', kind: 'not-healed' }).after(5).remarks();
    expect(log.view.holds).toEqual(['stop-and-think', 'find-tip', 'still-fixed', 'tourniquet', 'time']);
    const order = second.ids.holds.filter((hold) => log.view.holds.includes(hold));
    expect(log.view.holds).toEqual(order);
  });

  it('were no more than ten by the first ladder, which asks none of the new ones', () => {
    const added = second.ids.holds.filter((hold) => !(first.ids.holds as readonly string[]).includes(hold));
    expect(added).toEqual(['stop-and-think', 'find-tip', 'still-fixed', 'far-wall', 'bone-unmeasured']);
    const tools: readonly ToolId[] = first.ids.tools;
    const { before } = both({ facts: { stage: 'recess-stripped' }, tools }, (log) =>
      log.tries('1', 'reverse-tap', 'tool-broke').write({ type: 'event', kind: 'bone-broke' }),
    );
    expect(before.view.holds).toEqual([]);
  });
});
