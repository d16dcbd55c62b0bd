/** The section on the bone: what was made at each level, and what that leaves of it. */
import { items, over, text } from './blocks.ts';
import { boneAt, boneEntered, ownHole, sectionOf } from '../../machines/compute/bone-cost.ts';
import { ringModulus, type BoneSection } from '../../machines/compute/ring.ts';
import type { ScrewContext } from '../../machines/screw.context.ts';
import type { BoneView } from '../../machines/view.types.ts';
import { heading, some } from '../format/prose.ts';
import { citeOf } from './items.ts';
import type { RecordLog } from './log.ts';
import type { BoneTold, ScrewFate, Section } from './model.ts';

/** Figures with the screw's own hole alone, and after all that was made. */
function figures(log: RecordLog, before: BoneSection, after: BoneSection): string[] {
  const { percent } = log.locale;
  const { bone } = log.locale.sections;
  const untested = log.view.bone ? bone.notTested : bone.beyondTested;
  const torsion = ({ torsionKept, torsionBand: [low, high], torsionTested }: BoneSection) =>
    bone.torsion(torsionKept, low, high, torsionTested ? '' : untested);
  return [
    bone.ring(percent(before.cortexLost), percent(after.cortexLost)),
    bone.bending(percent(before.bendingKept), percent(after.bendingKept)),
    bone.twisting(torsion(before), torsion(after)),
  ];
}

/** What the level bears, and what a sound adult bone of that name would. */
function modulusLines(
  log: RecordLog,
  { sound, levels }: BoneView,
  { id }: ScrewContext,
  ring: number,
  before: BoneSection,
): string[] {
  const words = log.locale.sections.bone;
  const level = Object.hasOwn(levels, id) ? levels[id] : undefined;
  if (!level || level.modulus === null) return [];
  return some(
    words.modulus(ring, before.bendingKept * ring, level.modulus),
    sound !== null && level.ofSound !== null && words.ofSound(level.ofSound, sound, citeOf(log, 'bone-prefill')),
    sound === null && words.noSound,
  );
}

/** What is told at one level beside its size and what was made there. */
function reckonedLines(log: RecordLog, context: ScrewContext): string[] {
  const words = log.locale.sections.bone;
  const { room } = log.folded.case.context;
  const bone = boneAt(log.content, room, context.id);
  const own = context.facts.diameter;
  if (!bone) return [];
  if (own === null) return [words.noDiameter];
  const hole = ownHole({ ...context.facts, diameter: own });
  const before = sectionOf(log.content, bone, [hole]);
  const after = sectionOf(log.content, bone, [hole, ...context.bores]);
  if (!before || !after) return [words.asWide];
  const { boneConsider, boneStop } = room.limits;
  const [ring, bending, ...rest] = figures(log, before, after);
  return some(
    ring,
    bending,
    ...(log.view.bone ? modulusLines(log, log.view.bone, context, ringModulus(bone.outer, bone.cortex), before) : []),
    ...rest,
    // The screw's own hole alone was there before: no limit is about it.
    context.bores.length > 0 &&
      (after.cortexLost >= boneStop
        ? words.reachesUpper(boneStop)
        : after.cortexLost >= boneConsider && words.reachesLower(boneConsider)),
    after.openSection && words.open,
  );
}

/** The level of one screw: the size of the bone there, and all that is told of it, that size first. */
function boneLevel(log: RecordLog, context: ScrewContext, entered: boolean): { size: string | null; lines: string[] } {
  const { tally, bore, sections } = log.locale;
  const words = sections.bone;
  const { room } = log.folded.case.context;
  const bone = boneAt(log.content, room, context.id);
  const own = context.facts.diameter;
  const made = context.bores.length ? words.bores(own, tally(context.bores.map(bore)), entered) : words.noBores(own);
  const size = bone
    ? words.size(bone.outer, bone.cortex, words.sources[boneEntered(room, context.id)?.source ?? 'named'])
    : null;
  const level = log.view.bone?.levels[context.id];
  // What has no figure says why; a bone or a screw that is not known is said so either way.
  const told = level?.why ? words.notModelled[level.why] : null;
  if (told !== null) return { size, lines: some(size, made, told) };
  return { size, lines: bone ? some(size, made, ...reckonedLines(log, context)) : [words.unknown, made] };
}

/** Holes that were seen away from the plate or at the end of what stays: weak places of their own. */
function holeLines(log: RecordLog): string[] {
  const { bone } = log.locale.sections;
  const seen = log.of('hole-seen').map(({ where, diameter, screw }) => bone.hole(where, diameter, screw ?? null));
  return seen.length ? seen : [bone.noHole];
}

/** Of the bone as a whole: that it broke, where it is weakest, what nobody could add together. */
function wholeLines(log: RecordLog, view: BoneView): string[] {
  const words = log.locale.sections.bone;
  if (view.broken) return [words.broken, ...holeLines(log)];
  const levels = Object.entries(view.levels);
  const unknown = levels.filter(([, { modulus }]) => modulus === null).map(([id]) => id);
  const least = view.weakest === null ? null : view.levels[view.weakest];
  return some(
    view.weakest !== null &&
      levels.length > 1 &&
      words.weakest(view.weakest, least?.modulus ?? 0, unknown, levels.length - unknown.length),
    view.openingsAsked.length > 0 && words.openingsAsked(view.openingsAsked),
    ...holeLines(log),
  );
}

/** How the figures come about, and that they are estimates. */
function basisOf(log: RecordLog): string {
  const { torsionRate, torsionTestedTo, torsionWidens, boneStop } = log.content.limits;
  const { bone } = log.locale.sections;
  const basis = bone.basis(
    torsionRate.value,
    citeOf(log, torsionRate.source),
    torsionTestedTo.value,
    citeOf(log, torsionTestedTo.source),
    citeOf(log, boneStop.source),
  );
  return torsionWidens ? `${basis} ${bone.widens(torsionWidens.value, citeOf(log, torsionWidens.source))}` : basis;
}

/**
 * What a record tells of the bone.
 *
 * @returns by the second ladder lines on the whole bone as well; under the first there are none
 */
export function boneOf(log: RecordLog, fates: readonly ScrewFate[]): BoneTold {
  const levels = fates.flatMap((fate) => {
    const context = log.folded.screws.get(fate.id)?.context;
    const entered = fate.attempts.every(({ bores, boresEntered }) => !bores.length || boresEntered);
    return context ? [{ screw: fate.id, ...boneLevel(log, context, entered) }] : [];
  });
  return { whole: log.view.bone ? wholeLines(log, log.view.bone) : [], levels, basis: basisOf(log) };
}

export function boneSection(log: RecordLog, { whole, levels, basis }: BoneTold): Section {
  const { titles, noScrew } = log.locale.sections;
  return {
    id: 'bone',
    title: titles.bone,
    blocks: [
      ...(whole.length ? [items(...whole)] : []),
      ...levels.flatMap(({ screw, lines }) => [over(heading(log.locale.screw(screw))), items(...lines)]),
      ...(levels.length ? [] : [text(noScrew)]),
      text(basis),
    ],
  };
}
