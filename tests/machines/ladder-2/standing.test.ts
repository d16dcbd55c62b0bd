/** What stands on the case by the second ladder, in which order, and what of it is noted as passed over. */
import { describe, expect, it } from 'vitest';
import type { HoldId } from '../../../content/ids.ts';
import { inOrder, pausing, stillFixed, tipsToFind } from '../../../machines/ladder/standing.ts';
import type { Log } from '../build.ts';
import { atTable, second } from './build.ts';

const stripped = () => atTable({ facts: { stage: 'recess-stripped' } });
const breaks = (log: Log, move: 'reverse-tap' | 'conical-extractor' = 'reverse-tap') =>
  log.tries('1', move, 'tool-broke').write({ type: 'colleague-called' });
const toFind = ({ folded }: Log) => tipsToFind(folded).map(({ tool }) => tool);
const passedOver = (log: Log, hold: HoldId) =>
  log.view.unanswered.filter((one) => one.hold === hold).map(({ entry }) => entry);
const lift = { type: 'part-move', part: 'plate', move: 'lift' } as const;

describe('a tip to find', () => {
  it('is one of each tool that broke, oldest first, until somebody said what became of it', () => {
    const log = breaks(stripped());
    const first = log.n - 1;
    breaks(log, 'conical-extractor');
    const next = log.n - 1;
    expect(toFind(log)).toEqual(['hard-metal-drill', 'conical-extractor']);
    expect(toFind(log.fork().answers('find-tip', { answer: 'later', tip: next }))).toEqual(['hard-metal-drill']);
    expect(toFind(log.fork().write({ type: 'piece-recovered', tool: 'hard-metal-drill', tip: first }))).toEqual([
      'conical-extractor',
    ]);
    const stays = { type: 'left-in', length: null, where: 'canal', reason: 'deep' } as const;
    expect(toFind(log.fork().write({ ...stays, tool: 'conical-extractor', tip: next }))).toEqual(['hard-metal-drill']);
    // A piece of a tool of which nobody said which one broke tells of no tip.
    expect(
      toFind(log.write({ type: 'piece-recovered', tool: 'hard-metal-drill', length: 2, lengthHow: 'measured' })),
    ).toEqual(['hard-metal-drill', 'conical-extractor']);
  });
});

describe('a part that is held', () => {
  const fixed = (log: Log, part = 'plate') => stillFixed(log.folded, part);
  const two = () => atTable().screw('2', { underPlate: false });

  it('is a plate by the screws that go through it, and a nail by every bolt', () => {
    expect(fixed(two())).toBe(true);
    const out = two().tries('1', 'turn-out', 'out', { recovered: 36 });
    expect([fixed(out), fixed(out, 'nail')]).toEqual([false, true]);
    expect(fixed(out.tries('2', 'turn-out', 'out', { recovered: 36 }), 'nail')).toBe(false);
  });

  it('is asked of the part that was counted, and let go by a word on that part alone', () => {
    const log = two().write(lift).answers('still-fixed');
    expect([fixed(log), fixed(log, 'nail')]).toEqual([false, true]);
    const counted = two().tries('1', 'turn-out', 'out', { recovered: 36 }).write(lift);
    counted.answers('still-fixed', { answer: 'confirmed', seen: 3, out: 2 });
    expect(fixed(counted)).toBe(true);
    const none = counted.tries('2', 'turn-out', 'out', { recovered: 36 });
    expect([fixed(none), fixed(none, 'nail')]).toEqual([true, false]);
  });
});

describe('what stands on the case', () => {
  it('is the reason to stop, a tip, then the part, each while it is so', () => {
    const log = breaks(stripped());
    expect(pausing(stripped().folded)).toEqual([]);
    expect(pausing(log.folded)).toEqual(['find-tip']);
    log.write(lift);
    expect(pausing(log.folded)).toEqual(['find-tip', 'still-fixed']);
    log.write({ type: 'event', kind: 'not-healed' });
    expect(pausing(log.folded)).toEqual(['stop-and-think', 'find-tip', 'still-fixed']);
    log.answers('find-tip', { answer: 'later' }).answers('stop-and-think').answers('still-fixed');
    expect(pausing(log.folded)).toEqual([]);
  });

  it('stands in the order of the content, each once, and nothing that it does not know', () => {
    expect(inOrder(second, ['count', 'time', 'stop-and-think', 'time'])).toEqual(['stop-and-think', 'time', 'count']);
    expect(inOrder(second, [])).toEqual([]);
  });
});

describe('what was passed over is noted once an opening, however many moves follow', () => {
  const moves = (log: Log) => log.tries('1', 'pack-recess', 'no-change').tries('1', 'grip-head', 'no-change');

  it('a reason to stop, anew with each event', () => {
    const log = stripped().write({ type: 'event', kind: 'not-healed' });
    const first = log.n + 1;
    moves(log).write({ type: 'event', kind: 'infection-found' });
    const next = log.n + 1;
    expect(passedOver(moves(log), 'stop-and-think')).toEqual([first, next]);
  });

  it('a tip, anew with each tip that is missing, also while the one before it is still to be found', () => {
    const log = breaks(stripped());
    const first = log.n + 1;
    breaks(moves(log), 'conical-extractor');
    const next = log.n + 1;
    expect(passedOver(moves(log), 'find-tip')).toEqual([first, next]);
  });

  it('a tip of which the damage is described since is the same one', () => {
    const log = breaks(stripped());
    const first = log.n + 1;
    moves(log).write({ type: 'tool-damaged', tool: 'hard-metal-drill', how: 'tip gone', tipMissing: true });
    expect(toFind(log)).toEqual(['hard-metal-drill']);
    expect(passedOver(moves(log), 'find-tip')).toEqual([first]);
  });

  it('a plate that may still be held, anew with each lift, and once more when it comes off all the same', () => {
    const log = stripped().screw('2').write(lift);
    const first = log.n + 1;
    moves(log).write(lift);
    const next = log.n + 1;
    moves(log).write({ type: 'plate-off' });
    expect(passedOver(log, 'still-fixed')).toEqual([first, next, log.n]);
  });

  it('the tourniquet, anew with each inflation, and the time once a case', () => {
    const log = stripped().write({ type: 'limits-set', tourniquetMinutes: 30, theatreMinutes: 20 });
    log.write({ type: 'tourniquet', to: 'up' }).after(40);
    const first = log.n + 1;
    moves(log).write({ type: 'tourniquet', to: 'down' }).write({ type: 'tourniquet', to: 'up' }).after(40);
    const next = log.n + 1;
    moves(log);
    expect(passedOver(log, 'tourniquet')).toEqual([first, next]);
    expect(passedOver(log, 'time')).toEqual([first]);
  });

  it('what stands before one move, or on a screw, each time', () => {
    const log = atTable({ facts: { stage: 'head-sheared', underPlate: false } });
    log.begins('1', 'hollow-ream').ends('1', 'no-change', { bores: [] }).begins('1', 'hollow-ream');
    expect(passedOver(log, 'reverse')).toEqual([log.n - 2, log.n]);
  });
});
