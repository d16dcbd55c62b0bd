/** The bone each move costs at the level of a screw. */
import type { Content, Move } from '../../content/types.ts';
import { workingStages, type ToolId, type WorkingStage } from '../../content/ids.ts';
import type { BoneMeasure, Room } from '../case.context.ts';
import type { Bore } from '../entry.ts';
import type { Loss } from '../guards.ts';
import { secondOf } from '../second-ladder.ts';
import type { ScrewContext, ScrewFacts } from '../screw.context.ts';
import type { Assumed, BoneFigures } from '../view.types.ts';
import { expectedReamer } from './fit.ts';
import { section, type BoneSection } from './ring.ts';

/**
 * What was entered of the bone at a screw's level: there, else of the whole bone. A screw may be called by a name that
 * every object inherits.
 *
 * @example boneEntered(room, 'toString') // null when nothing was entered
 */
export const boneEntered = ({ bone, boneAt: levels }: Room, screw: string): BoneMeasure | null =>
  (Object.hasOwn(levels, screw) ? levels[screw] : undefined) ?? bone;

/**
 * The bone at a screw's level: measured there, else for the whole bone, else a pre-fill by the bone's name, from
 * memory. Null when none of these is known.
 */
export function boneAt(content: Content, room: Room, screw: string): BoneMeasure | null {
  const entered = boneEntered(room, screw);
  if (entered) return entered;
  const prefill = soundBone(content, room);
  return prefill ? { outer: prefill.outer, cortex: prefill.cortex, source: 'assumed' } : null;
}

/**
 * A sound adult bone of the name of the case's bone, from memory; null where the content has none. By the second ladder
 * none stands for the bone of a child.
 */
export function soundBone(content: Content, { opened }: Pick<Room, 'opened'>): Content['bones'][number] | null {
  if (content.ladder === 2 && opened?.patient === 'child') return null;
  const name = opened?.bone.trim().toLowerCase();
  return content.bones.find(({ id }) => id === name) ?? null;
}

/** A lag screw of the hip is at least so thick, mm: its bone is no shaft. From memory. */
const lagScrew = 8;

/**
 * Is the bone there one that the ring is made for? A shaft, or nobody said otherwise.
 *
 * @example isShaft({ outer: 30, cortex: 2, source: 'measured', place: 'neck' }, screw) // false
 */
export const isShaft = (bone: Pick<BoneMeasure, 'place'>, { facts }: Pick<ScrewContext, 'facts'>): boolean =>
  bone.place === undefined || bone.place === 'not-known'
    ? !(facts.thread === 'partly' && (facts.diameter ?? 0) >= lagScrew)
    : bone.place === 'shaft';

/** The screw's own hole: any move that only takes the screw out costs no more. */
export const ownHole = (screw: Pick<ScrewFacts, 'cortices'> & { diameter: number }): Bore => ({
  wall: screw.cortices === 2 ? 'both' : 'near',
  diameter: screw.diameter,
});

export interface Projected {
  bores: Bore[];
  /** A hollow reamer of unknown outer diameter stands behind a bore. */
  reamerAssumed: boolean;
}

/**
 * Bores a move is expected to make beyond the screw's own hole.
 *
 * @param stage where the move starts from, @param named the tool named for the move
 * @example projected(content, gouge, 'head-sheared', facts, []).bores // [{ wall: 'near', diameter: 8.5 }] for 4.5 mm
 */
export function projected(
  content: Content,
  move: Move,
  stage: WorkingStage,
  facts: ScrewFacts,
  tools: Room['tools'],
  named?: ToolId,
): Projected {
  const walls = move.projection[stage];
  const result: Projected = { bores: [], reamerAssumed: false };
  const { diameter } = facts;
  // A screw of unknown diameter costs nobody knows how much.
  if (diameter === null) return result;
  for (const wall of ['near', 'far'] as const) {
    const bore = walls?.[wall];
    if (!bore) continue;
    if ('plus' in bore) {
      result.bores.push({ wall, diameter: diameter + bore.plus });
    } else {
      const reamer = expectedReamer(tools, diameter, content.limits, named);
      result.bores.push({ wall, diameter: reamer.outer });
      result.reamerAssumed = reamer.assumed;
    }
  }
  return result;
}

export interface Cost {
  figures: BoneFigures;
  loss: Loss;
  before: BoneSection | null;
  after: BoneSection | null;
  assumed: Assumed[];
  /** More than the screw's own hole is made, or may be: nobody said what it costs. */
  costsBone: boolean;
}

const none: BoneFigures = {
  cortexLost: null,
  cortexLostBefore: null,
  bendingKept: null,
  torsionKept: null,
  torsionTested: null,
};

const sections = new WeakMap<Content, Map<string, BoneSection>>();
/** A case has few screws, and each few bores: more than so many are of other cases. */
const mostSections = 500;

/**
 * The section of a bone with these bores, or null when one of them is as wide as the bone. Computed once for the same
 * bone and bores, since every entry on a screw asks for it again.
 */
export function sectionOf(content: Content, bone: BoneMeasure, bores: readonly Bore[]): BoneSection | null {
  if (bores.some((bore) => bore.diameter >= bone.outer)) return null;
  let known = sections.get(content);
  if (!known || known.size >= mostSections) sections.set(content, (known = new Map()));
  const key = JSON.stringify([bone.outer, bone.cortex, bores]);
  const same = known.get(key);
  if (same) return same;
  const { torsionRate, torsionBand, torsionTestedTo, torsionWidens } = content.limits;
  const fresh = section(bone.outer, bone.cortex, bores, {
    torsionRate: torsionRate.value,
    torsionBand: torsionBand.value,
    torsionTestedTo: torsionTestedTo.value,
    ...(torsionWidens && { torsionWidens: torsionWidens.value }),
  });
  known.set(key, fresh);
  return fresh;
}

/**
 * What a move costs at a screw's level: the hole and the bores made so far, and the same with the projection.
 *
 * @param named bores that were named for it, in the place of those to be expected
 * @returns figures null when no bone is known, or when a bore is as wide as the bone (`loss.wholeBone`)
 */
export function boneCost(content: Content, room: Room, screw: ScrewContext, move: Move, named?: readonly Bore[]): Cost {
  const bone = boneAt(content, room, screw.id);
  const stage = (workingStages as readonly string[]).includes(screw.stage) ? (screw.stage as WorkingStage) : 'seated';
  const second = secondOf(content);
  const tools = second?.foreseen(content, screw, room.tools) ?? room.tools;
  const expected = projected(content, move, stage, screw.facts, tools);
  const projection = named ? { bores: named, reamerAssumed: false } : expected;
  const assumed: Assumed[] = [];
  if (bone?.source === 'assumed') assumed.push('bone');
  if (projection.reamerAssumed) assumed.push('reamer');
  const { diameter } = screw.facts;
  const notSaid =
    named === undefined && (move.boneAsked || (diameter === null && move.projection[stage] !== undefined));
  const costsBone = projection.bores.length > 0 || notSaid;
  const noFigures: BoneFigures = { ...none, ...second?.strength(content, room, null, null) };
  const unknown = { figures: noFigures, before: null, after: null, assumed, costsBone };
  const modelled = content.ladder === 1 || (!room.said.broke && bone !== null && isShaft(bone, screw));
  if (!bone || diameter === null || move.id === 'other' || !modelled || notSaid)
    return { ...unknown, loss: { before: null, after: null, wholeBone: false } };
  const made = [ownHole({ ...screw.facts, diameter }), ...screw.bores];
  const before = sectionOf(content, bone, made);
  const after = projection.bores.length ? sectionOf(content, bone, [...made, ...projection.bores]) : before;
  if (!before || !after) {
    const wholeBone = projection.bores.some((bore) => bore.diameter >= bone.outer);
    return { ...unknown, loss: { before: null, after: null, wholeBone } };
  }
  return {
    // An opening that nobody told the size of, or that runs into another: it costs at least this much, and holds are
    // reckoned by that.
    figures:
      screw.climb?.boneUnsaid || screw.found.openingsMeet
        ? noFigures
        : {
            cortexLost: after.cortexLost,
            cortexLostBefore: before.cortexLost,
            bendingKept: after.bendingKept,
            torsionKept: after.torsionKept,
            torsionTested: after.torsionTested,
            ...second?.strength(content, room, bone, after),
          },
    loss: { before: before.cortexLost, after: after.cortexLost, wholeBone: false },
    before,
    after,
    assumed,
    costsBone,
  };
}
