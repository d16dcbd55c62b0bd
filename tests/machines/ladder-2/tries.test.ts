/** Which tools a move has not been tried with yet, and what tells one tool in the room from another. */
import { describe, expect, it } from 'vitest';
import type { ToolId } from '../../../content/ids.ts';
import { leftUntried, onlyKind, toolKey, type Try } from '../../../machines/ladder/climb.ts';

const [pliers, rongeur, small, large] = [
  toolKey({ tool: 'locking-pliers' }),
  toolKey({ tool: 'retired-rongeur' }),
  toolKey({ tool: 'head-gripper', fits: [3.5] }),
  toolKey({ tool: 'head-gripper', fits: [4.5] }),
];
const tried = (tool: ToolId | null, among: string[] | null): Try => ({ move: 'grip-head', tool, among });

describe('two tools', () => {
  it('are the same by kind and sizes, in whatever order the screws stand that they go with', () => {
    expect(toolKey({ tool: 'head-gripper', fits: [4.5, 10, 3.5] })).toBe(
      toolKey({ tool: 'head-gripper', fits: [10, 3.5, 4.5] }),
    );
    const sizes = [{}, { size: 4 }, { outer: 4 }, { inner: 4 }, { fits: [4] }, { size: 5 }];
    const keys = sizes.map((one) => toolKey({ tool: 'head-gripper', ...one }));
    expect(new Set(keys).size).toBe(sizes.length);
  });

  it('leave the list of the room as it is', () => {
    const fits = [4.5, 3.5];
    toolKey({ tool: 'head-gripper', fits });
    expect(fits).toEqual([4.5, 3.5]);
  });
});

it('a tool that nobody named is known where all that it can have been are of one kind', () => {
  expect(onlyKind([small, large])).toBe('head-gripper');
  expect(onlyKind([pliers])).toBe('locking-pliers');
  expect(onlyKind([pliers, small])).toBeNull();
  expect(onlyKind([])).toBeNull();
});

describe('a try spends', () => {
  it('nothing before there was one', () => expect(leftUntried([pliers, rongeur], [])).toEqual([pliers, rongeur]));

  it('the tool that was named, and no other', () => {
    const here = [pliers, rongeur];
    expect(leftUntried(here, [tried('retired-rongeur', here)])).toEqual([pliers]);
    expect(leftUntried(here, [tried('retired-rongeur', here), tried('retired-rongeur', here)])).toEqual([pliers]);
  });

  it('one of two of a kind at a time', () => {
    const here = [small, large, pliers];
    expect(leftUntried(here, [tried('head-gripper', here)])).toEqual([large, pliers]);
    expect(leftUntried(here, [tried('head-gripper', here), tried('head-gripper', here)])).toEqual([pliers]);
  });

  it('of several, where none was named, one that nobody named for another try', () => {
    const here = [pliers, rongeur];
    // Told in this order, the unnamed one was the rongeur all the same: the pliers were named.
    expect(leftUntried(here, [tried(null, here), tried('locking-pliers', here)])).toEqual([]);
    expect(leftUntried(here, [tried(null, here)])).toEqual([rongeur]);
  });

  it('a tool that has left the room before one that is here', () => {
    expect(leftUntried([rongeur], [tried(null, [rongeur, pliers])])).toEqual([rongeur]);
    expect(leftUntried([rongeur], [tried(null, [rongeur, pliers]), tried(null, [rongeur, pliers])])).toEqual([]);
  });

  it('none that was brought after it', () => {
    expect(leftUntried([pliers, rongeur], [tried(null, [pliers])])).toEqual([rongeur]);
    expect(leftUntried([pliers, rongeur], [tried(null, [])])).toEqual([pliers, rongeur]);
  });

  it('one that was named and told to be here only later, where none of its kind was here before', () => {
    expect(leftUntried([pliers, rongeur], [tried('retired-rongeur', [pliers])])).toEqual([pliers]);
    expect(leftUntried([pliers], [tried('retired-rongeur', [pliers])])).toEqual([pliers]);
  });

  it('one of those in the room, where the move was only played ahead', () => {
    expect(leftUntried([pliers, rongeur], [tried(null, null)])).toEqual([rongeur]);
    expect(leftUntried([pliers, rongeur], [tried('retired-rongeur', null)])).toEqual([pliers]);
  });
});
