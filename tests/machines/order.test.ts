/** What cannot have happened is kept, listed and without effect; everything else is folded, however unwise. */
import { describe, expect, it } from 'vitest';
import { atTheTable, inTheRoom, Log, type Log as Built } from './build.ts';

/** The whole state but the lists of entries. */
function effects(log: Built) {
  const { outOfOrder: _, late: _l, ...rest } = log.view;
  return rest;
}

const out = () => atTheTable().tries('1', 'turn-out', 'out');
const left = () => atTheTable().leaves('1');
const closedCase = () => atTheTable().write({ type: 'work-ended' }).write({ type: 'case-closed' });

describe('out of order, without effect', () => {
  it.each<[string, () => Built, (log: Built) => Built]>([
    ['anything before the case was opened', () => new Log(), (log) => log.screw('1')],
    ['the start of the work before the case was opened', () => new Log(), (log) => log.start()],
    ['a second opening', atTheTable, (log) => log.opened({ side: 'right' })],
    ['a second start of the work', atTheTable, (log) => log.start()],
    ['a move before the work began', inTheRoom, (log) => log.begins('1', 'turn-out')],
    ['an end before the work began', inTheRoom, (log) => log.ends('1', 'out')],
    ['the end of a work that never began', inTheRoom, (log) => log.write({ type: 'work-ended' })],
    ['a call of a screw that is not listed', atTheTable, (log) => log.call('9')],
    ['a move on a screw that is not listed', atTheTable, (log) => log.begins('9', 'turn-out')],
    ['a finding on a screw that is not listed', atTheTable, (log) => log.finds('9', { tipProud: true })],
    ['a reassessment of a screw that is not listed', atTheTable, (log) => log.looksAgain('9')],
    ['an answer on a screw that is not listed', atTheTable, (log) => log.answers('reverse', { screw: '9' })],
    ['a screw left in that is not listed', atTheTable, (log) => log.leaves('9')],
    [
      'a piece of a screw that is not listed',
      atTheTable,
      (log) => log.write({ type: 'piece-recovered', screw: '9', length: 3 }),
    ],
    ['a measure at a screw that is not listed', atTheTable, (log) => log.bone(20, 4, { screw: '9' })],
    ['an end without a running move', atTheTable, (log) => log.ends('1', 'slipped')],
    [
      'an end on another screw than the one that is moved',
      () => atTheTable().screw('2').begins('1', 'turn-out'),
      (log) => log.ends('2', 'out'),
    ],
    ['a second end', () => atTheTable().tries('1', 'turn-out', 'moving'), (log) => log.ends('1', 'out')],
    [
      'a stage listed above the present one',
      () => atTheTable({ stage: 'head-sheared' }),
      (log) => log.screw('1', { stage: 'recess-stripped' }),
    ],
    ['a stage listed for a screw that is out', out, (log) => log.screw('1', { stage: 'fragment-retained' })],
    ['a call of a screw that is out', out, (log) => log.call('1')],
    ['a move on a screw that is out', out, (log) => log.begins('1', 'turn-out')],
    ['an end on a screw that is out', out, (log) => log.ends('1', 'out')],
    ['leaving in a screw that is out', out, (log) => log.leaves('1')],
    ['a call of a screw that is left in', left, (log) => log.call('1')],
    ['a move on a screw that is left in', left, (log) => log.begins('1', 'turn-out')],
    ['a tourniquet let down that is not up', atTheTable, (log) => log.write({ type: 'tourniquet', to: 'down' })],
    [
      'a tourniquet inflated that is up',
      () => atTheTable().write({ type: 'tourniquet', to: 'up' }),
      (log) => log.write({ type: 'tourniquet', to: 'up' }),
    ],
    ['a move after the case was closed', closedCase, (log) => log.begins('1', 'turn-out')],
    ['a screw listed after the case was closed', closedCase, (log) => log.screw('2')],
    ['an answer after the case was closed', closedCase, (log) => log.answers('count')],
    [
      'a count after the case was closed',
      closedCase,
      (log) => log.write({ type: 'count-answered', by: ['scrub', 'surgeon'] }),
    ],
    ['images after the case was closed', closedCase, (log) => log.write({ type: 'images', shots: 2 })],
    ['a second closing', closedCase, (log) => log.write({ type: 'case-closed' })],
    ['leaving in after the case was closed', closedCase, (log) => log.leaves('1')],
    [
      'a jump of the clock after the case was closed',
      closedCase,
      (log) => log.write({ type: 'clock-jumped', seconds: 90 }),
    ],
  ])('%s', (_, before, then) => {
    const stood = effects(before());
    const log = then(before());
    expect(log.view.outOfOrder).toEqual([log.n]);
    expect(effects(log)).toEqual(stood);
  });
});

describe('not out of order', () => {
  it.each<[string, () => Built]>([
    ['a voluntary reassessment', () => atTheTable().looksAgain('1')],
    ['a reassessment again and again', () => atTheTable().looksAgain('1').looksAgain('1')],
    [
      'a note field, a word to the patient, a signature and a remark after closing',
      () =>
        closedCase()
          .write({ type: 'note-field', field: 'closure', text: 'in layers' })
          .write({ type: 'patient-told', state: 'told', by: 'surgeon', points: ['place'] })
          .write({ type: 'signed', who: 'the surgeon', role: 'surgeon', meaning: 'written and read' })
          .write({ type: 'remark', text: 'typing error above', kind: 'correction' }),
    ],
    [
      'a signature before closing',
      () => atTheTable().write({ type: 'signed', who: 'x', role: 'surgeon', meaning: 'read' }),
    ],
    ['a piece recovered of a screw that is out', () => out().write({ type: 'piece-recovered', screw: '1', length: 2 })],
    ['a correction of a screw that is out', () => out().screw('1', { length: 40 })],
    ['a screw first listed while the work runs', () => atTheTable().screw('2').call('2')],
    [
      'a listing with the present stage',
      () => atTheTable({ stage: 'head-sheared' }).screw('1', { stage: 'head-sheared' }),
    ],
    ['a listing with a lower stage', () => atTheTable().screw('1', { stage: 'fragment-retained' })],
    [
      'a wash-out, a colleague and an answer that nobody asked for',
      () => atTheTable().write({ type: 'washed-out' }).write({ type: 'colleague-called' }).answers('bone-stop'),
    ],
  ])('%s', (_, log) => expect(log().view.outOfOrder).toEqual([]));

  it('a move that is closed or does not fit the stage: folded, and listed as not offered', () => {
    const log = atTheTable().begins('1', 'far-side');
    expect(log.view).toMatchObject({ outOfOrder: [], unoffered: [log.n], called: '1' });
    expect(log.ends('1', 'out').of('1').stage).toBe('out');
    const missing = new Log().opened().screw('1').start().begins('1', 'turn-out');
    expect(missing.view).toMatchObject({ outOfOrder: [], unoffered: [missing.n], unanswered: [] });
    const open = atTheTable().begins('1', 'turn-out');
    expect(open.view.unoffered).toEqual([]);
  });

  it('a move on a screw that was not called calls it', () => {
    const log = atTheTable().screw('2').call('1').begins('2', 'turn-out');
    expect(log.view).toMatchObject({ called: '2', outOfOrder: [] });
    expect(log.ends('2', 'out').view.called).toBeNull();
  });

  it('a second start ends the first move as no change', () => {
    const log = atTheTable().begins('1', 'turn-out').begins('1', 'grip-head');
    expect(log.of('1')).toMatchObject({ move: 'grip-head', slips: 0 });
    expect(log.of('1').withdrawn).toContainEqual({ move: 'turn-out', why: 'used-up', missing: [] });
    expect(log.view).toMatchObject({ outOfOrder: [], unoffered: [] });
  });

  it('leaving in while a move runs ends it', () => {
    const log = atTheTable({ stage: 'head-sheared' }).begins('1', 'gouge-and-grip').leaves('1');
    expect(log.of('1')).toMatchObject({ stage: 'left-in', move: null, offered: [], withdrawn: [] });
    expect(log.view).toMatchObject({ outOfOrder: [], called: null });
    expect(log.folded.screws.get('1')?.context.bores).toEqual([{ wall: 'near', diameter: 8.5 }]);
  });

  it('a move in closing takes the case back to the work', () => {
    const log = atTheTable().write({ type: 'work-ended' });
    expect(log.view.phase).toBe('closing');
    expect(log.begins('1', 'turn-out').view).toMatchObject({ phase: 'working', outOfOrder: [] });
  });

  it('closing with count and shavings open: unanswered', () => {
    const log = atTheTable()
      .tries('1', 'drill-head-off', 'no-change')
      .write({ type: 'work-ended' })
      .write({ type: 'case-closed' });
    const unanswered = (['shavings', 'count'] as const).map((hold) => ({ hold, entry: log.n }));
    expect(log.view).toMatchObject({ phase: 'closed', outOfOrder: [], unanswered });
  });

  it('listing a screw again replaces its facts and keeps its history', () => {
    const log = atTheTable().tries('1', 'turn-out', 'slipped').screw('1', { diameter: 6.5, length: 50 });
    expect(log.of('1')).toMatchObject({
      stage: 'recess-stripped',
      slips: 1,
      chanceLeft: 0.5,
      holds: ['reassess'],
      metal: { listed: 50 },
    });
  });
});

describe('the phases', () => {
  it('are briefing, working, closing and closed', () => {
    const log = inTheRoom();
    expect(new Log().view.phase).toBe('briefing');
    expect(log.view.phase).toBe('briefing');
    expect(log.start().view.phase).toBe('working');
    expect(log.write({ type: 'work-ended' }).view.phase).toBe('closing');
    expect(log.write({ type: 'case-closed' }).view.phase).toBe('closed');
  });
});
