/** Which moves a screw has by the second ladder, in which order, and the first reason that closes one: rule by rule. */
import { describe, expect, it } from 'vitest';
import type { MoveId, Stage, ToolId } from '../../../content/ids.ts';
import type { Move, Opening } from '../../../content/types.ts';
import type { Opening as Opened, Room, RoomTool } from '../../../machines/case.context.ts';
import type { Try } from '../../../machines/ladder/climb.ts';
import { belongs, closed, foreseen, liesUnderPlate, marks, ordered } from '../../../machines/ladder/moves.ts';
import type { Situation } from '../../../machines/situation.ts';
import { screw, type More } from './remembered.ts';
import { atTable, everyTool, loose, second } from './build.ts';

const { case: bare } = atTable({ ...loose, tools: [] }).folded;
const move = (id: MoveId) => second.moves.find((one) => one.id === id) as Move;
const all: RoomTool[] = everyTool(second).map((tool) => ({ tool }));

const room = (tools: readonly RoomTool[] = all, more: Partial<Room> = {}): Room => ({
  ...bare.context.room,
  tools,
  ...more,
});
const opened = bare.context.room.opened as Opened;
/** A room in which a plate is being taken out. */
const plated = (tools = all, plateOff = false) => room(tools, { opened: { ...opened, construct: 'plate' }, plateOff });
const tools = (...ids: ToolId[]): RoomTool[] => ids.map((tool) => ({ tool }));
const without = (...ids: ToolId[]) => all.filter(({ tool }) => !ids.includes(tool));

/** Why it is closed; null when it is open. */
const why = (id: MoveId, more: More = {}, here = room(), around: Partial<Situation> = {}) =>
  closed(move(id), { screw: screw(more), reassess: false, lastIn: false, ...around }, here, second)?.why ?? null;
const unknown = (id: MoveId, more: More = {}) => marks(move(id), screw(more), room(), second).unknown;

describe('a move belongs to a screw', () => {
  const all4 = ['seated', 'recess-stripped', 'head-sheared', 'fragment-retained'] as const;
  const stagesOf = (id: MoveId, more: More = {}) =>
    all4.filter((stage) => belongs(move(id), screw({ stage, ...more })));

  it('in the stages that it is made for, and never once the screw has ended', () => {
    expect(stagesOf('hollow-ream')).toEqual(['head-sheared', 'fragment-retained']);
    expect(stagesOf('leave-in')).toEqual(all4);
    for (const stage of ['out', 'left-in'] as Stage[])
      expect(second.moves.filter((one) => belongs(one, screw({ stage })))).toEqual([]);
  });

  it('of a stripped recess in a jammed seat as well, where it is made for that', () => {
    expect(stagesOf('grip-head')).toEqual(['recess-stripped']);
    expect(stagesOf('grip-head', { jammedSeat: true })).toEqual(['seated', 'recess-stripped']);
    expect(stagesOf('slot-head', { jammedSeat: true })).toEqual(['recess-stripped']);
  });

  it.each<[Opening, More, More]>([
    ['head-covered', { found: { headCovered: true } }, { found: { headCovered: false } }],
    ['turned-without-gain', { climb: { turnedWithoutGain: true } }, { climb: { turnedFree: true } }],
    ['turned-free', { climb: { turnedFree: true } }, { climb: { turnedWithoutGain: true } }],
    ['moved-then-stuck', { climb: { movedThenStuck: true } }, { climb: { moved: true } }],
    ['partly-threaded', { facts: { thread: 'partly' } }, { facts: { thread: 'cancellous' } }],
    ['jammed-seat', { jammedSeat: true }, {}],
  ])('that is opened by %s once that is so, and not before', (opening, is, isNot) => {
    const one: Move = { ...move('uncover'), opens: [opening] };
    expect(belongs(one, screw(is))).toBe(true);
    expect(belongs(one, screw(isNot))).toBe(false);
    const two: Move = { ...one, opens: ['head-covered', opening] };
    expect(belongs(two, screw(is))).toBe(true);
  });

  it('that is gripping the shank also at a deep piece, through a window over it, and no other move', () => {
    expect(stagesOf('grip-shank', { climb: { windowed: true } })).toEqual(['head-sheared', 'fragment-retained']);
    expect(stagesOf('gouge-and-grip', { climb: { windowed: true } })).toEqual(['head-sheared']);
  });
});

describe('the order', () => {
  const inOrder = (more: More, ...ids: MoveId[]) => ordered(ids.map(move), screw(more)).map(({ id }) => id);

  it('is that of the stage, whatever the order of the list', () => {
    const stage = 'head-sheared';
    expect(inOrder({ stage }, 'burr-out', 'leave-in', 'gouge-and-grip', 'extraction-sleeve', 'grip-shank')).toEqual([
      ...['grip-shank', 'extraction-sleeve', 'gouge-and-grip', 'burr-out', 'leave-in'],
    ]);
  });

  it('is that of the list where the stage has none, and behind those that it has one for', () => {
    expect(inOrder({ stage: 'recess-stripped' }, 'slot-head', 'grip-head', 'pack-recess')).toEqual([
      ...['slot-head', 'grip-head', 'pack-recess'],
    ]);
    expect(inOrder({ stage: 'seated' }, 'slot-head', 'turn-out')).toEqual(['turn-out', 'slot-head']);
  });

  it('has first what another move made ready', () => {
    const stage = 'fragment-retained';
    const reaming = { depth: null, diameter: null };
    const ids = ['far-side', 'extraction-sleeve', 'grip-shank'] as const;
    expect(inOrder({ stage }, ...ids)).toEqual(['far-side', 'extraction-sleeve', 'grip-shank']);
    expect(inOrder({ stage, climb: { reaming } }, ...ids)).toEqual(['extraction-sleeve', 'far-side', 'grip-shank']);
    expect(inOrder({ stage, climb: { windowed: true } }, ...ids)).toEqual([
      ...['grip-shank', 'far-side', 'extraction-sleeve'],
    ]);
  });

  it('leaves the list that it was given as it is', () => {
    const list = [move('leave-in'), move('turn-out')];
    ordered(list, screw());
    expect(list.map(({ id }) => id)).toEqual(['leave-in', 'turn-out']);
  });
});

it('a screw lies under a plate that is on, by what was said of it, else by the case', () => {
  const lies = (underPlate: boolean | undefined, here: Room) =>
    liesUnderPlate(screw({ facts: underPlate === undefined ? {} : { underPlate } }), here);
  expect([lies(undefined, plated()), lies(true, plated()), lies(false, plated())]).toEqual([true, true, false]);
  expect([lies(undefined, room()), lies(true, room()), lies(false, room())]).toEqual([false, true, false]);
  expect([lies(undefined, plated(all, true)), lies(true, plated(all, true))]).toEqual([false, false]);
  expect(lies(undefined, room(all, { opened: null }))).toBe(false);
});

describe('a move is closed', () => {
  it('by the first reason that applies, each with all that follow', () => {
    // Reseating the driver, after two slips, used up, without a driver, with somebody who has to look again.
    const used: Try[] = [{ move: 'reseat-driver', tool: null, among: ['driver-hexagonal||||'] }];
    const stage = 'recess-stripped';
    const here = room(tools('driver-hexagonal'));
    const worst: More = { stage, toolInRecess: true, slips: 2, climb: { tries: used } };
    expect(closed({ ...move('reseat-driver'), notUsedHere: true }, situation(worst), here, second)?.why).toBe(
      'not-used-here',
    );
    expect(why('reseat-driver', worst, here, { reassess: true })).toBe('tool-jammed');
    expect(why('reseat-driver', { ...worst, toolInRecess: false }, here, { reassess: true })).toBe('slipped');
    const once: More = { stage, slips: 1, climb: { tries: used } };
    expect(why('reseat-driver', once, here, { reassess: true })).toBe('used-up');
    expect(why('reseat-driver', { stage, slips: 1 }, room([]), { reassess: true })).toBe('tool-missing');
    expect(why('reseat-driver', { stage, slips: 1 }, here, { reassess: true })).toBe('hold-open');
    // Also where no look is asked for, until there was one since the slip.
    expect(why('reseat-driver', { stage, slips: 1 }, here)).toBe('hold-open');
    expect(why('reseat-driver', { stage, slips: 1, reassessed: true }, here)).toBeNull();
    expect(why('reseat-driver', { stage, slips: 1, reassessed: true }, here, { reassess: true })).toBe('hold-open');
  });

  const situation = (more: More): Situation => ({ screw: screw(more), reassess: true, lastIn: false });

  it('never where it is leaving in', () => {
    expect(why('leave-in', { toolInRecess: true }, room([]), { reassess: true })).toBeNull();
  });

  it('by a tool jammed in the recess only where it needs the recess', () => {
    const stage = 'recess-stripped';
    expect(why('conical-extractor', { stage, toolInRecess: true })).toBe('tool-jammed');
    expect(why('grip-head', { stage, toolInRecess: true })).toBeNull();
    expect(why('conical-extractor', { stage })).toBeNull();
  });

  it('by a second slip only where it is reseating the driver', () =>
    expect(why('pack-recess', { stage: 'recess-stripped', slips: 2 })).toBeNull());

  it('while somebody has to look again, whatever it is', () =>
    expect(why('pack-recess', { stage: 'recess-stripped' }, room(), { reassess: true })).toBe('hold-open'));

  it('where a tool is missing, with the first that serves each need', () => {
    const found = closed(move('reverse-tap'), situation({ stage: 'recess-stripped' }), room(tools('t-handle')), second);
    expect(found).toEqual({ why: 'tool-missing', missing: ['hard-metal-drill', 'reverse-tap'] });
    expect(closed(move('pack-recess'), situation({ stage: 'recess-stripped' }), room(), second)).toEqual({
      ...{ why: 'hold-open', missing: [] },
    });
  });

  it('under a plate that is on only where the plate is in the way of it', () => {
    const stage = 'head-sheared';
    for (const id of ['grip-shank', 'gouge-and-grip', 'hollow-ream', 'extraction-sleeve', 'burr-out'] as const) {
      expect(why(id, { stage, facts: { underPlate: true } }, plated())).toBe('plate-on');
      expect(why(id, { stage, facts: { underPlate: false } }, plated())).not.toBe('plate-on');
    }
    expect(why('slot-head', { stage: 'recess-stripped' }, plated())).toBeNull();
  });
});

describe('a move does not fit', () => {
  it('that frees the plate: where there is none, it is off, or the screw neither locks nor is the last one in', () => {
    const stage = 'recess-stripped';
    const free = (locking: boolean, here: Room, lastIn = false) =>
      why('free-plate', { stage, facts: { locking } }, here, { lastIn });
    expect([free(true, plated()), free(false, plated(), true)]).toEqual([null, null]);
    expect(free(false, plated())).toBe('does-not-fit');
    expect(free(true, plated(all, true), true)).toBe('does-not-fit');
    expect(free(true, room(), true)).toBe('does-not-fit');
    expect(free(true, room(all, { opened: null }), true)).toBe('does-not-fit');
  });

  it('that drills the head off a screw which holds nothing, while nothing could take hold of its shank', () => {
    const stage = 'recess-stripped';
    const drill = tools('hard-metal-drill', 'gouge');
    const off = (here: Room, more: More = {}, around?: boolean) =>
      why('drill-head-off', { stage, ...more }, here, around === undefined ? {} : { around });
    expect(off(room(drill))).toBe('does-not-fit');
    expect(off(room(drill), {}, false)).toBe('does-not-fit');
    expect(off(room(drill), { facts: { washer: false } })).toBe('does-not-fit');
    expect(off(room(drill), { facts: { washer: true } })).toBeNull();
    expect(off(room(drill), {}, true)).toBeNull();
    expect(off(plated(drill))).toBeNull();
    for (const tool of [
      ...(['head-gripper', 'locking-pliers', 'retired-rongeur', 'extraction-sleeve', 'hollow-reamer'] as const),
    ])
      expect(off(room([...drill, { tool }]))).toBeNull();
    expect(off(room([...drill, { tool: 'extraction-sleeve', fits: [3.5] }]))).toBe('does-not-fit');
  });
});

describe('what was seen of a screw', () => {
  const stage = 'recess-stripped';

  it('closes gripping a head that is flush: locked flush only where it is known to lock', () => {
    const grip = (headProud: boolean | undefined, facts: More['facts']) =>
      why('grip-head', { stage, found: headProud === undefined ? {} : { headProud }, ...(facts && { facts }) });
    expect(grip(false, { locking: true })).toBe('locked-flush');
    expect(grip(false, { locking: true, assumed: ['locking'] })).toBe('not-proud');
    expect(grip(false, { locking: true, assumed: ['cortices'] })).toBe('locked-flush');
    expect(grip(false, { locking: false })).toBe('not-proud');
    expect([grip(true, { locking: true }), grip(undefined, { locking: true })]).toEqual([null, null]);
    expect(unknown('grip-head', { stage })).toEqual(['headProud']);
    expect(unknown('grip-head', { stage, found: { headProud: true } })).toBeUndefined();
  });

  it('closes gripping a shank that does not stand, the far side without a tip, pushing through without a corridor', () => {
    const shank = (is: boolean | null) => why('grip-shank', { stage: 'head-sheared', climb: { shank: is } });
    expect([shank(false), shank(true), shank(null)]).toEqual(['not-proud', null, null]);
    expect(unknown('grip-shank', { stage: 'head-sheared', climb: { shank: null } })).toEqual(['shankProud']);
    expect(unknown('grip-shank', { stage: 'head-sheared', climb: { shank: true } })).toBeUndefined();
    const deep = 'fragment-retained';
    expect(why('far-side', { stage: deep, found: { tipProud: false, corridor: true } })).toBe('not-proud');
    expect(why('far-side', { stage: deep, found: { tipProud: true, corridor: false } })).toBeNull();
    expect(unknown('far-side', { stage: deep, found: { corridor: true } })).toEqual(['tipProud']);
    expect(why('push-through', { stage: deep, found: { tipProud: true, corridor: false } })).toBe('not-proud');
    expect(why('push-through', { stage: deep, found: { tipProud: false, corridor: true } })).toBeNull();
    expect(unknown('push-through', { stage: deep, found: { tipProud: true } })).toEqual(['corridor']);
    expect(unknown('burr-out', { stage: deep })).toBeUndefined();
  });

  it('is not asked where a window lies over the piece: then it is seen', () => {
    const windowed: More = { stage: 'fragment-retained', climb: { windowed: true, shank: false } };
    expect(why('grip-shank', windowed)).toBeNull();
    expect(unknown('grip-shank', windowed)).toBeUndefined();
    // The window was made over a deep piece: at a sheared head it shows no shank.
    expect(why('grip-shank', { stage: 'head-sheared', climb: { windowed: true, shank: false } })).toBe('not-proud');
  });

  it('lets the sleeve go over a shank that stands its own diameter, or that was reamed round', () => {
    const sleeve = (more: More) => [why('extraction-sleeve', more), unknown('extraction-sleeve', more)];
    const sheared = 'head-sheared';
    expect(sleeve({ stage: sheared })).toEqual(['needs-reaming', undefined]);
    expect(sleeve({ stage: sheared, found: { shankStands: 4.4 } })).toEqual(['needs-reaming', undefined]);
    expect(sleeve({ stage: sheared, found: { shankStands: 4.5 } })).toEqual([null, undefined]);
    // A deep piece stands nowhere.
    expect(sleeve({ stage: 'fragment-retained', found: { shankStands: 9 } })).toEqual(['needs-reaming', undefined]);
    const reaming = { depth: 10, diameter: null };
    expect(sleeve({ stage: 'fragment-retained', climb: { reaming } })).toEqual([null, undefined]);
    // How far it has to stand nobody knows, but not at all is not enough.
    const facts = { diameter: null };
    expect(sleeve({ stage: sheared, facts, found: { shankStands: 3 } })).toEqual([null, ['diameter']]);
    expect(sleeve({ stage: sheared, facts, found: { shankStands: 0 } })).toEqual(['needs-reaming', undefined]);
    expect(sleeve({ stage: sheared, facts, climb: { reaming } })).toEqual([null, undefined]);
  });
});

it('an open move says that only tools of unknown size serve it', () => {
  const said = (here: RoomTool[]) =>
    marks(move('extraction-sleeve'), screw({ stage: 'head-sheared' }), room(here), second);
  expect(said(tools('extraction-sleeve', 'reversing-drive'))).toMatchObject({ sizeUnknown: true });
  expect(said([{ tool: 'extraction-sleeve', fits: [4.5] }, { tool: 'reversing-drive' }])).not.toHaveProperty(
    'sizeUnknown',
  );
});

describe('a move is used up', () => {
  const stage = 'recess-stripped';
  const tried = (id: MoveId, tool: ToolId | null, among: string[]): Try => ({ move: id, tool, among });
  const pliers = 'locking-pliers||||';
  const gripper = 'head-gripper||||';

  it('once it was tried with every tool that is here of the need that counts, by itself and by no other move', () => {
    const used = (here: RoomTool[], ...tries: Try[]) => why('grip-head', { stage, climb: { tries } }, room(here));
    expect(used(tools('locking-pliers'))).toBeNull();
    expect(used(tools('locking-pliers'), tried('grip-head', null, [pliers]))).toBe('used-up');
    expect(used(tools('locking-pliers'), tried('slot-head', null, [pliers]))).toBeNull();
    const both = tools('locking-pliers', 'head-gripper');
    expect(used(both, tried('grip-head', null, [pliers]))).toBeNull();
    expect(used(both, tried('grip-head', null, [pliers]), tried('grip-head', 'head-gripper', [pliers, gripper]))).toBe(
      'used-up',
    );
    // None is left to say so of: one is missing.
    expect(used([], tried('grip-head', null, [pliers]))).toBe('tool-missing');
  });

  const reamer = (outer?: number): RoomTool => ({ tool: 'hollow-reamer', fits: [4.5], ...(outer && { outer }) });
  const drive: RoomTool = { tool: 'reversing-drive' };
  const key = (outer?: number) => `hollow-reamer||${outer ?? ''}||4.5`;
  const reamed = (depth: number | null, found: More['found'], here: RoomTool[], length: number | null = 36) =>
    why(
      'hollow-ream',
      {
        ...{ stage: 'fragment-retained', facts: { length }, found: found ?? {} },
        climb: { reaming: { depth, diameter: 6 }, reamings: [tried('hollow-ream', null, [key(6)])] },
      },
      room([drive, ...here]),
    );

  it('that reams, once it went all the way: as far as the piece is long, else the screw', () => {
    expect(reamed(36, {}, [reamer(6)])).toBe('used-up');
    expect(reamed(35.9, {}, [reamer(6)])).toBeNull();
    expect(reamed(20, { fragmentLength: 20 }, [reamer(6)])).toBe('used-up');
    expect(reamed(36, { fragmentLength: 40 }, [reamer(6)])).toBeNull();
    // Unknown is not all the way.
    expect(reamed(null, {}, [reamer(6)])).toBeNull();
    expect(reamed(36, {}, [reamer(6)], null)).toBeNull();
  });

  it('that reams, all the way: opens again with a wider one alone, or with one whose width nobody knows', () => {
    expect(reamed(36, {}, [reamer(6), reamer(5.5)])).toBe('used-up');
    expect(reamed(36, {}, [reamer(6), reamer(6.5)])).toBeNull();
    expect(reamed(36, {}, [reamer(6), reamer()])).toBeNull();
  });
});

describe('the tools by which bores are foreseen', () => {
  const seen = (more: More, ...here: RoomTool[]) =>
    foreseen(second, screw({ stage: 'fragment-retained', ...more }), here).map(({ tool, outer }) => [tool, outer]);
  const reamers: RoomTool[] = [
    { tool: 'hollow-reamer', fits: [3.5], outer: 5 },
    { tool: 'hollow-reamer', fits: [4.5], outer: 6 },
    { tool: 'hollow-reamer', fits: [4.5], outer: 8 },
  ];

  it('hold no reamer that does not go over the screw, and whatever else is here', () => {
    expect(seen({}, { tool: 'gouge', fits: [3.5] }, ...reamers)).toEqual([
      ['gouge', undefined],
      ['hollow-reamer', 6],
      ['hollow-reamer', 8],
    ]);
  });

  it('hold after one that went all the way only a wider one, or one whose width nobody knows', () => {
    const climb = { reaming: { depth: 36, diameter: 6 } };
    expect(seen({ climb }, ...reamers, { tool: 'hollow-reamer' })).toEqual([
      ['hollow-reamer', 8],
      ['hollow-reamer', undefined],
    ]);
    expect(seen({ climb: { reaming: { depth: 12, diameter: 6 } } }, ...reamers)).toEqual([
      ['hollow-reamer', 6],
      ['hollow-reamer', 8],
    ]);
    expect(seen({ climb: { reaming: { depth: 36, diameter: null } } }, ...reamers)).toHaveLength(2);
  });
});

it('a tool that only may fit is none that is missing', () => {
  const here = room(without('hollow-reamer', 'extraction-sleeve'));
  expect(why('hollow-ream', { stage: 'head-sheared' }, here)).toBe('tool-missing');
  expect(why('hollow-ream', { stage: 'head-sheared' }, room([...here.tools, { tool: 'hollow-reamer' }]))).toBeNull();
});
