/** What the briefing asks of a screw, in which order, and what it says of the plan. Pure. */
import type { Content, ScrewSize } from '../../../content/types.ts';
import type { EntryDraft } from '../../../machines/entry.ts';
import type { Folded } from '../../../machines/folded.ts';
import type { ScrewFacts } from '../../../machines/screw.context.ts';
import { effective } from '../../session/effective.ts';
import type { OpenCase } from '../../session/session.ts';

export type ScrewDraft = Extract<EntryDraft, { type: 'screw-listed' }>;
/** Facts of a screw while they are asked; null was answered too: it is not known. */
export type Facts = Partial<Omit<ScrewDraft, 'type' | 'screw' | 'calledBy' | 'loggedBy'>>;

/** One touch each, in this order. */
export const questions = ['size', 'drive', 'material', 'cortices', 'length'] as const;
export type Question = (typeof questions)[number];

const answered: Record<Question, (facts: Facts) => boolean> = {
  size: ({ diameter }) => diameter !== undefined,
  drive: ({ drive }) => drive !== undefined,
  material: ({ material }) => material !== undefined,
  cortices: ({ cortices }) => cortices !== undefined,
  length: ({ length }) => length !== undefined,
};

/**
 * The first question without an answer; null when the screw is described.
 *
 * @example nextQuestion({ diameter: 3.5 }) // 'drive'
 */
export const nextQuestion = (facts: Facts): Question | null =>
  questions.find((question) => !answered[question](facts)) ?? null;

/** The entry that lists a screw, once all is answered. */
export function listing(screw: string, facts: Facts): ScrewDraft | null {
  const { diameter, thread, locking, drive, driveSize, material, length, cortices, stage } = facts;
  const { form, washer, underPlate } = facts;
  if (diameter === undefined || thread === undefined || locking === undefined || drive === undefined) return null;
  if (material === undefined || length === undefined || cortices === undefined) return null;
  return {
    type: 'screw-listed',
    screw,
    diameter,
    thread,
    locking,
    drive,
    ...(driveSize !== undefined && { driveSize }),
    material,
    length,
    cortices,
    ...(form !== undefined && { form }),
    ...(washer !== undefined && { washer }),
    ...(underPlate !== undefined && { underPlate }),
    ...(stage !== undefined && { stage }),
  };
}

/**
 * The facts of a listed screw, ready to be listed again or for another one. What it is only reckoned with, because
 * nobody knows, is not known here either.
 */
export function factsOf({
  diameter,
  thread,
  locking,
  drive,
  driveSize,
  material,
  length,
  cortices,
  form,
  washer,
  underPlate,
  assumed = [],
}: ScrewFacts): Facts {
  return {
    diameter,
    thread,
    locking: assumed.includes('locking') ? null : locking,
    drive,
    ...(driveSize !== undefined && { driveSize }),
    material,
    length,
    cortices: assumed.includes('cortices') ? null : cortices,
    ...(form !== undefined && { form }),
    ...(washer !== undefined && { washer }),
    ...(underPlate !== undefined && { underPlate }),
  };
}

/**
 * Ids for the next screws: they go on after the highest number.
 *
 * @example nextIds(['1', '2'], 3) // ['3', '4', '5']
 */
export function nextIds(known: readonly string[], count: number): string[] {
  const last = Math.max(0, ...known.map(Number).filter(Number.isFinite));
  return Array.from({ length: count }, (_, i) => String(last + 1 + i));
}

/** Sizes of the trade in three groups, in the order of the content. */
export function sizeGroups(content: Content): { locking: ScrewSize[]; cortical: ScrewSize[]; cancellous: ScrewSize[] } {
  const plain = content.screws.filter(({ locking }) => !locking);
  return {
    locking: content.screws.filter(({ locking }) => locking),
    cortical: plain.filter(({ thread }) => thread === 'cortical'),
    cancellous: plain.filter(({ thread }) => thread === 'cancellous'),
  };
}

/** Drives that the content knows for a size, so that the likeliest come first; both may be empty. */
export const drivesOf = (content: Content, facts: Facts): ScrewSize['drives'] =>
  content.screws.find(
    ({ diameter, thread, locking }) =>
      diameter === facts.diameter && thread === facts.thread && locking === facts.locking,
  )?.drives ?? [];

const steps = (from: number, to: number, by: number) =>
  Array.from({ length: Math.floor((to - from) / by) + 1 }, (_, i) => from + i * by);

/**
 * Lengths offered as touches, mm: no clinical figures, only a way to save typing. Any other is entered on the number pad.
 *
 * @param diameter mm
 * @example lengthOffers(2.7)[0] // 6
 */
export function lengthOffers(diameter: number): number[] {
  if (diameter < 3) return steps(6, 30, 2);
  if (diameter < 4.5) return [...steps(10, 40, 2), 45, 50, 55];
  return [...steps(24, 50, 2), 55, 60, 65, 70, 80];
}

/** Numbers of the entries that list a screw: striking them takes it off the list. */
export const listingsOf = (open: OpenCase, screw: string): number[] =>
  effective(open).flatMap((entry) => (entry.type === 'screw-listed' && entry.screw === screw ? [entry.n] : []));

/** Diameters in the plan, small first. */
export const diametersIn = (folded: Folded): number[] =>
  [...new Set([...folded.screws.values()].flatMap(({ context }) => context.facts.diameter ?? []))].sort(
    (a, b) => a - b,
  );

/** The last answer in force to the hold on hard metal: going on, not starting, or none. */
export function hardMetalAnswer(open: OpenCase): 'go-on' | 'stop' | null {
  const last = effective(open).findLast((entry) => entry.type === 'hold-answered' && entry.hold === 'hard-metal');
  return last?.type === 'hold-answered' ? (last.answer === 'stop' ? 'stop' : 'go-on') : null;
}

/** What nobody has entered, as keys of the words that name it; nothing is ever made up in its place. */
export const gapKeys = [
  'briefing.gap.screws',
  'briefing.gap.size',
  'briefing.gap.locking',
  'briefing.gap.drive',
  'briefing.gap.material',
  'briefing.gap.length',
  'briefing.gap.cortices',
  'briefing.gap.bone',
  'briefing.gap.tools',
  'briefing.gap.planned',
  'briefing.gap.placed-by',
  'briefing.gap.months',
  'briefing.gap.limits',
  'briefing.gap.theatre-time',
  'briefing.gap.surgeon',
  'briefing.gap.anaesthetist',
  'briefing.gap.nurses',
  'briefing.gap.clock',
] as const;
export type GapKey = (typeof gapKeys)[number];

/**
 * Everything the briefing asks and nobody has entered.
 *
 * @returns for each gap its key and, where it is of single screws, their ids
 */
export function gapsOf(open: OpenCase): { key: GapKey; screws: string[] }[] {
  const { room, people, theatreMinutes } = open.folded.case.context;
  const screws = [...open.folded.screws].map(([id, { context }]) => ({ id, facts: context.facts }));
  const entries = effective(open);
  const has = (...roles: string[]) => people.some(({ role }) => roles.includes(role));
  const which = (test: (facts: ScrewFacts) => boolean) => screws.filter(({ facts }) => test(facts)).map(({ id }) => id);
  const drive = which((facts) => facts.drive === 'unknown');
  const material = which((facts) => facts.material === 'unknown');
  const length = which((facts) => facts.length === null);
  const size = which((facts) => facts.diameter === null);
  const [locking, cortices] = (['locking', 'cortices'] as const).map((fact) =>
    which(({ assumed }) => assumed?.includes(fact) ?? false),
  ) as [string[], string[]];
  const missing: [GapKey, boolean, string[]?][] = [
    ['briefing.gap.screws', screws.length === 0],
    ['briefing.gap.size', size.length > 0, size],
    ['briefing.gap.locking', locking.length > 0, locking],
    ['briefing.gap.drive', drive.length > 0, drive],
    ['briefing.gap.material', material.length > 0, material],
    ['briefing.gap.length', length.length > 0, length],
    ['briefing.gap.cortices', cortices.length > 0, cortices],
    ['briefing.gap.bone', room.bone === null && Object.keys(room.boneAt).length === 0],
    ['briefing.gap.tools', room.tools.length === 0],
    ['briefing.gap.planned', !room.opened?.planned.trim()],
    ['briefing.gap.placed-by', room.opened?.placedBy === undefined],
    ['briefing.gap.months', room.opened?.placedMonthsAgo === undefined],
    ['briefing.gap.limits', !entries.some(({ type }) => type === 'limits-set')],
    ['briefing.gap.theatre-time', theatreMinutes === null],
    ['briefing.gap.surgeon', !has('surgeon')],
    ['briefing.gap.anaesthetist', !has('anaesthetist')],
    ['briefing.gap.nurses', !has('scrub') || !has('circulating')],
    ['briefing.gap.clock', !entries.some(({ type }) => type === 'clock-compared')],
  ];
  return missing.filter(([, open]) => open).map(([key, , ids]) => ({ key, screws: ids ?? [] }));
}
