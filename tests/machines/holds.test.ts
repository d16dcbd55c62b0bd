/** The holds and notices of a screw: when each stands, when it closes, and what is listed as unanswered. */
import { describe, expect, it } from 'vitest';
import type { MoveId } from '../../content/ids.ts';
import { boneLossThresholdReached, considerAbandoning } from '../../machines/guards.ts';
import { atTheTable, closed, Log, offer, offered, type Log as Built } from './build.ts';

const unanswered = (log: Built) => log.view.unanswered;
const plainDriverMoves: MoveId[] = ['turn-out', 'reseat-driver'];

describe('H1 reassess', () => {
  const slipped = () => atTheTable().tries('1', 'turn-out', 'slipped');

  it('stands after any slip and leaves nothing open but leaving in [Z10]', () => {
    const screw = slipped().of('1');
    expect(screw.holds).toEqual(['reassess']);
    expect(offered(screw)).toEqual(['leave-in']);
    expect(closed(screw)['pack-recess']).toBe('hold-open');
  });

  it('halves the chance left with each slip in the recess, and with no other', () => {
    const log = slipped();
    expect(log.of('1')).toMatchObject({ slips: 1, chanceLeft: 0.5 });
    log.looksAgain('1').tries('1', 'grip-head', 'slipped');
    expect(log.of('1')).toMatchObject({ slips: 1, chanceLeft: 0.5, holds: ['reassess', 'second-surgeon'] });
    log.looksAgain('1').tries('1', 'drive-oversize', 'slipped');
    expect(log.of('1')).toMatchObject({ slips: 2, chanceLeft: 0.25 });
    expect(atTheTable().of('1').chanceLeft).toBe(1);
    expect(atTheTable({ stage: 'recess-stripped' }).of('1').chanceLeft).toBeNull();
  });

  it.each([{}, { recessCleared: false, inLine: false }, { freshDriver: true }])(
    'closes on a reassessment whatever it found: %j',
    (checks) => {
      const screw = slipped().looksAgain('1', checks).of('1');
      expect(screw.holds).toEqual([]);
      expect(offered(screw)).toContain('reseat-driver');
    },
  );

  it('closes on an answer too, and then reseating the driver does not open', () => {
    const screw = slipped().answers('reassess', { screw: '1' }).of('1');
    expect(screw.holds).toEqual([]);
    expect(offered(screw)).toContain('pack-recess');
    expect(offered(screw)).not.toContain('reseat-driver');
  });

  it('asks anew after the next slip, also where an earlier reassessment stands', () => {
    const log = atTheTable({ stage: 'recess-stripped' }).looksAgain('1').tries('1', 'grip-head', 'slipped');
    expect(log.of('1').holds).toEqual(['reassess']);
    expect(offered(log.answers('reassess', { screw: '1' }).of('1'))).not.toContain('reseat-driver');
  });

  it('offers no driver move after the second slip [Z10]', () => {
    const log = slipped()
      .looksAgain('1')
      .tries('1', 'reseat-driver', 'slipped')
      .looksAgain('1')
      .answers('second-surgeon', { screw: '1' });
    const screw = log.of('1');
    expect(screw).toMatchObject({ slips: 2, chanceLeft: 0.25, stage: 'recess-stripped' });
    expect(offered(screw).filter((move) => plainDriverMoves.includes(move))).toEqual([]);
    expect(closed(screw)).toMatchObject({ 'reseat-driver': 'slipped' });
    expect(closed(screw)['turn-out']).toBeUndefined();
    expect(offered(log.looksAgain('1').of('1'))).not.toContain('reseat-driver');
  });

  it('is unanswered by a move made while it stands, and still stands then', () => {
    const log = slipped().begins('1', 'pack-recess');
    expect(unanswered(log)).toEqual([{ hold: 'reassess', entry: log.n }]);
    expect(log.view.unoffered).toEqual([log.n]);
    expect(log.view.outOfOrder).toEqual([]);
    expect(log.of('1').holds).toEqual(['reassess']);
  });

  it('stands on the one screw alone', () => {
    const log = atTheTable().screw('2').tries('1', 'turn-out', 'slipped').begins('2', 'turn-out');
    expect(log.of('2').holds).toEqual([]);
    expect(unanswered(log)).toEqual([]);
  });
});

describe('H2 second-surgeon', () => {
  const twice = () => atTheTable().tries('1', 'turn-out', 'no-change').tries('1', 'grip-head', 'no-change');

  it('stands at the second end without gain, also with a gain between, and not at the first [Z10]', () => {
    expect(atTheTable().tries('1', 'turn-out', 'no-change').of('1').holds).toEqual([]);
    expect(twice().of('1').holds).toEqual(['second-surgeon']);
    const between = atTheTable()
      .tries('1', 'turn-out', 'no-change')
      .tries('1', 'turn-out', 'moving')
      .tries('1', 'grip-head', 'no-change');
    expect(between.of('1').holds).toEqual(['second-surgeon']);
  });

  it('stands at once when a tool broke', () => {
    expect(atTheTable().tries('1', 'turn-out', 'tool-broke').of('1').holds).toEqual(['second-surgeon']);
  });

  it('counts a move that the next one ended as no change', () => {
    const log = atTheTable().begins('1', 'turn-out').begins('1', 'grip-head').begins('1', 'free-plate');
    expect(log.of('1').holds).toEqual(['second-surgeon']);
  });

  it.each(['go-on', 'called', 'not-available'] as const)('closes on the answer %s and counts from there', (answer) => {
    const log = twice().answers('second-surgeon', { screw: '1', answer });
    expect(log.of('1').holds).toEqual([]);
    expect(log.tries('1', 'free-plate', 'no-change').of('1').holds).toEqual([]);
    expect(log.tries('1', 'drill-head-off', 'no-change').of('1').holds).toEqual(['second-surgeon']);
  });

  it('closes on all screws when a colleague is called', () => {
    const log = twice().screw('2').tries('2', 'turn-out', 'tool-broke');
    expect([log.of('1').holds, log.of('2').holds]).toEqual([['second-surgeon'], ['second-surgeon']]);
    log.write({ type: 'colleague-called' });
    expect([log.of('1').holds, log.of('2').holds]).toEqual([[], []]);
  });

  it('leaves the offer as it is, and is unanswered by a move made meanwhile', () => {
    const log = twice();
    expect(offered(log.of('1'))).toContain('drill-head-off');
    log.begins('1', 'drill-head-off');
    expect(unanswered(log)).toEqual([{ hold: 'second-surgeon', entry: log.n }]);
    expect(log.view.unoffered).toEqual([]);
    expect(unanswered(log.answers('second-surgeon', { screw: '1' }))).toHaveLength(1);
  });

  it('goes with the screw', () => {
    expect(twice().leaves('1').of('1').holds).toEqual([]);
  });
});

describe('H3 bone-consider and H4 bone-stop', () => {
  // A 4.5 mm screw in 27/5 mm: its hole takes 13 %, a gouge 18 %, a reamer of 9 mm 20 %, burring a deep piece 19 %.
  const sheared = (limits: object = {}) =>
    atTheTable({ stage: 'head-sheared' }).write({ type: 'limits-set', ...limits });
  const holdsOf = (log: Built, move: MoveId) => offer(log.of('1'), move)?.holds;

  it('stands from the limit on, for moves that cost more than the hole there is', () => {
    const cost = offer(sheared().of('1'), 'gouge-and-grip')?.cortexLost as number;
    expect(holdsOf(sheared({ boneConsider: cost }), 'gouge-and-grip')).toEqual(['bone-consider']);
    expect(holdsOf(sheared({ boneConsider: cost + 1e-6 }), 'gouge-and-grip')).toEqual([]);
    expect(holdsOf(sheared({ boneStop: cost }), 'gouge-and-grip')).toEqual(['bone-stop']);
    expect(holdsOf(sheared({ boneStop: cost + 1e-6 }), 'gouge-and-grip')).toEqual([]);
  });

  it('does not stand where what was lost before is not known, nor for a difference of rounding', () => {
    const never = { boneConsider: 0, boneStop: 0 };
    const stands = (before: number | null, after: number | null) =>
      considerAbandoning({ before, after, wholeBone: false }, never) ||
      boneLossThresholdReached({ before, after, wholeBone: false }, never);
    expect(stands(0.1, 0.2)).toBe(true);
    expect(stands(null, 0.2)).toBe(false);
    expect(stands(0.1, null)).toBe(false);
    expect(stands(null, null)).toBe(false);
    expect(stands(0, 1e-9)).toBe(false);
    expect(stands(0, 2e-9)).toBe(true);
  });

  it('never stands for a move that takes no bone, whatever is gone already', () => {
    const log = sheared({ boneConsider: 0.01, boneStop: 0.02 });
    log.tries('1', 'gouge-and-grip', 'moving');
    expect(holdsOf(log, 'grip-shank')).toEqual([]);
    expect(holdsOf(log, 'leave-in')).toEqual([]);
    expect(holdsOf(log, 'gouge-and-grip')).toEqual([]);
  });

  it('does not stand when what was really made already holds the projection, turned aside by rounding or not', () => {
    const log = sheared({ boneConsider: 0.01, boneStop: 0.02 });
    for (const turn of [0, 3, 11, 200])
      log.tries('1', 'gouge-and-grip', 'moving', { bores: [{ wall: 'near', diameter: 12, turn }] });
    expect(holdsOf(log, 'gouge-and-grip')).toEqual([]);
  });

  it('lists bone-stop alone when both apply', () => {
    expect(holdsOf(sheared({ boneConsider: 0.15, boneStop: 0.16 }), 'gouge-and-grip')).toEqual(['bone-stop']);
    expect(holdsOf(sheared({ boneConsider: 0.16, boneStop: 0.16 }), 'gouge-and-grip')).toEqual(['bone-stop']);
  });

  it('starts from 20 and 30 per cent', () => {
    const small = () => atTheTable({ stage: 'head-sheared' }).bone(16, 3);
    const lost = offer(small().of('1'), 'gouge-and-grip')?.cortexLost as number;
    expect(lost).toBeGreaterThan(0.3);
    expect(holdsOf(small(), 'gouge-and-grip')).toEqual(['bone-stop']);
    const middle = () => atTheTable({ stage: 'head-sheared' }).bone(22, 4);
    const less = offer(middle().of('1'), 'gouge-and-grip')?.cortexLost as number;
    expect(less > 0.2 && less < 0.3).toBe(true);
    expect(holdsOf(middle(), 'gouge-and-grip')).toEqual(['bone-consider']);
  });

  it('is answered for the next move on that screw, and for one alone', () => {
    const log = sheared({ boneConsider: 0.15 }).answers('bone-consider', {
      screw: '1',
      reason: 'bone will be protected',
    });
    expect(holdsOf(log, 'gouge-and-grip')).toEqual([]);
    expect(unanswered(log.begins('1', 'gouge-and-grip'))).toEqual([]);
    log.ends('1', 'no-change', { bores: [] });
    expect(holdsOf(log, 'burr-out')).toEqual(['bone-consider']);
    log.begins('1', 'burr-out');
    expect(unanswered(log)).toEqual([{ hold: 'bone-consider', entry: log.n }]);
    log.answers('bone-consider', { screw: '1' });
    expect(unanswered(log)).toHaveLength(1);
  });

  it('keeps the answer in the offer while the move runs, as if it had not started', () => {
    const log = sheared({ boneConsider: 0.15 }).answers('bone-consider', { screw: '1' });
    const before = log.of('1').offered;
    expect(log.begins('1', 'gouge-and-grip').of('1').offered).toEqual(before);
  });

  it('takes the answer to bone-stop for both', () => {
    const log = sheared({ boneConsider: 0.15, boneStop: 0.175 }).answers('bone-stop', { screw: '1' });
    expect(holdsOf(log, 'gouge-and-grip')).toEqual([]);
    expect(holdsOf(log, 'burr-out')).toEqual([]);
    expect(unanswered(log.begins('1', 'burr-out'))).toEqual([]);
  });

  it('does not take the answer to bone-consider for bone-stop, nor the answer on another screw', () => {
    const log = sheared({ boneConsider: 0.1, boneStop: 0.15 }).screw('2').answers('bone-stop', { screw: '2' });
    log.answers('bone-consider', { screw: '1' }).begins('1', 'gouge-and-grip');
    expect(unanswered(log)).toEqual([{ hold: 'bone-stop', entry: log.n }]);
  });

  it('has no figures, rather than nought, and no bone hold where no bone is known [Z21]', () => {
    const log = new Log()
      .opened({ bone: 'sesamoid' })
      .screw('1', { stage: 'head-sheared' })
      .room('gouge', 'head-gripper')
      .start();
    expect(offer(log.of('1'), 'gouge-and-grip')).toMatchObject({
      holds: [],
      cortexLost: null,
      torsionTested: null,
      assumed: [],
    });
  });

  it('puts leaving in first only when every other open move carries bone-stop', () => {
    const all = sheared({ boneConsider: 0.01, boneStop: 0.02 });
    expect(offered(all.of('1'))[0]).toBe('leave-in');
    expect(
      all
        .of('1')
        .offered.slice(1)
        .every(({ holds }) => holds.includes('bone-stop')),
    ).toBe(true);
    expect(offered(all.finds('1', { shankProud: true }).of('1')).at(-1)).toBe('leave-in');
    expect(offered(sheared().of('1')).at(-1)).toBe('leave-in');
  });
});

describe('H5 reverse', () => {
  const reversed: MoveId[] = ['reverse-tap', 'hollow-ream', 'extraction-sleeve'];

  it('stands before the tap, the hollow reamer and the sleeve, and before no other move', () => {
    const screws = (['seated', 'recess-stripped', 'head-sheared', 'fragment-retained'] as const).map((stage) => {
      const log = atTheTable(stage === 'seated' ? {} : { stage });
      if (stage === 'head-sheared')
        log.tries('1', 'hollow-ream', 'no-change').begins('1', 'grip-shank').ends('1', 'moving');
      return log.tries('1', 'turn-out', 'no-change').looksAgain('1').of('1');
    });
    const carrying = screws.flatMap((screw) =>
      screw.offered.filter(({ holds }) => holds.includes('reverse')).map(({ move }) => move),
    );
    expect(new Set(carrying)).toEqual(new Set(reversed));
    const all = screws.flatMap((screw) => screw.offered.filter(({ move }) => reversed.includes(move)));
    expect(all.every(({ holds }) => holds[0] === 'reverse')).toBe(true);
  });

  it('is answered by the word before, or at the start; otherwise unanswered for good', () => {
    const at = () => atTheTable({ stage: 'head-sheared' });
    expect(unanswered(at().answers('reverse', { screw: '1', answer: 'confirmed' }).begins('1', 'hollow-ream'))).toEqual(
      [],
    );
    expect(unanswered(at().begins('1', 'hollow-ream', { reverseConfirmed: true }))).toEqual([]);
    const silent = at().begins('1', 'hollow-ream');
    const entry = silent.n;
    expect(unanswered(silent)).toEqual([{ hold: 'reverse', entry }]);
    expect(unanswered(silent.answers('reverse', { screw: '1' }))).toEqual([{ hold: 'reverse', entry }]);
    const denied = at().begins('1', 'hollow-ream', { reverseConfirmed: false });
    expect(unanswered(denied)).toEqual([{ hold: 'reverse', entry: denied.n }]);
  });
});

describe('H11 heat', () => {
  it.each(['reverse-tap', 'free-plate', 'slot-head', 'drill-head-off', 'burr-out', 'hollow-ream'] as const)(
    'is noticed while %s runs',
    (move) => {
      const log = atTheTable().begins('1', move);
      expect(log.of('1').notices).toEqual(['heat']);
      expect(log.ends('1', 'moving').of('1').notices).toEqual([]);
    },
  );

  it.each(['turn-out', 'conical-extractor', 'gouge-and-grip', 'extraction-sleeve', 'far-side'] as const)(
    'is not noticed with %s',
    (move) => {
      expect(atTheTable().begins('1', move).of('1').notices).toEqual([]);
    },
  );
});

describe('H12 consider-trephine', () => {
  const sheared = () => atTheTable({ stage: 'head-sheared' });

  it.each(['grip-shank', 'gouge-and-grip'] as const)('is noticed at a sheared head once %s brought nothing', (move) => {
    expect(sheared().of('1').notices).toEqual([]);
    expect(sheared().tries('1', move, 'no-change').of('1').notices).toEqual(['consider-trephine']);
    expect(sheared().tries('1', move, 'moving').of('1').notices).toEqual([]);
  });

  it('is not noticed after another move, and always with a deep piece', () => {
    expect(sheared().tries('1', 'hollow-ream', 'no-change').of('1').notices).toEqual([]);
    expect(atTheTable({ stage: 'fragment-retained' }).of('1').notices).toEqual(['consider-trephine']);
    expect(atTheTable({ stage: 'fragment-retained' }).leaves('1').of('1').notices).toEqual([]);
    const out = sheared().tries('1', 'gouge-and-grip', 'no-change').tries('1', 'hollow-ream', 'out');
    expect(out.of('1')).toMatchObject({ stage: 'out', notices: [] });
  });

  it('is never unanswered', () => {
    expect(unanswered(atTheTable({ stage: 'fragment-retained' }).begins('1', 'burr-out'))).toEqual([]);
  });
});
