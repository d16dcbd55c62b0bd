/** The bone of a case level by level, by the second ladder: what each bears, which is the weakest, and what is not known. */
import type { Content } from '../../content/types.ts';
import type { BoneMeasure, Room } from '../case.context.ts';
import type { ScrewContext } from '../screw.context.ts';
import type { Standing } from '../second-ladder.ts';
import type { BoneFigures, BoneLevel, BoneView, NotModelled } from '../view.types.ts';
import { boneAt, isShaft, ownHole, sectionOf, soundBone } from '../compute/bone-cost.ts';
import { ringModulus, type BoneSection } from '../compute/ring.ts';

/** What the second ladder says of a section besides: what it bears, and how far its torsion is known. */
export type Strength = Required<Pick<BoneFigures, 'modulus' | 'ofSound' | 'torsionBand'>>;

/**
 * What a section bears.
 *
 * @param bone null, as `section`, where nothing is reckoned
 * @returns mm³, and the same as a share of a sound adult bone of that name; all null where nothing is reckoned
 */
export function strength(
  content: Content,
  room: Room,
  bone: BoneMeasure | null,
  section: Pick<BoneSection, 'bendingKept' | 'torsionBand'> | null,
): Strength {
  if (!bone || !section) return { modulus: null, ofSound: null, torsionBand: null };
  const modulus = section.bendingKept * ringModulus(bone.outer, bone.cortex);
  const sound = soundBone(content, room);
  const ofSound = sound && modulus / ringModulus(sound.outer, sound.cortex);
  return { modulus, ofSound, torsionBand: section.torsionBand };
}

const noFigures = {
  ...{ cortexLost: null, bendingKept: null, modulus: null, ofSound: null },
  ...{ torsionKept: null, torsionBand: null, torsionTested: null },
};

/** A slot along the bone, or a window: long enough to run into the one beside it. */
const isOpenedLong = ({ bores, climb }: ScrewContext): boolean =>
  climb?.windowed === true || bores.some(({ length, diameter }) => (length ?? 0) > diameter);

/** Why nothing is reckoned at a level, before any section is looked at; null when something may be. */
function notModelled(content: Content, room: Room, screw: ScrewContext): NotModelled | null {
  if (room.said.broke) return 'broken';
  const bone = boneAt(content, room, screw.id);
  if (!bone) return 'bone-not-known';
  if (bone.place === 'near-joint' || bone.place === 'neck') return bone.place;
  if (!isShaft(bone, screw)) return 'lag-screw';
  if (screw.facts.diameter === null) return 'diameter-not-known';
  if (screw.climb?.boneUnsaid) return 'opening-not-said';
  return screw.found.openingsMeet ? 'openings-meet' : null;
}

/**
 * The bone at the level of a screw, with its own hole and every bore that was made.
 *
 * @returns figures, or why there are none; never throws
 * @example boneLevel(content, room, screw45).modulus // 905.3, in a tibia of 24/5 mm with a hole of 4.5 mm through both walls
 */
export function boneLevel(content: Content, room: Room, screw: ScrewContext): BoneLevel {
  const bone = boneAt(content, room, screw.id);
  const assumed = bone?.source === 'assumed';
  const why = notModelled(content, room, screw);
  const { diameter } = screw.facts;
  if (why || !bone || diameter === null) return { why: why ?? 'bone-not-known', ...noFigures, assumed };
  const section = sectionOf(content, bone, [ownHole({ ...screw.facts, diameter }), ...screw.bores]);
  if (!section) return { why: 'as-wide', ...noFigures, assumed };
  const { cortexLost, bendingKept, torsionKept, torsionTested } = section;
  return {
    ...{ why: null, cortexLost, bendingKept, torsionKept, torsionTested, assumed },
    ...strength(content, room, bone, section),
  };
}

const levels = new WeakMap<ScrewContext, { room: Room; level: BoneLevel }>();

/** Reckoned again only when the screw or the room changed. */
function keptLevel(content: Content, room: Room, screw: ScrewContext): BoneLevel {
  const known = levels.get(screw);
  if (known?.room === room) return known.level;
  const level = boneLevel(content, room, screw);
  levels.set(screw, { room, level });
  return level;
}

/** The bone of a case, each level by its screw; openings that may meet are named, never added together. */
export function boneView({ content, case: { context }, screws: listed }: Standing): BoneView {
  const { room } = context;
  const screws = [...listed.values()].map((screw) => screw.context);
  const all = screws.map((screw) => [screw.id, keptLevel(content, room, screw)] as const);
  const reckoned = all.flatMap(([id, { modulus }]) => (modulus === null ? [] : [{ id, modulus }]));
  const least = reckoned.reduce<(typeof reckoned)[number] | null>(
    (weakest, one) => (weakest === null || one.modulus < weakest.modulus ? one : weakest),
    null,
  );
  const long = screws.filter(isOpenedLong);
  const sound = soundBone(content, room);
  return {
    broken: room.said.broke,
    sound: sound && ringModulus(sound.outer, sound.cortex),
    levels: Object.fromEntries(all),
    weakest: least?.id ?? null,
    openingsAsked:
      long.length < 2 || room.said.broke
        ? []
        : long.filter(({ found }) => found.openingsMeet === undefined).map(({ id }) => id),
  };
}
