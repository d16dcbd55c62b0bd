/** What is told late adds and never silences: it counts at its own time, and takes nothing from what was told in time. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import { fold, ruleVersions, step, unfolded } from '../../machines/fold.ts';
import { attemptsOf } from '../../machines/trace.ts';
import { view } from '../../machines/view.ts';
import { explore } from '../explore.ts';
import { atTheTable, content, inTheRoom, offered, type Log } from './build.ts';
import { scrambled } from './generate.ts';

const day = '2026-03-04T';
const at = (time: string) => `${day}${time}Z`;
/** Work from ten o'clock on a screw that is in. */
const table = () => inTheRoom().start({ at: at('10:00:00') });
const told = (log: Log, time: string, logged: string, draft: EntryDraft) =>
  log.write({ ...draft, at: at(time), logged: at(logged) });
const now = (log: Log, time: string, draft: EntryDraft) => told(log, time, time, draft);

const start = (move: string) => ({ type: 'move-started', screw: '1', move }) as EntryDraft;
const end = (outcome: string, more: object = {}) =>
  ({ type: 'move-ended', screw: '1', outcome, ...more }) as EntryDraft;
const attempts = (log: Log) =>
  attemptsOf(log.folded.trace).map(({ move, outcome, minutes, stageBefore, stageAfter }) => [
    ...[move, outcome, minutes, stageBefore, stageAfter],
  ]);

describe('a slip told after the screw is out', () => {
  const log = () => {
    const one = table();
    now(one, '10:20:00', start('turn-out'));
    now(one, '10:22:00', end('out', { recovered: 36 }));
    told(one, '10:10:00', '10:30:00', start('turn-out'));
    return told(one, '10:11:00', '10:31:00', end('slipped'));
  };

  it('counts, leaves the screw out, and makes nothing that was told out of order', () => {
    expect(log().of('1')).toMatchObject({ stage: 'out', slips: 1, holds: [], metal: { recovered: 36 } });
    expect(log().view).toMatchObject({
      outOfOrder: [],
      unoffered: [],
      unanswered: [],
      conflicts: [],
      impossibleTimes: [],
    });
  });

  it('stands as a try of its own, in the stage of its own time', () => {
    expect(attempts(log())).toEqual([
      ['turn-out', 'out', 2, 'seated', 'out'],
      ['turn-out', 'slipped', 1, 'seated', 'recess-stripped'],
    ]);
  });

  it('was out of order by rules 1', () => {
    const { entries } = log();
    expect(fold(entries, content, ruleVersions.of(1)).outOfOrder).toEqual([entries.length - 1, entries.length]);
  });
});

describe('a try told late while another runs', () => {
  const log = () => {
    const one = table();
    now(one, '10:20:00', start('turn-out'));
    told(one, '10:05:00', '10:21:30', start('conical-extractor'));
    return told(one, '10:08:00', '10:22:00', end('no-change'));
  };

  it('ends no other move', () => {
    expect(log().of('1').move).toBe('turn-out');
    now(log(), '10:25:00', end('out'));
    const ended = log();
    now(ended, '10:25:00', end('out'));
    expect(attempts(ended)).toEqual([
      ['turn-out', 'out', 5, 'seated', 'out'],
      ['conical-extractor', 'no-change', 3, 'seated', 'seated'],
    ]);
  });

  it('is neither unoffered nor unanswered: nobody was asked', () => {
    expect(log().view).toMatchObject({ unoffered: [], unanswered: [] });
  });

  it('takes no answer that was given for the next move', () => {
    const one = table();
    now(one, '10:15:00', { type: 'hold-answered', hold: 'reverse', screw: '1', answer: 'confirmed' });
    told(one, '10:05:00', '10:16:30', start('reverse-tap'));
    told(one, '10:06:00', '10:17:00', end('no-change'));
    now(one, '10:20:00', start('reverse-tap'));
    expect(one.view.unanswered.filter(({ hold }) => hold === 'reverse')).toEqual([]);
  });
});

describe('the stage after a late try', () => {
  it('goes down when the try went deeper than all that was told', () => {
    const log = table();
    now(log, '10:30:00', { type: 'found', screw: '1', headProud: true });
    told(log, '10:10:00', '10:40:00', start('turn-out'));
    told(log, '10:11:00', '10:41:00', end('head-sheared'));
    expect(log.of('1').stage).toBe('head-sheared');
  });

  it('never goes up, nor back from an end', () => {
    const log = table();
    now(log, '10:20:00', start('turn-out'));
    now(log, '10:21:00', end('shank-broke', { reachable: false }));
    told(log, '10:10:00', '10:30:00', start('turn-out'));
    told(log, '10:11:00', '10:31:00', end('slipped'));
    expect(log.of('1')).toMatchObject({ stage: 'fragment-retained', slips: 1 });
  });

  it('keeps open what the present stage has open: a try of another stage spends nothing here', () => {
    const log = table();
    now(log, '10:20:00', start('turn-out'));
    now(log, '10:21:00', end('slipped'));
    now(log, '10:22:00', { type: 'reassessed', screw: '1', checks: {} });
    const before = offered(log.of('1'));
    told(log, '10:05:00', '10:30:00', start('conical-extractor'));
    told(log, '10:06:00', '10:31:00', end('no-change'));
    expect(before).toContain('conical-extractor');
    expect(offered(log.of('1'))).toEqual(before);
  });
});

describe('a late slip', () => {
  it('asks for another look where nothing was done to the screw since', () => {
    const log = table();
    told(log, '10:10:00', '10:30:00', start('turn-out'));
    told(log, '10:11:00', '10:31:00', end('slipped'));
    expect(log.of('1').holds).toEqual(['reassess']);
  });

  it('asks nothing where the work went on, and counts [Z41]', () => {
    const log = table();
    now(log, '10:20:00', start('conical-extractor'));
    now(log, '10:21:00', end('moving'));
    told(log, '10:10:00', '10:30:00', start('turn-out'));
    told(log, '10:11:00', '10:31:00', end('slipped'));
    expect(log.of('1')).toMatchObject({ holds: [], slips: 1 });
  });
});

describe('a move told late that is still in hand', () => {
  it('is the one that runs, and its end ends it', () => {
    const log = table();
    told(log, '10:10:00', '10:14:00', start('turn-out'));
    expect(log.of('1').move).toBe('turn-out');
    now(log, '10:15:00', end('out'));
    expect(attempts(log)).toEqual([['turn-out', 'out', 5, 'seated', 'out']]);
  });
});

describe('two stories that cannot both be true', () => {
  it('are a pair: out, and a break that by its time came after', () => {
    const log = table();
    now(log, '10:20:00', start('turn-out'));
    now(log, '10:21:00', end('out'));
    const outAt = log.n;
    told(log, '10:25:00', '10:30:00', start('conical-extractor'));
    told(log, '10:26:00', '10:31:00', end('shank-broke', { reachable: true }));
    expect(log.view).toMatchObject({ conflicts: [[outAt, log.n]], outOfOrder: [] });
    expect(log.of('1').stage).toBe('out');
  });

  it('are a pair: told to have come out before what was done to it later', () => {
    const log = table();
    now(log, '10:20:00', start('conical-extractor'));
    now(log, '10:21:00', end('moving'));
    const later = log.n;
    told(log, '10:10:00', '10:30:00', start('turn-out'));
    told(log, '10:11:00', '10:31:00', end('out'));
    expect(log.view.conflicts).toEqual([[later, log.n]]);
  });

  it('are none where the break lies before', () => {
    const log = table();
    now(log, '10:20:00', start('turn-out'));
    now(log, '10:21:00', end('out'));
    told(log, '10:05:00', '10:30:00', start('conical-extractor'));
    told(log, '10:06:00', '10:31:00', end('shank-broke', { reachable: true }));
    expect(log.view.conflicts).toEqual([]);
  });
});

describe('an end before its own start', () => {
  it('is listed as a time that cannot be, and counts', () => {
    const log = table();
    now(log, '10:20:00', start('turn-out'));
    told(log, '10:15:00', '10:21:30', end('no-change'));
    expect(log.view).toMatchObject({ impossibleTimes: [log.n], outOfOrder: [] });
    expect(log.of('1').move).toBeNull();
  });

  it('is none for a clock that was set back between the two', () => {
    const log = table();
    now(log, '10:20:00', start('turn-out'));
    told(log, '09:21:00', '10:20:00', { type: 'clock-jumped', seconds: -3600 });
    told(log, '09:25:00', '10:20:00', end('out'));
    expect(log.view.impossibleTimes).toEqual([]);
    expect(attempts(log)).toEqual([['turn-out', 'out', 5, 'seated', 'out']]);
  });
});

describe('the cuff', () => {
  const cuff = (to: 'up' | 'down') => ({ type: 'tourniquet', to }) as EntryDraft;

  it('a deflation told late ends the inflation it lies in', () => {
    const log = table();
    now(log, '10:05:00', cuff('up'));
    told(log, '10:45:00', '11:10:00', cuff('down'));
    expect(log.view.clocks).toMatchObject({ tourniquetUp: false, tourniquetTotalMinutes: 40 });
  });

  it('that was forgotten between two inflations makes the second one true after all', () => {
    const log = table();
    now(log, '10:05:00', cuff('up'));
    now(log, '11:00:00', cuff('up'));
    expect(log.view.outOfOrder).toEqual([log.n]);
    told(log, '10:45:00', '11:05:00', cuff('down'));
    expect(log.view).toMatchObject({ outOfOrder: [], clocks: { tourniquetUp: true, tourniquetTotalMinutes: 40 } });
    expect(view(log.folded, Date.parse(at('11:05:00'))).clocks.tourniquetMinutes).toBe(5);
  });

  it('makes nothing that was told out of order', () => {
    const log = table();
    now(log, '10:05:00', cuff('up'));
    now(log, '11:00:00', cuff('down'));
    told(log, '10:45:00', '11:05:00', cuff('down'));
    expect(log.view.outOfOrder).toEqual([]);
    expect(log.view.clocks.tourniquetTotalMinutes).toBe(40);
  });
});

describe('metal cut before a wash-out that is already told', () => {
  it('leaves the field washed', () => {
    const log = table();
    now(log, '10:30:00', { type: 'washed-out' });
    told(log, '10:10:00', '10:40:00', start('drill-head-off'));
    told(log, '10:15:00', '10:41:00', end('no-change'));
    now(log, '10:50:00', { type: 'work-ended' });
    expect(log.view.holds).not.toContain('shavings');
  });

  it('and a wash-out told late washes nothing that was cut after it', () => {
    const log = table();
    now(log, '10:20:00', start('drill-head-off'));
    now(log, '10:25:00', end('no-change'));
    told(log, '10:10:00', '10:30:00', { type: 'washed-out' });
    now(log, '10:50:00', { type: 'work-ended' });
    expect(log.view.holds).toContain('shavings');
  });
});

describe('after the case was closed', () => {
  const closed = () => {
    const log = table();
    now(log, '10:20:00', start('turn-out'));
    now(log, '10:21:00', end('out', { recovered: 36 }));
    now(log, '10:30:00', { type: 'work-ended' });
    now(log, '10:31:00', { type: 'count-answered', by: ['scrub', 'circulating'] });
    return now(log, '10:32:00', { type: 'case-closed' });
  };

  it('a try told late is heard, and moves no stage', () => {
    const log = closed();
    now(log, '10:40:00', start('turn-out'));
    const one = closed();
    told(one, '10:10:00', '10:40:00', start('turn-out'));
    told(one, '10:11:00', '10:41:00', end('slipped'));
    expect(one.of('1')).toMatchObject({ stage: 'out', slips: 1 });
    expect(one.view.outOfOrder).toEqual([]);
    expect(log.view.outOfOrder).toEqual([log.n]);
  });
});

describe('one entry more', () => {
  it('gives what a fold of all gives, whatever was told late and in what order', () => {
    explore(
      fc.property(scrambled, ({ entries }) => {
        let state = unfolded(content);
        for (const entry of entries) state = step(state, entry, entries);
        expect(view(state)).toEqual(view(fold(entries, content)));
      }),
    );
  });
});

it('nothing is told late of a screw before the work began', () => {
  const log = inTheRoom();
  told(log, '07:00:00', '08:30:00', start('turn-out'));
  expect(log.view.outOfOrder).toEqual([log.n]);
  expect(atTheTable().view.outOfOrder).toEqual([]);
});
