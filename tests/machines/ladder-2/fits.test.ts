/** Which tools go with which screw by the second ladder: it does, it does not, or nobody can say. */
import { candidates } from '../../../machines/compute/fit.ts';
import { describe, expect, it } from 'vitest';
import type { Move, ToolGroup } from '../../../content/types.ts';
import type { MoveId, ToolId } from '../../../content/ids.ts';
import type { Room, RoomTool } from '../../../machines/case.context.ts';
import { among, counted, fit, isSizeUnknown, missing, widthOf } from '../../../machines/ladder/fit.ts';
import type { ScrewFacts } from '../../../machines/screw.context.ts';
import { meets, toolsOf, unmetOf } from '../../../machines/fitting.ts';
import { atTable, first, second } from './build.ts';

const { case: bare, screws } = atTable({ tools: [] }).folded;
const screw = screws.get('1')?.context.facts as ScrewFacts;
const facts = (more: Partial<ScrewFacts> = {}): ScrewFacts => ({ ...screw, ...more });
const room = (...tools: RoomTool[]): Room => ({ ...bare.context.room, tools });
const move = (id: MoveId, of = second) => of.moves.find((one) => one.id === id) as Move;
const one = (tool: ToolId): ToolGroup => ({ anyOf: [tool] });
const goes = (tool: RoomTool, more: Partial<ScrewFacts> = {}) => fit(second, tool, one(tool.tool), facts(more));

describe('a hollow reamer', () => {
  it.each<[Omit<RoomTool, 'tool'>, string]>([
    // It needs 0.2 mm of play round the thread of 4.5 mm.
    [{ inner: 4.7 }, 'fits'],
    [{ inner: 4.69 }, 'no'],
    [{ inner: 5, outer: 6.5 }, 'fits'],
    [{ fits: [4.5] }, 'fits'],
    [{ fits: [3.5, 4.5] }, 'fits'],
    [{ fits: [3.5] }, 'no'],
    [{ fits: [] }, 'no'],
    [{ fits: [3.5], inner: 4.8 }, 'fits'],
    [{ fits: [4.5], inner: 4 }, 'fits'],
    // No wider than the screw it never goes over it, whatever else is said.
    [{ outer: 4.5, fits: [4.5] }, 'no'],
    [{ outer: 4.4, inner: 4.8 }, 'no'],
    [{ outer: 4.6, fits: [4.5] }, 'fits'],
    [{ outer: 6.5 }, 'may'],
    [{}, 'may'],
  ])('of measures %j over a screw of 4.5 mm: %s', (measures, how) =>
    expect(goes({ tool: 'hollow-reamer', ...measures })).toBe(how),
  );
});

describe('a sleeve, a tap and a carbide drill', () => {
  it('go by their list, and without one nobody can say', () => {
    for (const tool of ['extraction-sleeve', 'reverse-tap', 'hard-metal-drill'] as const) {
      expect(goes({ tool, fits: [4.5] })).toBe('fits');
      expect(goes({ tool, fits: [3.5] })).toBe('no');
      expect(goes({ tool, fits: [] })).toBe('no');
      expect(goes({ tool })).toBe('may');
      expect(goes({ tool, fits: [3.5] }, { diameter: null })).toBe('may');
    }
  });

  it('by its inner diameter alone a sleeve may go over the screw, or cannot', () => {
    expect(goes({ tool: 'extraction-sleeve', inner: 4.5 })).toBe('may');
    expect(goes({ tool: 'extraction-sleeve', inner: 6 })).toBe('may');
    expect(goes({ tool: 'extraction-sleeve', inner: 4.4 })).toBe('no');
    expect(goes({ tool: 'extraction-sleeve', inner: 4.4, fits: [4.5] })).toBe('fits');
  });
});

describe('a tool that comes in no sizes', () => {
  it('goes with every screw, but one that was listed for others alone', () => {
    expect(goes({ tool: 'gouge' })).toBe('fits');
    expect(goes({ tool: 'gouge' }, { diameter: null })).toBe('fits');
    expect(goes({ tool: 'head-gripper', fits: [3.5] }, { diameter: null })).toBe('fits');
    expect(goes({ tool: 'head-gripper', fits: [3.5, 4.5] })).toBe('fits');
    expect(goes({ tool: 'head-gripper', fits: [3.5] })).toBe('no');
    expect(goes({ tool: 'head-gripper', fits: [4.5 + 1e-10] })).toBe('fits');
  });

  it('meets no need that it is not named for', () =>
    expect(fit(second, { tool: 'gouge' }, one('head-gripper'), facts())).toBe('no'));
});

describe('a driver for the recess', () => {
  const turns = (tool: RoomTool, more: Partial<ScrewFacts>) => fit(second, tool, { driver: 'matched' }, facts(more));

  it.each<[ToolId, number | undefined, Partial<ScrewFacts>, string]>([
    ['driver-hexagonal', 3.5, { driveSize: 3.5 }, 'fits'],
    ['driver-hexagonal', 3.5 + 1e-10, { driveSize: 3.5 }, 'fits'],
    ['driver-hexagonal', 2.5, { driveSize: 3.5 }, 'no'],
    ['driver-hexagonal', undefined, { driveSize: 3.5 }, 'may'],
    ['driver-hexagonal', 3.5, {}, 'may'],
    ['driver-hexalobular', 15, { drive: 'hexalobular', driveSize: 15 }, 'fits'],
    ['driver-hexalobular', 20, { drive: 'hexalobular', driveSize: 15 }, 'no'],
    ['driver-hexalobular', undefined, { drive: 'hexalobular', driveSize: 15 }, 'may'],
    // These come in no sizes that anybody would compare.
    ['driver-slotted', undefined, { drive: 'slotted' }, 'fits'],
    ['driver-cruciform', 2, { drive: 'cruciform', driveSize: 1 }, 'fits'],
    // Of a recess that nobody knows every driver may be the one.
    ['driver-hexagonal', 3.5, { drive: 'unknown' }, 'may'],
    ['driver-slotted', undefined, { drive: 'unknown' }, 'may'],
    ['driver-hexalobular', 15, { drive: 'hexagonal', driveSize: 3.5 }, 'no'],
  ])('%s of size %s in %j: %s', (tool, size, more, how) =>
    expect(turns({ tool, ...(size !== undefined && { size }) }, more)).toBe(how),
  );

  it('is not asked for its diameter, nor for a list of screws', () =>
    expect(turns({ tool: 'driver-slotted', fits: [3.5] }, { drive: 'slotted' })).toBe('fits'));
});

describe('a driver hammered in', () => {
  const hammers = (tool: RoomTool, more: Partial<ScrewFacts>) => fit(second, tool, { driver: 'oversize' }, facts(more));
  const hexagonal = { drive: 'hexagonal', driveSize: 3.5 } as const;

  it('of the own form is larger by its number', () => {
    expect(hammers({ tool: 'driver-hexagonal', size: 4 }, hexagonal)).toBe('fits');
    expect(hammers({ tool: 'driver-hexagonal', size: 3.5 }, hexagonal)).toBe('no');
    expect(hammers({ tool: 'driver-hexagonal', size: 2.5 }, hexagonal)).toBe('no');
    expect(hammers({ tool: 'driver-hexalobular', size: 20 }, { drive: 'hexalobular', driveSize: 15 })).toBe('fits');
    // Numbers that stand in no table are compared as they are.
    expect(hammers({ tool: 'driver-hexalobular', size: 9 }, { drive: 'hexalobular', driveSize: 7 })).toBe('fits');
    expect(hammers({ tool: 'driver-hexagonal' }, hexagonal)).toBe('may');
    expect(hammers({ tool: 'driver-hexagonal', size: 4 }, { drive: 'hexagonal' })).toBe('may');
  });

  it('of another form is wider than the recess by the tables: ISO 10664, number 15 is 3.35 mm and 20 is 3.95 mm wide', () => {
    expect(hammers({ tool: 'driver-hexalobular', size: 15 }, hexagonal)).toBe('no');
    expect(hammers({ tool: 'driver-hexalobular', size: 20 }, hexagonal)).toBe('fits');
    expect(hammers({ tool: 'driver-hexagonal', size: 3.5 }, { drive: 'hexalobular', driveSize: 15 })).toBe('fits');
    expect(hammers({ tool: 'driver-hexagonal', size: 3.5 }, { drive: 'hexalobular', driveSize: 20 })).toBe('no');
  });

  it('that is just as wide as the recess holds nothing', () =>
    // Across flats a hexagon of 4.5 mm is as wide as number 25, 4.5 mm.
    expect(hammers({ tool: 'driver-hexalobular', size: 25 }, { drive: 'hexagonal', driveSize: 4.5 })).toBe('no'));

  it('may be wider where no table says how wide it or the recess is', () => {
    expect(hammers({ tool: 'driver-hexalobular' }, hexagonal)).toBe('may');
    expect(hammers({ tool: 'driver-hexalobular', size: 7 }, hexagonal)).toBe('may');
    expect(hammers({ tool: 'driver-slotted' }, hexagonal)).toBe('may');
    expect(hammers({ tool: 'driver-slotted', size: 5 }, hexagonal)).toBe('may');
    expect(hammers({ tool: 'driver-hexalobular', size: 20 }, { drive: 'unknown' })).toBe('may');
  });
});

it('the width of a recess is that of the table, of a hexagon always its size, and else not known', () => {
  const { recesses } = second;
  expect(widthOf(recesses, 'hexalobular', 15)).toBe(3.35);
  expect(widthOf(recesses, 'hexalobular', 15 + 1e-10)).toBe(3.35);
  expect(widthOf(recesses, 'hexalobular', 16)).toBeNull();
  expect(widthOf(recesses, 'hexagonal', 2.7)).toBe(2.7);
  expect(widthOf(recesses, 'hexagonal', undefined)).toBeNull();
  // 15 is a number of this form alone.
  expect(widthOf(recesses, 'cruciform', 15)).toBeNull();
});

describe('what a move lacks', () => {
  const lacks = (...tools: RoomTool[]) => missing(second, move('reverse-tap'), facts(), room(...tools));

  it('is the first tool of each need that nothing in the room meets, nor may meet', () => {
    expect(lacks()).toEqual(['hard-metal-drill', 'reverse-tap', 't-handle']);
    expect(lacks({ tool: 'reverse-tap' }, { tool: 'reversing-drive' })).toEqual(['hard-metal-drill']);
    expect(lacks({ tool: 'reverse-tap', fits: [3.5] }, { tool: 't-handle' }, { tool: 'hard-metal-drill' })).toEqual([
      'reverse-tap',
    ]);
  });

  it('is asked of one unmeasured tool and answered by a fitting one beside it', () => {
    const asked = (...tools: RoomTool[]) => isSizeUnknown(second, move('extraction-sleeve'), facts(), room(...tools));
    const drive = { tool: 'reversing-drive' } as const;
    expect(asked(drive, { tool: 'extraction-sleeve' })).toBe(true);
    expect(asked(drive, { tool: 'extraction-sleeve', fits: [4.5] })).toBe(false);
    expect(asked(drive, { tool: 'extraction-sleeve' }, { tool: 'extraction-sleeve', fits: [4.5] })).toBe(false);
    expect(asked(drive, { tool: 'extraction-sleeve', fits: [3.5] })).toBe(false);
    expect(asked(drive)).toBe(false);
    expect(asked()).toBe(false);
  });
});

describe('the tools that a move is counted by', () => {
  const pliers: RoomTool = { tool: 'locking-pliers' };
  const gripper: RoomTool = { tool: 'head-gripper', fits: [3.5] };

  it('are those of the need that counts, which go or may go with the screw', () => {
    const here = room({ tool: 'gouge' }, pliers, gripper, { tool: 'retired-rongeur' }, pliers);
    expect(counted(second, move('gouge-and-grip'), facts(), here)).toEqual([
      pliers,
      { tool: 'retired-rongeur' },
      pliers,
    ]);
    expect(among(second, move('gouge-and-grip'), facts(), here)).toEqual(['locking-pliers||||', 'retired-rongeur||||']);
  });

  it('are none of a move that needs none', () => {
    expect(counted(second, move('leave-in'), facts(), room(pliers))).toEqual([]);
    expect(among(second, move('leave-in'), facts(), room(pliers))).toEqual([]);
  });
});

describe('by the ladder of the content', () => {
  const narrow: RoomTool = { tool: 'hollow-reamer', inner: 4.6 };
  const drive: RoomTool = { tool: 'reversing-drive' };

  const missingOf = (...[content, move, screw, tools]: Parameters<typeof unmetOf>) =>
    unmetOf(content, move, screw, tools).map((group) => candidates(group, screw)[0]);

  it('a reamer with 0.1 mm of play goes by the first and not by the second', () => {
    expect(meets(first, narrow, one('hollow-reamer'), facts())).toBe(true);
    expect(meets(second, narrow, one('hollow-reamer'), facts())).toBe(false);
    expect(meets(second, { tool: 'hollow-reamer' }, one('hollow-reamer'), facts())).toBe(true);
    expect(toolsOf(first, move('hollow-ream', first), facts(), [narrow, drive])).toEqual(['hollow-reamer']);
    expect(toolsOf(second, move('hollow-ream'), facts(), [narrow, drive])).toEqual([]);
    expect(missingOf(first, move('hollow-ream', first), facts(), [narrow, drive])).toEqual([]);
    expect(missingOf(second, move('hollow-ream'), facts(), [narrow, drive])).toEqual(['hollow-reamer']);
    expect(missingOf(second, move('hollow-ream'), facts(), [])).toEqual(['hollow-reamer', 'reversing-drive']);
  });

  it('the kinds of tools are told once each, and none of a move that needs none', () => {
    const tools: RoomTool[] = [
      { tool: 'locking-pliers' },
      { tool: 'head-gripper' },
      { tool: 'locking-pliers', size: 2 },
    ];
    for (const content of [first, second]) {
      expect(toolsOf(content, move('grip-head', content), facts(), tools)).toEqual(['locking-pliers', 'head-gripper']);
      expect(toolsOf(content, move('leave-in', content), facts(), tools)).toEqual([]);
    }
  });
});
