/** What a case remembers of its entries, field by field. */
import { describe, expect, it } from 'vitest';
import { emptyCase } from '../../machines/case.context.ts';
import type { EntryOf } from '../../machines/entry.ts';
import { epoch } from '../../machines/time.ts';
import { Log, atTheTable, content, inTheRoom } from './build.ts';

const of = (log: Log) => log.folded.case.context;
const roomOf = (log: Log) => of(log).room;
const [nine, ten, eleven, noon] = ['09', '10', '11', '12'].map((hour) => `2026-03-04T${hour}:00:00Z`) as [
  string,
  string,
  string,
  string,
];

describe('a case before its first entry', () => {
  it('holds nothing but the limits of its release', () => {
    const { boneConsider, boneStop, tourniquetMinutes } = content.limits;
    expect(emptyCase({ content, byTime: true })).toEqual({
      room: {
        ...{ opened: null, plateOff: false, tools: [], bone: null, boneAt: {} },
        limits: { boneConsider: boneConsider.value, boneStop: boneStop.value },
        said: { broke: false, thin: false, unmeasured: false },
      },
      ...{
        people: [],
        consent: {},
        called: null,
        tourniquetLimit: tourniquetMinutes?.value ?? null,
        theatreMinutes: null,
      },
      ...{
        workStarted: null,
        workEnded: null,
        closedAt: null,
        movedAt: null,
        cuff: [],
        inflations: [],
        lastDose: null,
        waiting: [],
        shots: 0,
      },
      answered: { 'hard-metal': false, time: false, shavings: false },
      ...{ shavings: false, cutAt: null, washedAt: null, byTime: true, tips: [], tipPieces: [], tipsLeft: [] },
      ...{ parts: new Map(), putIn: [], stopped: null, counted: null },
      ...{ pause: null, tipsAnswered: [], lifting: null, colleague: false, checked: [], ladder: 1 },
    });
    expect(of(new Log())).toEqual(emptyCase({ content, byTime: true }));
  });
});

describe('the plan', () => {
  it('is the opening, with its minutes in theatre if they were said', () => {
    const log = new Log().opened({ theatreMinutes: 75 });
    expect(roomOf(log).opened).toBe(log.entries[0]);
    expect(of(log).theatreMinutes).toBe(75);
    expect(of(new Log().opened()).theatreMinutes).toBeNull();
  });

  it('lists the people in the order in which they were named', () => {
    const log = new Log().opened();
    log.write({ type: 'person-listed', role: 'surgeon', who: 'A' });
    log.write({ type: 'person-listed', role: 'scrub', who: 'B' });
    expect(of(log).people.map(({ who }) => who)).toEqual(['A', 'B']);
  });

  it('keeps the last word on each point of the consent', () => {
    const [first, second] = content.ids.consent;
    const point = (id: typeof first, confirmed: boolean) =>
      ({ type: 'consent-point', point: id as NonNullable<typeof first>, confirmed }) as const;
    const log = new Log().opened().write(point(first, true)).write(point(second, true)).write(point(first, false));
    expect(of(log).consent).toEqual({ [first as string]: false, [second as string]: true });
  });

  it('keeps a measure of the bone as a whole beside those at a screw, each the last', () => {
    const log = inTheRoom().screw('2').bone(20, 4, { screw: '1' }).bone(21, 4, { screw: '2', source: 'assumed' });
    expect(roomOf(log).bone).toEqual({ outer: 27, cortex: 5, source: 'measured' });
    expect(roomOf(log).boneAt).toEqual({
      1: { outer: 20, cortex: 4, source: 'measured' },
      2: { outer: 21, cortex: 4, source: 'assumed' },
    });
    expect(roomOf(log.bone(30, 6)).bone).toEqual({ outer: 30, cortex: 6, source: 'measured' });
    expect(Object.keys(roomOf(log.bone(22, 4, { screw: '1' })).boneAt)).toEqual(['1', '2']);
    expect(roomOf(log).boneAt['1']?.outer).toBe(22);
  });

  it('keeps each limit until it is set anew', () => {
    const log = inTheRoom().write({ type: 'limits-set', boneStop: 0.5, theatreMinutes: 40 });
    expect(roomOf(log).limits).toEqual({ boneConsider: 0.2, boneStop: 0.5 });
    expect(of(log)).toMatchObject({ theatreMinutes: 40, tourniquetLimit: 120 });
    log.write({ type: 'limits-set', boneConsider: 0.1, tourniquetMinutes: 60 });
    expect(roomOf(log).limits).toEqual({ boneConsider: 0.1, boneStop: 0.5 });
    expect(of(log)).toMatchObject({ theatreMinutes: 40, tourniquetLimit: 60 });
    log.write({ type: 'limits-set', boneConsider: 0, boneStop: 0, tourniquetMinutes: 0, theatreMinutes: 0 });
    expect(roomOf(log).limits).toEqual({ boneConsider: 0, boneStop: 0 });
    expect(of(log)).toMatchObject({ theatreMinutes: 0, tourniquetLimit: 0 });
  });
});

describe('the tools in the room', () => {
  const measures = { fits: [3.5, 4.5], size: 2, outer: 7, inner: 5 };
  const tools = (log: Log) => roomOf(log).tools;
  const room = () => new Log().opened();
  const away = (more: Partial<EntryOf<'tool-in-room'>> = {}) => ({ present: false, ...more });
  const reamer = { tool: 'hollow-reamer' } as const;

  it('are there once for each size, with their measures', () => {
    const log = room().tool('hollow-reamer', measures).tool('hollow-reamer', measures).tool('hollow-reamer');
    expect(tools(log)).toEqual([{ ...reamer, ...measures }, reamer]);
    expect(tools(log.tool('hollow-reamer'))).toHaveLength(2);
  });

  it.each<[string, object]>([
    ['what it fits', { fits: [3.5] }],
    ['that nobody said what it fits', { fits: undefined }],
    ['its size', { size: 3 }],
    ['its outer diameter', { outer: 8 }],
    ['its inner diameter', { inner: 4 }],
  ])('are another one by %s', (_, other) => {
    const log = room()
      .tool('hollow-reamer', measures)
      .tool('hollow-reamer', { ...measures, ...other });
    expect(tools(log)).toHaveLength(2);
    expect(tools(log.tool('hollow-reamer', away(measures)))).toEqual([{ ...reamer, ...measures, ...other }]);
  });

  it('are the same in whatever order it was said what they fit', () => {
    const log = room().tool('hollow-reamer', { fits: [4.5, 3.5] });
    expect(tools(log.fork().tool('hollow-reamer', away({ fits: [3.5, 4.5] })))).toEqual([]);
    const sorted = room().tool('hollow-reamer', { fits: [3.5, 4.5] });
    expect(tools(sorted.tool('hollow-reamer', away({ fits: [4.5, 3.5] })))).toEqual([]);
    expect(log.entries[1]).toMatchObject({ fits: [4.5, 3.5] });
  });

  it('tell one that fits nothing from one of which nobody said what it fits', () => {
    const log = room().tool('hollow-reamer', { fits: [] }).tool('hollow-reamer');
    expect(tools(log)).toHaveLength(2);
  });

  it('all go when one of their kind is taken away without measures, and no other kind', () => {
    const log = room().tool('pick').tool('hollow-reamer', measures).tool('hollow-reamer', { size: 3 });
    expect(tools(log.fork().tool('hollow-reamer', away()))).toEqual([{ tool: 'pick' }]);
    expect(tools(log.fork().tool('hollow-reamer', away({ size: 3 })))).toHaveLength(2);
    expect(tools(log.fork().tool('hollow-reamer', away({ size: 4 })))).toHaveLength(3);
    expect(tools(log.fork().tool('mallet', away()))).toHaveLength(3);
  });

  it('stay when one more of their kind comes without measures', () =>
    expect(tools(room().tool('hollow-reamer', measures).tool('hollow-reamer'))).toHaveLength(2));
});

describe('tips', () => {
  const gone = { type: 'tool-damaged', how: 'tip gone', tipMissing: true } as const;
  const tips = (log: Log) => of(log).tips;
  /** When entry `n` happened, ms. */
  const at = (log: Log, n = log.n) => epoch(log.entries[n - 1]?.at as string);

  it('of a tool that broke under a move are presumed, and a guess where nobody named the tool', () => {
    const log = atTheTable().begins('1', 'turn-out', { tool: 'pick' }).ends('1', 'tool-broke');
    const presumed = { tool: 'pick', entry: log.n, listed: null, presumed: true, guessed: false };
    expect(tips(log)).toEqual([{ ...presumed, told: [log.n], brokeAt: at(log) }]);
    const likely = atTheTable().tries('1', 'turn-out', 'tool-broke');
    expect(tips(likely)).toMatchObject([{ tool: 'driver-hexagonal', presumed: true, guessed: true }]);
    expect(tips(atTheTable().tries('1', 'turn-out', 'tool-jammed'))).toEqual([]);
  });

  it('described take the place of what was presumed of that tool', () => {
    const log = atTheTable().begins('1', 'turn-out', { tool: 'pick' }).ends('1', 'tool-broke');
    log.write({ ...gone, tool: 'pick', length: 3 });
    const told = [log.n - 1, log.n];
    const described = { tool: 'pick', entry: log.n, listed: 3, presumed: false, guessed: false, told };
    expect(tips(log)).toEqual([{ ...described, brokeAt: at(log, log.n - 1) }]);
    log.write({ ...gone, tool: 'pick' });
    expect(tips(log)).toEqual([
      { ...described, brokeAt: at(log, log.n - 2) },
      { ...described, entry: log.n, listed: null, told: [log.n] },
    ]);
  });

  it('described of another tool take the place of a guess, and not of a tool that was named', () => {
    const guess = atTheTable().tries('1', 'turn-out', 'tool-broke');
    expect(tips(guess.write({ ...gone, tool: 'pick' }))).toMatchObject([{ tool: 'pick', presumed: false }]);
    const named = atTheTable().begins('1', 'turn-out', { tool: 'mallet' }).ends('1', 'tool-broke');
    expect(tips(named.write({ ...gone, tool: 'pick' }))).toMatchObject([{ tool: 'mallet' }, { tool: 'pick' }]);
  });

  it('take first the place of the same tool, then of the first guess', () => {
    const log = atTheTable().screw('2', { drive: 'slotted' }).tries('1', 'turn-out', 'tool-broke');
    log.begins('2', 'turn-out', { tool: 'pick' }).ends('2', 'tool-broke');
    expect(tips(log.fork().write({ ...gone, tool: 'pick' })).map(({ tool, presumed }) => [tool, presumed])).toEqual([
      ['driver-hexagonal', true],
      ['pick', false],
    ]);
    expect(tips(log.fork().write({ ...gone, tool: 'gouge' })).map(({ tool, presumed }) => [tool, presumed])).toEqual([
      ['pick', true],
      ['gouge', false],
    ]);
  });

  it('are none where the tool is whole after all', () => {
    const log = atTheTable().tries('1', 'turn-out', 'tool-broke');
    expect(tips(log.write({ ...gone, tool: 'pick', tipMissing: false }))).toEqual([]);
    expect(tips(atTheTable().write({ ...gone, tool: 'pick', tipMissing: false }))).toEqual([]);
  });

  it('left in and recovered are kept with their lengths, those of a screw elsewhere', () => {
    const left = { type: 'left-in', where: 'canal', reason: 'deep' } as const;
    const log = atTheTable()
      .write({ ...left, tool: 'pick', length: 2 })
      .write({ ...left, tool: 'gouge', length: null })
      .write({ type: 'piece-recovered', tool: 'pick', length: 1.5 })
      .write({ type: 'piece-recovered', tool: 'pick', length: 1 })
      .write({ type: 'piece-recovered', screw: '1', length: 9 })
      .leaves('1');
    expect(of(log).tipsLeft).toEqual([
      { tool: 'pick', length: 2, image: false, tip: null },
      { tool: 'gouge', length: null, image: false, tip: null },
    ]);
    expect(of(log).tipPieces).toEqual([
      { tool: 'pick', length: 1.5, image: false, tip: null, complete: false, at: at(log, log.n - 3) },
      { tool: 'pick', length: 1, image: false, tip: null, complete: false, at: at(log, log.n - 2) },
    ]);
  });
});

describe('the work', () => {
  it('has its start and end, and no end once it is taken up again', () => {
    const log = inTheRoom().start({ at: nine });
    expect(of(log)).toMatchObject({ workStarted: epoch(nine), workEnded: null });
    log.write({ type: 'work-ended', at: ten });
    expect(of(log)).toMatchObject({ workStarted: epoch(nine), workEnded: epoch(ten) });
    expect(of(log.fork().write({ type: 'work-ended', at: eleven })).workEnded).toBe(epoch(ten));
    log.begins('1', 'turn-out', { at: eleven });
    expect(of(log)).toMatchObject({ workStarted: epoch(nine), workEnded: null, called: '1' });
  });

  it('is on the screw that was called, or that a move was begun on', () => {
    const log = atTheTable().screw('2');
    expect(of(log).called).toBeNull();
    expect(of(log.call('2')).called).toBe('2');
    expect(of(log.begins('1', 'turn-out')).called).toBe('1');
    expect(of(log.call('2')).called).toBe('2');
  });

  it('counts the shots, and keeps the last dose by the time at which it was given', () => {
    const dose = (drug: string, at: string, logged = at) => ({ type: 'antibiotic', drug, at, logged }) as const;
    const log = atTheTable().write({ type: 'images', shots: 2 }).write({ type: 'images', shots: 3 });
    expect(of(log)).toMatchObject({ shots: 5, lastDose: null });
    log.write(dose('cefazolin', eleven));
    expect(of(log).lastDose).toEqual({ drug: 'cefazolin', corrected: epoch(eleven) });
    log.write(dose('cefuroxime', ten, eleven));
    expect(of(log).lastDose?.drug).toBe('cefazolin');
    log.write(dose('clindamycin', eleven));
    expect(of(log).lastDose?.drug).toBe('clindamycin');
    log.write(dose('cefazolin', noon));
    expect(of(log).lastDose).toEqual({ drug: 'cefazolin', corrected: epoch(noon) });
  });

  it('leaves shavings where metal was cut, until the field is washed out', () => {
    const log = atTheTable({ stage: 'recess-stripped' });
    expect(of(log.tries('1', 'grip-head', 'no-change')).shavings).toBe(false);
    expect(of(log.tries('1', 'slot-head', 'no-change')).shavings).toBe(true);
    expect(of(log.tries('1', 'grip-head', 'moving')).shavings).toBe(true);
    expect(of(log.write({ type: 'washed-out' })).shavings).toBe(false);
  });

  it('takes the plate off for good', () => {
    expect(roomOf(atTheTable()).plateOff).toBe(false);
    expect(roomOf(atTheTable().write({ type: 'plate-off' }).remarks()).plateOff).toBe(true);
  });
});

describe('the tourniquet', () => {
  const cuff = (to: 'up' | 'down', at: string) => ({ type: 'tourniquet', to, at }) as const;

  it('keeps each inflation with its start and end', () => {
    const log = atTheTable().write(cuff('up', nine)).write(cuff('down', ten)).write(cuff('up', eleven));
    const [up, , again] = log.entries.slice(-3).map(({ n }) => n);
    const first = { n: up, up: epoch(nine), down: epoch(ten), answered: false };
    expect(of(log).inflations).toEqual([first, { n: again, up: epoch(eleven), down: null, answered: false }]);
    expect(of(log.write(cuff('down', noon))).inflations).toEqual([
      first,
      { n: again, up: epoch(eleven), down: epoch(noon), answered: false },
    ]);
  });

  it('has its hold answered for the inflation that stands, once its limit is reached and not before', () => {
    const log = atTheTable().write({ type: 'limits-set', tourniquetMinutes: 60 });
    log.write(cuff('up', '2026-03-04T08:30:00Z')).write(cuff('down', nine)).write(cuff('up', ten));
    const answered = (at: string) => of(log.fork().answers('tourniquet', { at })).inflations.map((one) => one.answered);
    expect(answered('2026-03-04T10:59:59Z')).toEqual([false, false]);
    expect(answered(eleven)).toEqual([false, true]);
    const down = log.fork().write(cuff('down', noon));
    expect(of(down.answers('tourniquet', { at: noon })).inflations.map((one) => one.answered)).toEqual([false, false]);
    expect(of(log.fork().answers('time', { at: noon })).inflations.map((one) => one.answered)).toEqual([false, false]);
  });
});

describe('answers on the case', () => {
  const answered = (log: Log) => of(log).answered;
  const none = { 'hard-metal': false, time: false, shavings: false };

  it('to the drill count at once', () =>
    expect(answered(inTheRoom().answers('hard-metal'))).toEqual({ ...none, 'hard-metal': true }));

  it('to the time count once the planned minutes are used up, from the start of the work on', () => {
    const plan = () => inTheRoom({}, { theatreMinutes: 60 });
    const begun = () => plan().start({ at: nine });
    expect(answered(plan().answers('time', { at: noon }))).toEqual(none);
    expect(answered(begun().answers('time', { at: '2026-03-04T09:59:59Z' }))).toEqual(none);
    expect(answered(begun().answers('time', { at: ten }))).toEqual({ ...none, time: true });
    expect(answered(inTheRoom().start({ at: nine }).answers('time', { at: noon }))).toEqual(none);
  });

  it('to the shavings count once the work has ended, until metal is cut again', () => {
    const cut = () => atTheTable({ stage: 'recess-stripped' }).tries('1', 'slot-head', 'no-change');
    expect(answered(cut().answers('shavings'))).toEqual(none);
    const log = cut().write({ type: 'work-ended' }).answers('shavings');
    expect(answered(log)).toEqual({ ...none, shavings: true });
    expect(answered(log.fork().tries('1', 'grip-head', 'no-change'))).toEqual({ ...none, shavings: true });
    expect(answered(log.tries('1', 'drill-head-off', 'no-change'))).toEqual(none);
  });

  it('to anything else change nothing of the case', () => {
    for (const hold of ['reassess', 'second-surgeon', 'count', 'bone-stop', 'reverse'] as const) {
      const log = atTheTable();
      const before = of(log);
      expect(of(log.answers(hold))).toEqual(before);
    }
  });
});
