/** What the second ladder says without stopping anybody. */
import { describe, expect, it } from 'vitest';
import type { WorkingStage } from '../../../content/ids.ts';
import type { Log } from '../build.ts';
import { atTable, loose } from './build.ts';

const ofScrew = (log: Log, id = '1') => log.of(id).notices;
const at = (stage: WorkingStage, facts: object = {}) => atTable({ ...loose, facts: { stage, ...facts } });

describe('a look before the first turn', () => {
  const size = 2.5;
  const looked = { type: 'checked', what: 'first-turn' } as const;

  it('is asked for with each driver: by the form of the recess and by its size', () => {
    const log = atTable({ facts: { driveSize: size } })
      .screw('2', { driveSize: size })
      .screw('3', { driveSize: 3.5 })
      .screw('4', { drive: 'hexalobular', driveSize: size })
      .screw('5');
    log.tries('1', 'turn-out', 'moving');
    expect(['2', '3', '4', '5'].map((id) => ofScrew(log, id))).toEqual([
      [],
      ['first-turn'],
      ['first-turn'],
      ['first-turn'],
    ]);
    // It was turned itself.
    expect(ofScrew(log)).toEqual([]);
  });

  it('is asked for while nothing was turned, and not of a screw that has no driver for it', () => {
    const log = atTable().screw('2');
    expect([ofScrew(log), ofScrew(log, '2')]).toEqual([['first-turn'], ['first-turn']]);
    expect(ofScrew(atTable({ tools: ['head-gripper'] }))).toEqual([]);
    expect(ofScrew(at('recess-stripped'))).toEqual([]);
  });

  it('is asked for no more once it was told of that size, or of a driver that has none', () => {
    const sized = () => atTable({ facts: { driveSize: size } });
    expect(ofScrew(sized().write({ ...looked, size }))).toEqual([]);
    expect(ofScrew(sized().write({ ...looked, size: 3.5 }))).toEqual(['first-turn']);
    expect(ofScrew(sized().write(looked))).toEqual(['first-turn']);
    expect(ofScrew(atTable().write(looked))).toEqual([]);
    expect(ofScrew(atTable().write({ ...looked, size }))).toEqual(['first-turn']);
    expect(ofScrew(sized().write({ type: 'checked', what: 'extractor-on', size }))).toEqual(['first-turn']);
  });
});

describe('that a deep piece may as well stay', () => {
  const asks = (log: Log) => ofScrew(log).includes('consider-trephine');

  it('is said of a deep piece, and at a sheared head only once gripping failed', () => {
    expect(asks(at('fragment-retained'))).toBe(true);
    expect(asks(at('head-sheared'))).toBe(false);
    expect(asks(at('recess-stripped').tries('1', 'grip-head', 'no-change'))).toBe(false);
    expect(asks(at('head-sheared').tries('1', 'grip-shank', 'no-change'))).toBe(true);
    expect(asks(at('head-sheared').tries('1', 'grip-shank', 'moving'))).toBe(false);
  });

  it('is said no more where going after it would stop at the bone, or it was reamed already', () => {
    expect(asks(at('fragment-retained').bone(12, 2.5))).toBe(false);
    expect(asks(at('fragment-retained').tries('1', 'hollow-ream', 'set-up-done', { depth: 12 }))).toBe(false);
    expect(asks(at('fragment-retained').tries('1', 'hollow-ream', 'no-change', { bores: [] }))).toBe(false);
    expect(asks(at('fragment-retained').tries('1', 'burr-out', 'no-change', { bores: [] }))).toBe(true);
  });

  it('is said where only another move would stop at the bone, and where there is no reamer', () => {
    // A bone-stop of the burr alone: no reamer is here.
    const log = atTable({
      ...loose,
      facts: { stage: 'fragment-retained' },
      tools: ['metal-cutting-burr', 'irrigation'],
    });
    log.bone(12, 2.5);
    expect(log.of('1').offered.find(({ move }) => move === 'burr-out')?.holds).toContain('bone-stop');
    expect(asks(log)).toBe(true);
  });
});

describe('heat and shavings', () => {
  it('are spoken of while metal is cut on the bone, and only on that screw', () => {
    const log = at('recess-stripped').screw('2', { stage: 'recess-stripped' }).begins('1', 'drill-head-off');
    expect([ofScrew(log), ofScrew(log, '2')]).toEqual([['heat'], []]);
    expect(ofScrew(log.ends('1', 'no-change'))).toEqual([]);
    expect(ofScrew(log.begins('1', 'grip-head'))).toEqual([]);
  });

  it('ask for eyes and swabs once a case, at the first cut, unless it was told before', () => {
    const told = { type: 'checked', what: 'eyes-and-swabs' } as const;
    const log = () => at('recess-stripped').screw('2', { stage: 'recess-stripped' });
    expect(log().begins('1', 'grip-head').view.notices).toEqual([]);
    expect(log().begins('1', 'slot-head').view.notices).toEqual(['eyes-and-swabs']);
    expect(log().write(told).begins('1', 'slot-head').view.notices).toEqual([]);
    expect(log().write({ type: 'checked', what: 'first-turn' }).begins('1', 'slot-head').view.notices).toEqual([
      'eyes-and-swabs',
    ]);
    expect(log().tries('1', 'slot-head', 'no-change').begins('2', 'slot-head').view.notices).toEqual([]);
    expect(log().tries('1', 'grip-head', 'no-change').begins('2', 'slot-head').view.notices).toEqual([
      'eyes-and-swabs',
    ]);
  });
});

describe('the tourniquet', () => {
  const up = (log: Log) => log.write({ type: 'tourniquet', to: 'up' });
  const notices = (log: Log, minutes: number) => log.fork().after(minutes).remarks().view.notices;

  it('is spoken of while the cuff is up: without a limit from an hour on, with one from a quarter of an hour before it', () => {
    expect(notices(atTable(), 100)).toEqual([]);
    const unlimited = up(atTable());
    expect([59.9, 60, 300].map((minutes) => notices(unlimited, minutes))).toEqual([[], ['tourniquet'], ['tourniquet']]);
    const limited = up(atTable().write({ type: 'limits-set', tourniquetMinutes: 120 }));
    // The hour is no matter where a limit was set.
    expect([61, 104.9, 105, 119.9].map((minutes) => notices(limited, minutes))).toEqual([
      [],
      [],
      ['tourniquet'],
      ['tourniquet'],
    ]);
    expect(notices(limited, 120)).toEqual([]);
    expect(notices(unlimited.after(70).write({ type: 'tourniquet', to: 'down' }), 5)).toEqual([]);
  });

  it('is spoken of after what is cut', () => {
    const log = up(at('recess-stripped')).after(61).begins('1', 'slot-head');
    expect(log.view.notices).toEqual(['eyes-and-swabs', 'tourniquet']);
  });
});
