/** What stands before a move by the second ladder: the far wall, the bone as far as it is known, the way it turns. */
import { describe, expect, it } from 'vitest';
import type { MoveId, ToolId } from '../../../content/ids.ts';
import type { Move } from '../../../content/types.ts';
import type { BoneMeasure, Opening, Room } from '../../../machines/case.context.ts';
import { asksThin, before, farWallKey } from '../../../machines/ladder/before.ts';
import type { ScrewContext } from '../../../machines/screw.context.ts';
import { atTable, loose, second } from './build.ts';

const { case: bare, screws } = atTable({ ...loose, tools: ['hollow-reamer', 'punch', 'image-intensifier'] }).folded;
const fresh = screws.get('1')?.context as ScrewContext;
const move = (id: MoveId) => second.moves.find((one) => one.id === id) as Move;
const opened = bare.context.room.opened as Opening;
const bone = (cortex: number, more: Partial<BoneMeasure> = {}): BoneMeasure => ({
  ...{ outer: 100, cortex, source: 'measured' },
  ...more,
});
interface There {
  bone?: BoneMeasure | null;
  opened?: Partial<Opening> | null;
  said?: Partial<Room['said']>;
}
const room = ({ bone: measured = bone(30), opened: more = {}, said = {} }: There = {}): Room => ({
  ...bare.context.room,
  bone: measured,
  opened: more && { ...opened, ...more },
  said: { ...bare.context.room.said, ...said },
  limits: { boneConsider: 0.2, boneStop: 0.3 },
});
const screw = (more: Partial<ScrewContext> = {}): ScrewContext => ({ ...fresh, ...more });
/** Holds before gouging, which costs bone, with this much of the cortex lost by it. */
const holds = (there: There, lost: number | null = 0.1, costsBone = true, one = screw()) => {
  const loss = { before: lost === null ? null : 0.05, after: lost, wholeBone: false };
  return before(second, room(there), one, move('gouge-and-grip'), { loss, costsBone }, null);
};

describe('the bone before a bore', () => {
  it('stops at the limits of the case, where a shaft was measured', () => {
    expect([holds({}, 0.19), holds({}, 0.2), holds({}, 0.29), holds({}, 0.3)]).toEqual([
      ...[[], ['bone-consider'], ['bone-consider'], ['bone-stop']],
    ]);
    for (const place of ['near-joint', 'neck'] as const) expect(holds({ bone: bone(30, { place }) }, 0.9)).toEqual([]);
    // A film measures as well.
    expect(holds({ bone: bone(30, { source: 'film' }) }, 0.3)).toEqual(['bone-stop']);
  });

  it('is asked about before every bore where it is to be careful of, also where there is no figure', () => {
    const careful: There[] = [
      { opened: { fragile: true } },
      { opened: { patient: 'child' } },
      { said: { thin: true } },
      { opened: { bone: ' Humerus ' }, bone: bone(13.6) },
    ];
    for (const there of careful) {
      expect([holds(there, 0.1), holds(there, null)]).toEqual([['bone-consider'], ['bone-consider']]);
      // The stop speaks for both; what costs no bone is no matter of it.
      expect([holds(there, 0.3), holds(there, 0.3, false)]).toEqual([['bone-stop'], []]);
    }
    expect(holds({ opened: { fragile: false, patient: 'adult' } })).toEqual([]);
    expect(holds({ opened: { fragile: null, patient: 'not-known' } })).toEqual([]);
    expect(holds({ opened: null })).toEqual([]);
  });

  it('of a humerus is thin by the published cut-off, under 0.137 of its diameter, where it was measured', () => {
    const humerus = (cortex: number, more: Partial<BoneMeasure> = {}, name = 'humerus') =>
      holds({ opened: { bone: name }, bone: bone(cortex, more) });
    expect([humerus(13.6), humerus(137, { outer: 1000 }), humerus(13.8)]).toEqual([['bone-consider'], [], []]);
    expect(humerus(13.6, {}, 'tibia')).toEqual([]);
    expect(humerus(13.6, { source: 'assumed' })).toEqual(['bone-unmeasured']);
    expect(holds({ opened: { bone: 'humerus' }, bone: null })).toEqual(['bone-unmeasured']);
    expect(holds({ opened: null, bone: bone(13.6) })).toEqual([]);
    const { thinHumerus: _, ...limits } = second.limits;
    const none = { loss: { before: 0.05, after: 0.1, wholeBone: false }, costsBone: true };
    const there = room({ opened: { bone: 'humerus' }, bone: bone(13.6) });
    const without = { ...second, limits } as typeof second;
    expect(before(without, there, screw(), move('gouge-and-grip'), none, null)).toEqual([]);
  });

  it('that nobody measured is to be measured, until somebody says to go on; no figure stops there', () => {
    for (const one of [null, bone(30, { source: 'assumed' })]) {
      expect(holds({ bone: one }, 0.9)).toEqual(['bone-unmeasured']);
      expect(holds({ bone: one, said: { unmeasured: true } }, 0.9)).toEqual([]);
      expect(holds({ bone: one, opened: { fragile: true } }, 0.9)).toEqual(['bone-consider', 'bone-unmeasured']);
    }
  });

  it('that broke is no matter of figures any more', () =>
    expect(holds({ said: { broke: true, thin: true }, bone: null }, 0.9)).toEqual([]));
});

describe('whether a bone is thin', () => {
  const asks = (there: There) => asksThin(second, room(there), screw());

  it('is asked of a measured wall under 0.15 of the diameter, of any bone', () => {
    expect([asks({ bone: bone(14.9) }), asks({ bone: bone(15) }), asks({ bone: bone(15.1) })]).toEqual([
      ...[true, false, false],
    ]);
    expect(asks({ bone: { outer: 20, cortex: 2.9, source: 'film' } })).toBe(true);
    // Between both cut-offs a humerus is not thin by itself.
    expect(asks({ opened: { bone: 'humerus' }, bone: bone(14) })).toBe(true);
  });

  it('is not asked where nobody measured, nor where it is to be careful of anyhow', () => {
    expect([asks({ bone: null }), asks({ bone: bone(10, { source: 'assumed' }) })]).toEqual([false, false]);
    expect(asks({ bone: bone(10), opened: { fragile: true } })).toBe(false);
    expect(asks({ bone: bone(10), opened: { patient: 'child' } })).toBe(false);
    expect(asks({ bone: bone(10), said: { thin: true } })).toBe(false);
    expect(asks({ bone: bone(10), opened: { bone: 'humerus' } })).toBe(false);
  });

  it('is not asked by a content that has no figure for it', () => {
    const { thinAsked: _, ...limits } = second.limits;
    expect(asksThin({ ...second, limits }, room({ bone: bone(10) }), screw())).toBe(false);
    expect(asksThin({ ...second, limits }, room({ bone: null }), screw())).toBe(false);
  });
});

describe('the far wall', () => {
  const none = { loss: { before: null, after: null, wholeBone: false }, costsBone: false };
  const deep = screw({ stage: 'fragment-retained', found: { corridor: true } });
  const asked = (one: ScrewContext, tool: ToolId | null = null, id: MoveId = 'push-through') =>
    before(second, room(), one, move(id), none, tool);
  const key = farWallKey(second, move('push-through'), deep, room());
  const passed = (tool: ToolId | null, at = key) => ({ ...deep, farWalls: [{ key: at, tool }] });

  it('is asked about before what goes beyond it, until it was answered for this very thing', () => {
    expect(asked(deep)).toEqual(['far-wall']);
    expect(asked(passed('punch'))).toEqual([]);
    expect(asked(passed('punch', 'another'))).toEqual(['far-wall']);
    expect(asked(deep, null, 'grip-shank')).toEqual([]);
  });

  it('was answered for the tool that was named, or for any where none was', () => {
    expect([asked(passed('punch'), 'punch'), asked(passed('punch'), 'mallet')]).toEqual([[], ['far-wall']]);
    expect([asked(passed(null), 'mallet'), asked(passed(null))]).toEqual([[], []]);
    expect(asked({ ...deep, farWalls: [...passed('punch').farWalls, ...passed('mallet').farWalls] }, 'mallet')).toEqual(
      [],
    );
  });

  it('is another matter by another move, another finding or another tool in the room, and the same by all else', () => {
    const other = (found: ScrewContext['found'], id: MoveId = 'push-through', there = room()) =>
      farWallKey(second, move(id), { ...deep, found }, there);
    const keys = [
      ...[key, other({ corridor: true }, 'far-side'), other({ corridor: false }), other({})],
      ...[other({ corridor: true, tipProud: true }), other({ corridor: true, fragmentLength: 9 })],
      other({ corridor: true, nearSurface: 2 }),
      other({ corridor: true }, 'push-through', { ...room(), tools: [{ tool: 'punch', size: 2 }] }),
    ];
    expect(new Set(keys).size).toBe(keys.length);
    expect(other({ corridor: true, headProud: true })).toBe(key);
    expect(
      other({ corridor: true }, 'push-through', { ...room(), tools: [{ tool: 'punch' }, { tool: 'gouge' }] }),
    ).toBe(key);
  });

  it('comes before the bone, and the way to turn last', () => {
    const costs = { loss: { before: 0.05, after: 0.4, wholeBone: false }, costsBone: true };
    expect(before(second, room(), deep, move('hollow-ream'), costs, null)).toEqual([
      'far-wall',
      'bone-stop',
      'reverse',
    ]);
    expect(before(second, room(), screw({ stage: 'head-sheared' }), move('hollow-ream'), none, null)).toEqual([
      'reverse',
    ]);
  });
});
