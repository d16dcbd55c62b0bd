/** Where the rules of the second ladder come in: with a content that is written for them, and never without them. */
import { describe, expect, it, vi } from 'vitest';
import type { MoveId } from '../../../content/ids.ts';
import type { Content, Move } from '../../../content/types.ts';
import type { EntryOf } from '../../../machines/entry.ts';
import type { ScrewContext } from '../../../machines/screw.context.ts';
import { madeMove, secondOf, stageAfter } from '../../../machines/second-ladder.ts';
import { atTable, first, second } from './build.ts';

type Recess = NonNullable<EntryOf<'move-ended'>['recess']>;
const move = (content: Content, id: MoveId) => content.moves.find((one) => one.id === id) as Move;
const slip = (recess?: Recess): EntryOf<'move-ended'> => ({
  ...{ n: 9, at: '2026-03-04T09:00:00Z', logged: '2026-03-04T09:00:00Z', type: 'move-ended', screw: '1' },
  ...{ outcome: 'slipped', ...(recess && { recess }) },
});

describe('a content', () => {
  it('of the first ladder has none of the rules of the second, of the second all of them', () => {
    expect(secondOf(first)).toBeNull();
    expect(secondOf(second)?.closed).toBeTypeOf('function');
  });

  it('of the second is not read without its rules: a case would be folded by others than it was written under', async () => {
    vi.resetModules();
    const bare = await import('../../../machines/second-ladder.ts');
    expect(bare.secondOf(first)).toBeNull();
    expect(() => bare.secondOf(second)).toThrow(/rules of ladder 2 are not loaded.*fetchReleases/);
    const rules = secondOf(second) as NonNullable<ReturnType<typeof secondOf>>;
    bare.learn(rules);
    expect(bare.secondOf(second)).toBe(rules);
    expect(bare.secondOf(first)).toBeNull();
  });
});

it('a move for which a driver or something else serves turns in the recess by the second ladder, with the driver alone', () => {
  const lift = move(second, 'lift-and-turn');
  expect(madeMove(second, lift, { tool: 'driver-hexagonal' }).turnsInRecess).toBe(true);
  expect(madeMove(second, lift, { tool: 'head-gripper' })).toBe(lift);
  expect(madeMove(second, lift, { tool: 'head-gripper' }, { ...slip(), turned: 'driver' }).turnsInRecess).toBe(true);
  const turnOut = move(first, 'turn-out');
  expect(madeMove(first, turnOut, { tool: 'driver-hexagonal' })).toBe(turnOut);
});

describe('a slip in a sound seat', () => {
  const screw = (content: Content, slips = 0): ScrewContext => ({
    ...(atTable({ content, tools: [] }).folded.screws.get('1')?.context as ScrewContext),
    slips,
  });
  const after = (content: Content, recess?: Recess, slips = 0, from: 'seated' | 'head-sheared' = 'seated') =>
    stageAfter(content, screw(content, slips), slip(recess), move(content, 'turn-out'), from);

  it('strips it by the first ladder, unless it was seen to be sound', () => {
    expect([after(first), after(first, 'not-seen'), after(first, 'damaged')]).toEqual(Array(3).fill('recess-stripped'));
    expect([after(first, 'sound'), after(first, 'sound', 1)]).toEqual([null, null]);
  });

  it('strips it by the second ladder where it was seen to be damaged or nobody spoke of it, and at the second slip always', () => {
    expect([after(second), after(second, 'damaged')]).toEqual(['recess-stripped', 'recess-stripped']);
    expect([after(second, 'sound'), after(second, 'not-seen')]).toEqual([null, null]);
    expect([after(second, 'sound', 1), after(second, 'not-seen', 1)]).toEqual(['recess-stripped', 'recess-stripped']);
  });

  it('strips nothing where the head is gone', () =>
    expect([after(first, undefined, 0, 'head-sheared'), after(second, undefined, 1, 'head-sheared')]).toEqual([
      null,
      null,
    ]));
});
