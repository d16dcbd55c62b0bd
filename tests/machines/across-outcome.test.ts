/** What one case brings to the counts, read off its log. */
import { describe, expect, it } from 'vitest';
import { caseOutcome } from '../../machines/across/outcome.ts';
import { Log, atTheTable, content, inTheRoom } from './build.ts';

const outcomeOf = (log: Log) => caseOutcome(log.entries, content);
const closed = (log: Log) => log.write({ type: 'work-ended' }).write({ type: 'case-closed' });
const slipped = (log = atTheTable()) => log.tries('1', 'turn-out', 'slipped');
/** A screw of a stage with these tools in the room and no other. */
const bare = (stage: 'seated' | 'head-sheared', ...tools: Parameters<Log['room']>) =>
  new Log()
    .opened()
    .screw('1', stage === 'seated' ? {} : { stage })
    .room(...tools);

describe('a case as it is counted', () => {
  it('has the day on which it was opened where it was opened, and the facts that make a kind', () => {
    const late = new Log('2026-03-04T23:30:00Z').opened().screw('1', { diameter: 5, locking: true }).screw('2');
    expect(outcomeOf(late)).toMatchObject({ phase: 'open', day: '2026-03-05' });
    expect(outcomeOf(late).facts).toEqual({
      1: { diameter: 5, locking: true, material: 'steel' },
      2: { diameter: 4.5, locking: false, material: 'steel' },
    });
  });

  it('is known by 16 digits of its first entry alone', () => {
    const one = outcomeOf(atTheTable());
    expect(one.id).toMatch(/^[0-9a-f]{16}$/);
    expect(outcomeOf(closed(atTheTable().tries('1', 'turn-out', 'out'))).id).toBe(one.id);
    expect(outcomeOf(atTheTable({}, { label: 'another' })).id).not.toBe(one.id);
  });

  it('that was never opened is nothing', () =>
    expect(outcomeOf(new Log())).toEqual({
      ...{ id: '', phase: 'unopened', day: null, facts: {} },
      ...{ tries: [], left: [], stillIn: [], deadEnds: [], missing: [], broke: [], damaged: [], answers: [] },
      ...{ passed: [], uses: [], wears: [] },
      course: {
        ...{ planned: 0, begunAt: null, firstAt: null, toldLater: false, closedAt: null },
        ...{ screws: {}, minutes: null },
      },
    }));

  it('tells what is still in from what is out and what was left in', () => {
    const log = atTheTable().screw('2').screw('3', { stage: 'head-sheared' });
    expect(outcomeOf(log.tries('1', 'turn-out', 'out').leaves('2')).stillIn).toEqual([
      { screw: '3', stage: 'head-sheared' },
    ]);
  });
});

describe('a try', () => {
  it('that ended at the minute in which it began took none; one whose end stands before its start was not timed', () => {
    const minutes = (start: string, end: string) =>
      outcomeOf(
        atTheTable()
          .begins('1', 'turn-out', { at: start, logged: '2026-03-04T09:00:00Z' })
          .ends('1', 'out', { at: end, logged: '2026-03-04T09:00:00Z' }),
      ).tries[0]?.minutes;
    expect(minutes('2026-03-04T08:50:00Z', '2026-03-04T08:50:00Z')).toBe(0);
    expect(minutes('2026-03-04T08:50:00Z', '2026-03-04T08:53:00Z')).toBe(3);
    expect(minutes('2026-03-04T08:50:00Z', '2026-03-04T08:49:00Z')).toBeNull();
  });

  it('without a word on its end brought nothing: another was begun, or the screw was left in', () => {
    const log = atTheTable().begins('1', 'turn-out').begins('1', 'grip-head').leaves('1');
    expect(outcomeOf(log).tries).toEqual([
      { screw: '1', move: 'turn-out', stage: 'seated', end: 'no-change', gain: false, minutes: null },
      { screw: '1', move: 'grip-head', stage: 'seated', end: 'stopped', gain: false, minutes: null },
    ]);
  });
});

describe('what was left in', () => {
  it('is the screw with its stage; a tip left in and a word after closing are none', () => {
    const log = atTheTable()
      .leaves('1', { reason: 'too deep to reach' })
      .screw('2')
      .write({ type: 'left-in', tool: 'pick', length: 3, where: 'canal', reason: 'too deep to reach' });
    expect(outcomeOf(closed(log).leaves('2')).left).toEqual([{ screw: '1', stage: 'seated', reason: 'deep' }]);
  });
});

describe('tools', () => {
  it('that broke are the one named at the start, or else the likely one', () => {
    const broke = (tool?: 'metal-foil') =>
      outcomeOf(
        atTheTable()
          .begins('1', 'turn-out', tool && { tool })
          .ends('1', 'tool-broke'),
      ).broke;
    expect(broke()).toEqual(['driver-hexagonal']);
    expect(broke('metal-foil')).toEqual(['metal-foil']);
    expect(outcomeOf(atTheTable().tries('1', 'turn-out', 'tool-jammed')).broke).toEqual([]);
  });

  it('that were said to be damaged count until the case is closed', () => {
    const damage = { type: 'tool-damaged', tool: 'pick', how: 'bent', tipMissing: false } as const;
    expect(outcomeOf(closed(atTheTable().write(damage)).write(damage)).damaged).toEqual(['pick']);
  });
});

describe('answers', () => {
  const answers = (log: Log) => outcomeOf(log).answers.map(({ hold, answer }) => [hold, answer]);
  const sheared = () => atTheTable({ stage: 'head-sheared' });

  it('are counted as they were given, none after the case was closed', () => {
    const log = slipped().answers('reassess', { screw: '1', answer: 'stop' });
    expect(answers(closed(log).answers('count'))).toEqual([
      ['reassess', 'stop'],
      ['count', 'unanswered'],
    ]);
  });

  it('count the word at the start that the drive runs in reverse', () => {
    expect(answers(sheared().begins('1', 'hollow-ream', { reverseConfirmed: true }))).toEqual([
      ['reverse', 'confirmed'],
    ]);
    expect(answers(sheared().begins('1', 'hollow-ream', { reverseConfirmed: false }))).toEqual([
      ['reverse', 'unanswered'],
    ]);
  });

  it('count one word once: not at the start again what was answered ahead, and none where no reverse is asked for', () => {
    const ahead = sheared().answers('reverse', { screw: '1', answer: 'confirmed' });
    expect(answers(ahead.begins('1', 'hollow-ream', { reverseConfirmed: true }))).toEqual([['reverse', 'confirmed']]);
    expect(answers(atTheTable().begins('1', 'turn-out', { reverseConfirmed: true }))).toEqual([]);
    expect(answers(inTheRoom().begins('1', 'hollow-ream', { reverseConfirmed: true }))).toEqual([]);
  });

  it('tell a look from a call for a colleague, on each screw for which a hold stood', () => {
    const both = atTheTable().screw('2').tries('1', 'turn-out', 'tool-broke').tries('2', 'turn-out', 'tool-broke');
    expect(answers(both.write({ type: 'colleague-called' }))).toEqual([
      ['second-surgeon', 'called'],
      ['second-surgeon', 'called'],
    ]);
    expect(answers(atTheTable().write({ type: 'colleague-called' }))).toEqual([]);
    expect(answers(slipped().looksAgain('1'))).toEqual([['reassess', 'looked-again']]);
  });

  it('are none where the hold went with the screw', () => {
    expect(answers(slipped().leaves('1'))).toEqual([]);
    expect(answers(slipped().tries('1', 'pack-recess', 'out'))).toEqual([['reassess', 'unanswered']]);
  });

  it('are none for a screw that is first listed', () => expect(answers(atTheTable().screw('2'))).toEqual([]));
});

describe('a hold that was passed', () => {
  const passed = (log: Log) => outcomeOf(log).passed;

  it('is one that somebody went on over, not one at which they stopped', () => {
    const log = (answer: 'go-on' | 'stop') => slipped().answers('reassess', { screw: '1', answer });
    expect(passed(log('stop'))).toEqual([]);
    expect(passed(log('go-on'))).toEqual([{ hold: 'reassess', screw: '1', next: 'nothing', fate: 'still-in' }]);
  });

  it('is of the screw called when the answer names none', () => {
    const log = slipped(atTheTable().call('1')).answers('reassess');
    expect(passed(log.tries('1', 'pack-recess', 'out'))).toEqual([
      { hold: 'reassess', screw: '1', next: 'out', fate: 'out' },
    ]);
    expect(passed(atTheTable().answers('reassess'))).toEqual([
      { hold: 'reassess', screw: null, next: 'nothing', fate: null },
    ]);
  });

  it('waits for the next move on its own screw', () => {
    const log = slipped(atTheTable().screw('2')).answers('reassess', { screw: '1' });
    log.tries('2', 'turn-out', 'out');
    expect(passed(log)).toEqual([{ hold: 'reassess', screw: '1', next: 'nothing', fate: 'still-in' }]);
    log.tries('1', 'pack-recess', 'no-change').tries('1', 'grip-head', 'out');
    expect(passed(log)[0]).toEqual({ hold: 'reassess', screw: '1', next: 'no-gain', fate: 'out' });
  });

  it('is of the screw that the answer names, whichever is called', () => {
    const log = slipped(atTheTable().screw('2')).call('2').answers('reassess', { screw: '1' });
    expect(passed(log)).toEqual([{ hold: 'reassess', screw: '1', next: 'nothing', fate: 'still-in' }]);
  });

  it('waits beside others that were passed before the same move', () => {
    const log = slipped().answers('reassess', { screw: '1' }).answers('time').tries('1', 'pack-recess', 'out');
    expect(passed(log)).toEqual([
      { hold: 'reassess', screw: '1', next: 'out', fate: 'out' },
      { hold: 'time', screw: null, next: 'out', fate: null },
    ]);
  });

  it('that is of the case waits for the next move on any screw, and has no fate', () => {
    const log = atTheTable().screw('2').answers('time', { screw: '1' });
    expect(passed(log.fork().tries('2', 'turn-out', 'out'))).toEqual([
      { hold: 'time', screw: null, next: 'out', fate: null },
    ]);
    expect(passed(log.fork().tries('1', 'turn-out', 'moving'))).toEqual([
      { hold: 'time', screw: null, next: 'gain', fate: null },
    ]);
  });

  it('without a word is passed as well: of the screw moved, or of the case', () => {
    expect(passed(slipped().begins('1', 'pack-recess').leaves('1'))).toEqual([
      { hold: 'reassess', screw: '1', next: 'no-gain', fate: 'left-in' },
    ]);
    const noDrill = new Log().opened().screw('1', { locking: true }).room('driver-hexagonal').start();
    expect(passed(noDrill)).toEqual([{ hold: 'hard-metal', screw: null, next: 'nothing', fate: null }]);
  });
});

describe('a dead end', () => {
  const met = (log: Log) => {
    const { deadEnds, missing } = outcomeOf(log);
    return { deadEnds, missing: missing.map(({ screw, tool }) => `${screw} ${tool}`) };
  };

  it('is met at the table, not in the plan, and not once the work has ended', () => {
    expect(met(bare('seated'))).toEqual({ deadEnds: [], missing: [] });
    const found = { tipProud: true };
    const after = bare('seated').start().write({ type: 'work-ended' }).finds('1', found);
    expect(met(after)).toEqual({ deadEnds: [], missing: [] });
    expect(met(bare('seated').start().finds('1', found)).deadEnds).toMatchObject([{ screw: '1', stage: 'seated' }]);
  });

  it('is not met while a move runs, nor by a screw that it brought out or that was left in', () => {
    expect(met(bare('seated').start().tries('1', 'turn-out', 'out'))).toEqual({ deadEnds: [], missing: [] });
    expect(met(bare('seated').start().leaves('1'))).toEqual({ deadEnds: [], missing: [] });
  });

  it('is met once a screw and stage, with every tool that some move of the stage lacked', () => {
    const log = bare('head-sheared', 'head-gripper').start().finds('1', {}).finds('1', { shankProud: false });
    const { deadEnds, missing } = met(log);
    expect(deadEnds).toHaveLength(1);
    expect(deadEnds[0]?.missing).toEqual(expect.arrayContaining(['gouge', 'hollow-reamer', 'metal-cutting-burr']));
    expect(new Set(deadEnds[0]?.missing).size).toBe(deadEnds[0]?.missing.length);
    expect(missing).toEqual(deadEnds[0]?.missing.map((tool) => `1 ${tool}`));
  });

  it('names a tool once that several moves of the stage lacked', () => {
    const log = new Log().opened().screw('1', { stage: 'recess-stripped' }).room('reverse-tap').start();
    const { deadEnds, missing } = met(log.finds('1', {}));
    // Tapping in reverse and drilling the head off both want the drill.
    expect(deadEnds[0]?.missing.filter((tool) => tool === 'hard-metal-drill')).toEqual(['hard-metal-drill']);
    expect(missing.filter((one) => one === '1 hard-metal-drill')).toHaveLength(1);
  });

  it('is met by each screw for itself, in the order of the stages', () => {
    const log = bare('head-sheared').screw('2').start().finds('1', {}).finds('2', {}).finds('1', { tipProud: false });
    const { deadEnds, missing } = met(log);
    expect(deadEnds.map(({ screw, stage }) => [screw, stage])).toEqual([
      ['2', 'seated'],
      ['1', 'head-sheared'],
    ]);
    expect(missing).toEqual(
      ['1', '2'].flatMap((id) => deadEnds.find(({ screw }) => screw === id)?.missing.map((tool) => `${id} ${tool}`)),
    );
  });

  it('is met by two screws of one stage, each with the tools that it lacked', () => {
    const log = bare('head-sheared').screw('2', { stage: 'head-sheared' }).start().finds('1', {}).finds('2', {});
    const { deadEnds, missing } = met(log);
    expect(deadEnds.map(({ screw }) => screw)).toEqual(['1', '2']);
    expect(missing).toEqual(['1', '2'].flatMap((id) => deadEnds[0]?.missing.map((tool) => `${id} ${tool}`)));
  });

  it('is met anew in the next stage of the same screw', () => {
    const log = bare('seated').start().finds('1', {}).tries('1', 'turn-out', 'shank-broke', { reachable: false });
    expect(met(log).deadEnds.map(({ stage }) => stage)).toEqual(['seated', 'fragment-retained']);
  });

  it('is none where some move is open; what another lacked is counted all the same', () => {
    const { deadEnds, missing } = met(bare('head-sheared', 'gouge', 'head-gripper').start().finds('1', {}));
    expect(deadEnds).toEqual([]);
    expect(missing).toContain('1 hollow-reamer');
    expect(missing).not.toContain('1 gouge');
  });

  it('is none where only somebody has to look again first', () => {
    const log = new Log().opened().screw('1', { stage: 'recess-stripped' }).room('driver-hexagonal').start();
    expect(met(log.finds('1', {})).deadEnds).toEqual([]);
  });
});
