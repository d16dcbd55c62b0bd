/** The chart of a screw: stage, hand, holds and answers as entries move them, on the log itself. */
import { describe, expect, it } from 'vitest';
import type { WorkingStage } from '../../content/ids.ts';
import { initialState, transition } from '../../machines/transition.ts';
import { screwMachine } from '../../machines/screw.machine.ts';
import { atTheTable, content, offered, type Log } from './build.ts';

const machine = screwMachine(content);
const of = (log: Log) => {
  const screw = log.folded.screws.get('1');
  if (!screw) throw new Error('no screw 1 is listed');
  return screw;
};
const stageOf = (log: Log) => (of(log).value as Record<string, string>).stage;
const down: readonly WorkingStage[] = ['seated', 'recess-stripped', 'head-sheared', 'fragment-retained'];
const at = (stage: WorkingStage) => atTheTable(stage === 'seated' ? {} : { stage });

it('there is one chart for a release', () => {
  expect(screwMachine(content)).toBe(machine);
  expect(screwMachine({ ...content })).not.toBe(machine);
});

describe('the stage', () => {
  it.each(down)('begins as listed: %s, in the chart as in what is remembered', (stage) => {
    const screw = of(at(stage));
    expect(screw.value).toEqual({
      ...{ stage, hand: 'empty', reassess: 'closed', 'second-surgeon': 'closed', answers: 'kept' },
    });
    expect(screw.context).toMatchObject({ stage, usedUp: [], reassessed: false });
  });

  it.each(down)('%s goes down as it is listed anew, never up', (from) => {
    for (const to of down) {
      const log = at(from).screw('1', { stage: to, diameter: 6.5 });
      const goes = down.indexOf(to) >= down.indexOf(from);
      expect(stageOf(log)).toBe(goes ? to : from);
      expect(of(log).context.stage).toBe(goes ? to : from);
      expect(of(log).context.facts.diameter).toBe(goes ? 6.5 : 4.5);
      expect(log.view.outOfOrder).toEqual(goes ? [] : [log.n]);
    }
  });

  it('is left as it is by a listing that names none', () => {
    for (const stage of down) expect(stageOf(at(stage).screw('1', { diameter: 6.5 }))).toBe(stage);
    const out = atTheTable().tries('1', 'turn-out', 'out').screw('1', { length: 50 });
    expect([stageOf(out), of(out).context.facts.length]).toEqual(['out', 50]);
  });

  it.each(down)('%s ends out or left in, with nothing more to hold', (stage) => {
    const out = at(stage).tries('1', 'turn-out', 'out');
    expect([stageOf(out), of(out).context.stage]).toEqual(['out', 'out']);
    const left = at(stage).leaves('1', { length: 12 });
    expect([stageOf(left), of(left).context.stage, of(left).context.left]).toEqual(['left-in', 'left-in', [12]]);
    expect(of(left).context.running).toBeNull();
  });

  it('that is new gives every move another try, and asks for a look of its own', () => {
    const log = atTheTable({ stage: 'recess-stripped' }).looksAgain('1').tries('1', 'grip-head', 'no-change');
    expect(of(log).context).toMatchObject({ usedUp: ['grip-head'], reassessed: true });
    expect(of(log.tries('1', 'drill-head-off', 'head-sheared')).context).toMatchObject({
      ...{ stage: 'head-sheared', usedUp: [], reassessed: false },
    });
    const same = atTheTable({ stage: 'recess-stripped' }).looksAgain('1').tries('1', 'grip-head', 'no-change');
    expect(of(same.screw('1', { stage: 'recess-stripped' })).context.usedUp).toEqual(['grip-head']);
  });

  it('is lower once the head was drilled off, told as sheared or as done', () => {
    for (const outcome of ['head-sheared', 'set-up-done'] as const)
      expect(stageOf(atTheTable({ stage: 'recess-stripped' }).tries('1', 'drill-head-off', outcome))).toBe(
        'head-sheared',
      );
    expect(stageOf(atTheTable({ stage: 'recess-stripped' }).tries('1', 'grip-head', 'set-up-done'))).toBe(
      'recess-stripped',
    );
    expect(stageOf(atTheTable().tries('1', 'drill-head-off', 'set-up-done'))).toBe('head-sheared');
    expect(stageOf(atTheTable().tries('1', 'turn-out', 'head-sheared'))).toBe('head-sheared');
  });

  it('after a broken shank goes by whether a stump can be reached', () => {
    const broke = (stage: WorkingStage, reachable: boolean) =>
      stageOf(at(stage).tries('1', 'turn-out', 'shank-broke', { reachable }));
    expect(down.map((stage) => broke(stage, true))).toEqual([
      ...['head-sheared', 'head-sheared', 'head-sheared', 'fragment-retained'],
    ]);
    expect(down.map((stage) => broke(stage, false))).toEqual(down.map(() => 'fragment-retained'));
  });
});

describe('broken from the start', () => {
  const broken = (log: Log) => of(log).context.brokenFromStart;

  it('is a screw listed so before any move ended on it', () => {
    expect(broken(atTheTable())).toBe(false);
    expect(broken(at('head-sheared'))).toBe(true);
    expect(broken(atTheTable().screw('1', { stage: 'recess-stripped' }))).toBe(true);
    expect(broken(atTheTable().screw('1', { stage: 'seated' }))).toBe(false);
    expect(broken(atTheTable().screw('1'))).toBe(false);
    expect(broken(atTheTable().tries('1', 'turn-out', 'no-change').screw('1', { stage: 'recess-stripped' }))).toBe(
      false,
    );
    expect(
      broken(at('recess-stripped').tries('1', 'grip-head', 'no-change').screw('1', { stage: 'head-sheared' })),
    ).toBe(true);
  });
});

describe('the hand', () => {
  it('holds the move with its tool, its time, its bores and what was answered ahead of it', () => {
    const log = at('head-sheared').answers('reverse', { screw: '1' });
    log.begins('1', 'hollow-ream', { tool: 'hollow-reamer', at: '2026-03-04T09:00:00Z' });
    expect(of(log).context).toMatchObject({
      running: {
        ...{ move: 'hollow-ream', entry: log.n, corrected: Date.parse('2026-03-04T09:00:00Z'), tool: 'hollow-reamer' },
        answered: ['reverse'],
      },
      answered: [],
    });
    expect(of(log).context.running?.bores.length).toBeGreaterThan(0);
    const named = at('head-sheared').begins('1', 'hollow-ream', { bores: [{ wall: 'far', diameter: 3 }] });
    expect(of(named).context.running?.bores).toEqual([{ wall: 'far', diameter: 3 }]);
    expect((of(log).value as Record<string, string>).hand).toBe('moving');
  });

  it('is empty after an end, and after the screw was left in', () => {
    const ended = atTheTable().tries('1', 'turn-out', 'moving');
    expect(of(ended)).toMatchObject({ value: { hand: 'empty' }, context: { running: null, ends: 1 } });
    const left = atTheTable().begins('1', 'turn-out').leaves('1');
    expect(of(left)).toMatchObject({ value: { hand: 'empty' }, context: { running: null, ends: 1, left: [null] } });
  });

  it('does not let a head shear that is gone: the move goes on', () => {
    for (const stage of ['head-sheared', 'fragment-retained'] as const) {
      const log = at(stage).begins('1', 'burr-out').ends('1', 'head-sheared');
      expect(of(log)).toMatchObject({
        value: { stage, hand: 'moving' },
        context: { ends: 0, running: { move: 'burr-out' } },
      });
    }
  });
});

describe('what is told of it', () => {
  it('adds pieces, findings and the plate that came off', () => {
    const piece = (length: number) => ({ type: 'piece-recovered', screw: '1', length }) as const;
    expect(of(atTheTable().write(piece(3)).write(piece(4.5))).context.pieces).toEqual([3, 4.5]);
    const found = atTheTable().finds('1', { tipProud: true }).finds('1', { corridor: false, shankProud: true });
    expect(of(found).context).toMatchObject({ found: { tipProud: true, corridor: false }, shankProud: true });
    expect(of(atTheTable().write({ type: 'plate-off' })).context.shankProud).toBe(true);
    const started = initialState(machine, { facts: of(atTheTable()).context.facts, plateOff: true });
    expect(started.context.shankProud).toBe(true);
  });

  it('is heard of a screw that is out, but for a call, a move or leaving it in', () => {
    const out = of(atTheTable().tries('1', 'turn-out', 'out'));
    const common = { n: 99, at: '2026-03-04T09:00:00Z', logged: '2026-03-04T09:00:00Z', screw: '1' };
    const call = { type: 'screw-called', entry: { ...common, type: 'screw-called' }, corrected: 0 } as const;
    expect(transition(machine, out, call)).toBeNull();
    expect(transition(machine, of(atTheTable()), call)).not.toBeNull();
  });
});

describe('a look', () => {
  it('after a slip closes the hold and opens seating the driver anew', () => {
    const log = atTheTable().tries('1', 'turn-out', 'slipped');
    expect(of(log)).toMatchObject({
      value: { reassess: 'open', stage: 'recess-stripped' },
      context: { reassessed: false },
    });
    expect(of(log.looksAgain('1'))).toMatchObject({ value: { reassess: 'closed' }, context: { reassessed: true } });
  });

  it('that nobody asked for opens turning out once more; one after a slip does not', () => {
    const log = atTheTable().tries('1', 'turn-out', 'no-change');
    expect(of(log.fork().looksAgain('1')).context).toMatchObject({ turnOutReopened: true, usedUp: [] });
    const slip = log.tries('1', 'grip-head', 'slipped').looksAgain('1');
    expect(of(slip).context).toMatchObject({ turnOutReopened: false, usedUp: ['turn-out', 'grip-head'] });
  });

  it('is not taken from an answer to another hold', () => {
    const log = () => atTheTable().tries('1', 'turn-out', 'slipped');
    expect(log().answers('second-surgeon', { screw: '1' }).of('1').holds).toContain('reassess');
    expect(log().answers('reassess', { screw: '1' }).of('1').holds).toEqual([]);
    expect(offered(log().answers('reassess', { screw: '1' }).of('1'))).not.toContain('reseat-driver');
  });
});

describe('a second surgeon', () => {
  const failed = () => atTheTable().tries('1', 'turn-out', 'no-change');
  const count = (log: Log) => of(log).context.withoutGain;

  it('is asked for at the second end without gain; a word on it counts from nought', () => {
    expect([count(failed()), failed().of('1').holds]).toEqual([1, []]);
    const open = () => failed().tries('1', 'grip-head', 'no-change');
    expect([count(open()), open().of('1').holds]).toEqual([2, ['second-surgeon']]);
    for (const log of [
      open().write({ type: 'colleague-called' }),
      open().answers('second-surgeon', { screw: '1' }),
      failed().write({ type: 'colleague-called' }),
      failed().answers('second-surgeon', { screw: '1' }),
    ])
      expect([count(log), log.of('1').holds]).toEqual([0, []]);
  });

  it('is not answered by a word on another hold', () => {
    expect(count(failed().answers('reassess', { screw: '1' }))).toBe(1);
    const open = failed().tries('1', 'grip-head', 'no-change').answers('reassess', { screw: '1' });
    expect([count(open), open.of('1').holds]).toEqual([2, ['second-surgeon']]);
  });
});

describe('answers ahead', () => {
  it('are kept once each until the next move, the stop for both bone holds', () => {
    const log = atTheTable().answers('reverse', { screw: '1' }).answers('reverse', { screw: '1' });
    expect(of(log).context.answered).toEqual(['reverse']);
    expect(of(log.answers('bone-stop', { screw: '1' })).context.answered).toEqual([
      'reverse',
      'bone-stop',
      'bone-consider',
    ]);
    expect(of(log.begins('1', 'turn-out')).context.answered).toEqual([]);
    expect(of(atTheTable().answers('bone-consider', { screw: '1' })).context.answered).toEqual(['bone-consider']);
  });
});
