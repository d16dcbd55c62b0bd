/** Which tool goes with which screw: by diameter, by the form and size of the recess, by what a move needs. */
import { describe, expect, it } from 'vitest';
import type { MoveId, ToolId } from '../../content/ids.ts';
import type { Move } from '../../content/types.ts';
import type { RoomTool } from '../../machines/case.context.ts';
import {
  candidates,
  expectedReamer,
  fitsDiameter,
  missingFor,
  serves,
  toolsFor,
  workingTool,
} from '../../machines/compute/fit.ts';
import type { ScrewFacts } from '../../machines/screw.context.ts';
import { content, inTheRoom } from '../machines/build.ts';

const facts = (more: Partial<ScrewFacts> = {}): ScrewFacts => ({
  ...(inTheRoom().folded.screws.get('1')?.context.facts as ScrewFacts),
  ...more,
});
const move = (id: MoveId) => content.moves.find((one) => one.id === id) as Move;
const tools = (...ids: ToolId[]): RoomTool[] => ids.map((tool) => ({ tool }));
const [hexagonal, hexalobular, cruciform, slotted] = [
  'driver-hexagonal',
  'driver-hexalobular',
  'driver-cruciform',
  'driver-slotted',
] as const;

describe('a tool and a diameter', () => {
  it.each([
    [{}, true],
    [{ fits: [3.5, 4.5] }, true],
    [{ fits: [3.5] }, false],
    [{ fits: [] }, false],
    [{ fits: [4.5 + 1e-10] }, true],
    [{ fits: [4.5 + 2e-9] }, false],
    [{ inner: 4.5 }, true],
    [{ inner: 4.8 }, true],
    [{ inner: 4.5 - 1e-9 }, true],
    [{ inner: 4.4 }, false],
    [{ fits: [3.5], inner: 5 }, true],
    [{ fits: [4.5], inner: 4 }, true],
    [{ fits: [3.5], inner: 4 }, false],
    [{ outer: 4.6 }, true],
    [{ outer: 4.5 }, false],
    [{ outer: 4, inner: 5 }, false],
    [{ outer: 4, fits: [4.5] }, false],
  ])('of measures %j goes with a screw of 4.5 mm: %s', (measures, fits) =>
    expect(fitsDiameter({ tool: 'hollow-reamer', ...measures }, 4.5)).toBe(fits),
  );
});

it('nobody can say that a tool does not go with a screw whose diameter is not known', () => {
  for (const measures of [{}, { fits: [3.5] }, { fits: [] }, { inner: 2 }, { outer: 2 }])
    expect(fitsDiameter({ tool: 'hollow-reamer', ...measures }, null)).toBe(true);
  expect(serves({ tool: 'reverse-tap', fits: [3.5] }, { anyOf: ['reverse-tap'] }, facts({ diameter: null }))).toBe(
    true,
  );
});

it('of tools that go over a screw only the reamer has to be wider than it', () => {
  expect(fitsDiameter({ tool: 'extraction-sleeve', outer: 4 }, 4.5)).toBe(true);
  expect(fitsDiameter({ tool: 'extraction-sleeve', outer: 4, inner: 4 }, 4.5)).toBe(false);
});

describe('the tools that could serve', () => {
  const matched = { driver: 'matched' } as const;
  const oversized = { driver: 'oversize' } as const;

  it('are those named, in their order', () => {
    expect(candidates({ anyOf: ['t-handle', 'reversing-drive'] }, facts())).toEqual(['t-handle', 'reversing-drive']);
  });

  it.each([
    ['hexagonal', [hexagonal], [hexalobular, cruciform, slotted, hexagonal]],
    ['hexalobular', [hexalobular], [hexagonal, cruciform, slotted, hexalobular]],
    ['cruciform', [cruciform], [hexagonal, hexalobular, slotted, cruciform]],
    ['slotted', [slotted], [hexagonal, hexalobular, cruciform, slotted]],
    ['unknown', [hexagonal, hexalobular, cruciform, slotted], [hexagonal, hexalobular, cruciform, slotted]],
  ] as const)(
    'are for a recess %s the drivers of its form, or, tight, those of other forms first',
    (drive, own, tight) => {
      expect(candidates(matched, facts({ drive }))).toEqual(own);
      expect(candidates(oversized, facts({ drive }))).toEqual(tight);
    },
  );

  const meets = (group: typeof matched | typeof oversized, tool: RoomTool, more: Partial<ScrewFacts> = {}) =>
    serves(tool, group, facts({ driveSize: 3.5, ...more }));

  it.each<[RoomTool, Partial<ScrewFacts>, boolean, boolean]>([
    [{ tool: hexagonal }, {}, true, false],
    [{ tool: hexagonal, size: 3.5 }, {}, true, false],
    [{ tool: hexagonal, size: 4 }, {}, false, true],
    [{ tool: hexagonal, size: 2.5 }, {}, false, false],
    [{ tool: hexagonal, size: 4 }, { driveSize: undefined }, true, false],
    [{ tool: hexagonal }, { driveSize: undefined }, true, false],
    [{ tool: hexalobular, size: 3.5 }, {}, false, true],
    [{ tool: hexalobular, size: 1 }, {}, false, true],
    [{ tool: slotted, size: 9 }, { drive: 'unknown' }, true, true],
    [{ tool: hexagonal, size: 2.5 }, { drive: 'unknown' }, true, true],
    [{ tool: 'pick', size: 3.5 }, {}, false, false],
    [{ tool: hexagonal, fits: [3.5] }, {}, false, false],
  ])('%j for a hexagonal recess of 3.5 mm or %j: matched %s, tight %s', (tool, more, asMatched, asTight) => {
    expect(meets(matched, tool, more)).toBe(asMatched);
    expect(meets(oversized, tool, more)).toBe(asTight);
  });

  it('match a recess that differs by rounding alone', () => {
    expect(meets(matched, { tool: hexagonal, size: 3.5 + 1e-10 })).toBe(true);
    expect(meets(matched, { tool: hexagonal, size: 3.5 + 2e-9 })).toBe(false);
  });

  it('serve by diameter too where any of several will do', () => {
    const group = { anyOf: ['hard-metal-drill', 'reverse-tap'] as const };
    const asked = (tool: RoomTool) => serves(tool, { anyOf: [...group.anyOf] }, facts());
    expect(asked({ tool: 'reverse-tap' })).toBe(true);
    expect(asked({ tool: 'reverse-tap', fits: [4.5] })).toBe(true);
    expect(asked({ tool: 'reverse-tap', fits: [3.5] })).toBe(false);
    expect(asked({ tool: 'gouge' })).toBe(false);
    const same: RoomTool = { tool: hexagonal, size: 3.5 };
    expect(serves(same, { anyOf: [slotted, hexagonal] }, facts({ drive: 'hexagonal', driveSize: 3.5 }))).toBe(true);
  });
});

describe('what a move lacks', () => {
  it('is the first tool of every need that nothing in the room meets', () => {
    const tap = move('reverse-tap');
    expect(missingFor(tap, facts(), [])).toEqual(['hard-metal-drill', 'reverse-tap', 't-handle']);
    expect(missingFor(tap, facts(), tools('reversing-drive', 'reverse-tap'))).toEqual(['hard-metal-drill']);
    expect(missingFor(tap, facts(), tools('reversing-drive', 'reverse-tap', 'hard-metal-drill'))).toEqual([]);
    expect(missingFor(move('drive-oversize'), facts({ drive: 'slotted' }), [])).toEqual(['mallet', hexagonal]);
  });
});

describe('the tool that a move works with', () => {
  it.each([
    ['turn-out', 'cruciform', cruciform],
    ['pack-recess', 'hexagonal', hexagonal],
    ['drive-oversize', 'hexagonal', hexalobular],
    ['conical-extractor', 'hexagonal', 'conical-extractor'],
    ['burr-out', 'hexagonal', 'metal-cutting-burr'],
  ] as const)('%s in a recess %s is %s', (id, drive, tool) =>
    expect(workingTool(move(id), facts({ drive }))).toBe(tool),
  );

  it('is taken for narrow forceps where a move needs none', () => {
    expect(workingTool(move('leave-in'), facts())).toBe('narrow-forceps');
  });
});

describe('the tools that a move is tried with', () => {
  const tried = (id: MoveId, room: readonly RoomTool[], more: Partial<ScrewFacts> = {}) =>
    toolsFor(move(id), facts(more), room);

  it.each<[MoveId, ToolId[], ToolId[]]>([
    // The tap, not the drill before it nor the handle.
    ['reverse-tap', ['hard-metal-drill', 'reverse-tap', 't-handle'], ['reverse-tap']],
    // The driver, not the foil or the mallet.
    ['pack-recess', ['metal-foil', hexagonal], [hexagonal]],
    ['drive-oversize', ['mallet', slotted, hexalobular], [slotted, hexalobular]],
    // What grips, not what clears the way for it; in a slot a driver grips too.
    ['gouge-and-grip', ['gouge', 'head-gripper', 'locking-pliers'], ['head-gripper', 'locking-pliers']],
    ['slot-head', ['metal-cutting-burr', 'locking-pliers', slotted], ['locking-pliers', slotted]],
    // Else what stands first.
    ['conical-extractor', ['t-handle', 'conical-extractor'], ['conical-extractor']],
    ['hollow-ream', ['reversing-drive', 'hollow-reamer'], ['hollow-reamer']],
    ['turn-out', ['mallet', hexagonal], [hexagonal]],
  ])('of %s with %j in the room are %j', (id, room, counted) => {
    expect(tried(id, tools(...room))).toEqual(counted);
    expect(tried(id, [])).toEqual([]);
  });

  it('are each kind once, in the order in which they were brought', () => {
    const room: RoomTool[] = [
      { tool: 'locking-pliers' },
      { tool: 'head-gripper' },
      { tool: 'locking-pliers', size: 2 },
    ];
    expect(tried('grip-head', room)).toEqual(['locking-pliers', 'head-gripper']);
  });

  it('are those that go with the screw', () => {
    const taps: RoomTool[] = [{ tool: 'reverse-tap', fits: [3.5] }];
    expect(tried('reverse-tap', taps, { diameter: 4.5 })).toEqual([]);
    expect(tried('reverse-tap', taps, { diameter: 3.5 })).toEqual(['reverse-tap']);
    expect(tried('turn-out', tools(hexalobular), { drive: 'hexagonal' })).toEqual([]);
  });

  it('are none of a move that needs none', () => expect(tried('leave-in', tools(hexagonal, 'gouge'))).toEqual([]));

  it('are of the first need where a department made the move with others', () => {
    const other: Move = { ...move('gouge-and-grip'), needs: [{ anyOf: ['pick'] }, { driver: 'matched' }] };
    expect(toolsFor(other, facts(), tools('pick', hexagonal, 'head-gripper'))).toEqual(['pick']);
  });
});

describe('the hollow reamer to be expected', () => {
  const reamer = (measures: Partial<RoomTool>): RoomTool => ({ tool: 'hollow-reamer', ...measures });
  const expected = (diameter: number, tools: RoomTool[], named?: ToolId) =>
    expectedReamer(tools, diameter, content.limits, named);
  const { small, smallUpTo, large } = content.limits.reamerPrefill;
  const wall = content.limits.reamerWall.value;

  it('without any is pre-filled by the screw, and assumed', () => {
    expect(expected(4.5, [])).toEqual({ outer: 4.5 + large, assumed: true });
    expect(expected(smallUpTo, [])).toEqual({ outer: smallUpTo + small, assumed: true });
    expect(expected(smallUpTo + 1e-9, [])).toEqual({ outer: smallUpTo + 1e-9 + small, assumed: true });
    expect(expected(smallUpTo + 0.1, [])).toEqual({ outer: smallUpTo + 0.1 + large, assumed: true });
    expect(expected(4.5, [reamer({})])).toEqual({ outer: 4.5 + large, assumed: true });
    expect(expected(4.5, [{ tool: 'gouge', outer: 5 }])).toEqual({ outer: 4.5 + large, assumed: true });
  });

  it('is as wide as was measured, else two walls wider than it is inside', () => {
    expect(expected(4.5, [reamer({ outer: 7, inner: 5 })])).toEqual({ outer: 7, assumed: false });
    expect(expected(4.5, [reamer({ inner: 6 })])).toEqual({ outer: 6 + 2 * wall, assumed: true });
  });

  it('is the narrowest that fits, in whatever order they were brought', () => {
    const three = [reamer({ inner: 6, outer: 8 }), reamer({ inner: 5, outer: 7 }), reamer({ inner: 4, outer: 5.5 })];
    expect(expected(4.5, three)).toEqual({ outer: 7, assumed: false });
    expect(expected(4.5, [...three].reverse())).toEqual({ outer: 7, assumed: false });
  });

  it('that was named counts even where it does not fit, as long as none does', () => {
    const tight = reamer({ inner: 4, outer: 9 });
    expect(expected(4.5, [tight])).toEqual({ outer: 4.5 + large, assumed: true });
    expect(expected(4.5, [tight], 'gouge')).toEqual({ outer: 4.5 + large, assumed: true });
    expect(expected(4.5, [tight], 'hollow-reamer')).toEqual({ outer: 9, assumed: false });
    const fitting = reamer({ inner: 5, outer: 10 });
    expect(expected(4.5, [tight, fitting], 'hollow-reamer')).toEqual({ outer: 10, assumed: false });
    expect(expected(4.5, [reamer({ outer: 4.5 })], 'hollow-reamer')).toEqual({ outer: 4.5 + large, assumed: true });
  });
});

describe('a need that a driver meets, or something else', () => {
  const pull = { driver: 'matched', or: ['locking-pliers', 'head-gripper'] } as const;
  const pulling = { ...move('turn-out'), needs: [{ ...pull, or: [...pull.or] }] };

  it('is met by either, and what stands beside the driver stands for all', () => {
    expect(missingFor(pulling, facts(), tools('head-gripper'))).toEqual([]);
    expect(missingFor(pulling, facts({ drive: 'hexagonal' }), tools(hexagonal))).toEqual([]);
    expect(missingFor(pulling, facts({ drive: 'hexagonal' }), tools(hexalobular))).toEqual(['locking-pliers']);
    expect(workingTool(pulling, facts())).toBe('locking-pliers');
  });

  it('still matches the driver against the recess by size', () => {
    const [small, right] = [2.5, 3.5].map((size): RoomTool[] => [{ tool: hexagonal, size }]);
    const screw = facts({ drive: 'hexagonal', driveSize: 3.5 });
    expect(missingFor(pulling, screw, small ?? [])).toEqual(['locking-pliers']);
    expect(missingFor(pulling, screw, right ?? [])).toEqual([]);
  });
});
