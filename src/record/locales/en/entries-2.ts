/** The sentences of the entries that format 2 brought, in English: past tense, without a capital or a full stop. */
import type { HeadPlace, PartKind, StopReason } from '../../../../content/ids.ts';
import type { EntryOf, EntryType } from '../../../../machines/entry.ts';
import { semicolons, some } from '../../../format/prose.ts';
import type { Telling } from '../telling.ts';
import { and, bore, clean, mm, num, roles, screw, sides, tool } from './base.ts';

export const parts: Record<PartKind, string> = {
  plate: 'plate',
  nail: 'nail',
  'end-cap': 'end cap',
  washer: 'washer',
  barrel: 'barrel',
  'coupling-screw': 'coupling screw',
  nut: 'nut',
  wire: 'wire',
  cable: 'cable',
  pin: 'pin',
  staple: 'staple',
  foil: 'foil',
  'guide-wire': 'guide wire',
  other: 'other part',
};

/**
 * A part by its id: the plate or nail of the case by its name alone, foil by its screw and the entry that packed it.
 *
 * @example partName('plate') // 'the plate'
 * @example partName('foil-3-17') // 'the foil of screw 3 (entry 17)'
 */
export function partName(id: string): string {
  const [, of, n] = packed.exec(id) ?? [];
  if (of !== undefined) return `the foil of ${screw(of)} (entry ${n})`;
  return id === 'plate' || id === 'nail' ? `the ${id}` : `part ${clean(id)}`;
}
/** Foil that a move packed into a recess, as the log numbers it. */
const packed = /^foil-(.+)-(\d+)$/;

/** What was seen of a head, said of it. */
export const heads: Record<HeadPlace, string> = {
  piece: 'came off in one piece and was out',
  'in-plate': 'was in the plate',
  shavings: 'was cut to shavings',
  partly: 'was seen only in part',
  'not-seen': 'was not seen',
};

export const stops: Record<StopReason, string> = {
  anaesthesia: 'anaesthesia',
  patient: 'the state of the patient',
  bleeding: 'bleeding',
  bone: 'the bone',
  infection: 'infection',
  time: 'time',
  planned: 'as planned',
  other: 'another reason',
};

export const events: Record<EntryOf<'event'>['kind'], string> = {
  bleeding: 'bleeding was noted',
  pause: 'there was a pause',
  'incision-extended': 'the incision was extended',
  'bone-broke': 'the bone broke',
  'not-healed': 'the bone was found not healed',
  'infection-found': 'infection was found',
  'samples-sent': 'samples were sent',
  'glove-changed': 'gloves were changed',
  'person-arrived': 'somebody arrived',
  'piece-dropped': 'a piece was dropped',
  'image-review': 'an image was looked at again',
  other: 'something else happened',
};

export const partMoves: Record<EntryOf<'part-move'>['move'], string> = {
  lift: 'lifting',
  'lever-plate': 'levering off the plate',
  'cap-off': 'taking off the cap',
  'seat-extractor': 'seating the extractor',
  'hammer-nail': 'hammering out the nail',
  'hook-from-below': 'hooking from below',
};
const partOutcomes: Record<NonNullable<EntryOf<'part-move'>['outcome']>, string> = {
  moving: 'it moved',
  out: 'it came out',
  'no-change': 'nothing changed',
  'tool-broke': 'the tool broke',
  'bone-broke': 'the bone broke',
};

const checks: Record<EntryOf<'checked'>['what'], string> = {
  'loosen-first': 'that screws were loosened first',
  'first-turn': 'the first turn',
  'extractor-on': 'that the extractor was on',
  'eyes-and-swabs': 'eyes and swabs',
};

const origins = { measured: 'measured', image: 'from an image', difference: 'by difference' } as const;
/** A length with where it comes from; in format 1 nobody said where. */
export const lengthWords = (length: number, how: keyof typeof origins | undefined): string =>
  how === undefined ? mm(length) : `${mm(length)} (${origins[how]})`;

const recesses = {
  damaged: 'the recess was damaged',
  sound: 'the recess was sound',
  'not-seen': 'the recess was not seen',
};
const turned = {
  screw: 'the screw turned with the driver',
  driver: 'the driver turned alone',
  'not-known': 'what turned was not known',
};

/** What may be said of a move at its end or after it. */
export const afterwards = (
  e: Pick<EntryOf<'move-answered'>, 'recess' | 'head' | 'turned' | 'depth'>,
): (string | false)[] => [
  e.recess !== undefined && recesses[e.recess],
  e.turned !== undefined && turned[e.turned],
  e.head !== undefined && `the head ${heads[e.head]}`,
  e.depth !== undefined && `${mm(e.depth)} deep`,
];

const placers = { 'same-team': 'the same team', 'other-team': 'another team', unknown: 'a team not known' };
/** Who put the metal in. */
export const placedBy = (by: keyof typeof placers): string => `metal put in by ${placers[by]}`;
const limbs = { upper: 'upper limb', lower: 'lower limb', foot: 'foot', trunk: 'trunk', 'not-known': 'limb not known' };
const patients = { adult: 'adult', child: 'child', 'not-known': 'adult or child not known' };
/** What is known of the patient and the limb. */
export const aboutPatient = (e: Pick<EntryOf<'case-opened'>, 'limb' | 'patient' | 'fragile'>): (string | false)[] => [
  e.limb !== undefined && limbs[e.limb],
  e.patient !== undefined && patients[e.patient],
  e.fragile === true && 'bone said to be fragile',
  e.fragile === false && 'bone said not to be fragile',
  e.fragile === null && 'whether the bone is fragile was not known',
];

type NewTypes =
  | 'format-raised'
  | 'case-corrected'
  | 'resumed'
  | 'at-tablet'
  | 'part-listed'
  | 'part-ended'
  | 'put-in'
  | 'part-move'
  | 'destroyed'
  | 'head-seen'
  | 'reassigned'
  | 'stopped'
  | 'deferred'
  | 'event'
  | 'move-answered'
  | 'length-answered'
  | 'checked'
  | 'aftercare'
  | 'hole-seen';

export const tellers2: { [T in Extract<EntryType, NewTypes>]: (entry: EntryOf<T>, telling: Telling) => string } = {
  'format-raised': (e) => `from here on the log stands in format ${e.to}`,
  'case-corrected': (e) =>
    semicolons(
      `the case was corrected: ${
        some(
          e.label !== undefined && `label "${clean(e.label)}"`,
          e.side && `side ${sides[e.side]}`,
          e.bone !== undefined && `bone ${clean(e.bone)}`,
          e.construct && `construct ${e.construct}`,
          e.zone !== undefined && `time zone ${clean(e.zone)}`,
          e.placedBy && placedBy(e.placedBy),
          e.placedMonthsAgo !== undefined && `put in ${num(e.placedMonthsAgo)} months before`,
          ...aboutPatient(e),
        ).join(', ') || 'nothing was changed'
      }`,
      `reason: ${clean(e.reason)}`,
    ),
  resumed: (e) =>
    `the log was taken up again on ${clean(e.device)}${e.gap === 'known' ? '' : '; how much time had passed was not confirmed'}`,
  'at-tablet': (e) =>
    `at the tablet from now on: ${e.who === undefined ? roles[e.role] : `${clean(e.who)} (${roles[e.role]})`}`,
  'part-listed': (e) =>
    semicolons(
      `${partName(e.part)} was listed: ${some(parts[e.kind], e.what !== undefined && clean(e.what)).join(', ')}`,
      e.length !== undefined && `${mm(e.length)} long`,
      e.pieces !== undefined && e.pieces > 1 && `in ${e.pieces} pieces`,
    ),
  'part-ended': (e) => {
    const name = e.piece === undefined ? partName(e.part) : `piece ${e.piece} of ${partName(e.part)}`;
    const ends = { out: 'came out', 'left-in': 'was left in', 'not-found': 'was not found' } as const;
    return semicolons(
      `${name} ${ends[e.end]}`,
      e.complete === true && 'that was all of it',
      e.where !== undefined && `where: ${clean(e.where)}`,
      e.reason !== undefined && `why: ${clean(e.reason)}`,
      e.imageTaken !== undefined && (e.imageTaken ? 'an image was taken' : 'no image was taken'),
    );
  },
  'put-in': (e) =>
    semicolons(
      `metal was put in: ${clean(e.kind)}, ${e.part === undefined ? screw(e.screw ?? '') : partName(e.part)}`,
      e.length !== undefined && `${mm(e.length)} long`,
      `where: ${clean(e.where)}`,
    ),
  'part-move': (e, { content }) =>
    semicolons(
      `on ${partName(e.part)}, ${partMoves[e.move]}${e.tool ? ` with the ${tool(content, e.tool)}` : ''}`,
      e.outcome !== undefined && partOutcomes[e.outcome],
    ),
  destroyed: (e) => {
    const what = {
      head: `the head of ${screw(e.screw)}`,
      shank: `the shank of ${screw(e.screw)}`,
      all: screw(e.screw),
    };
    return semicolons(
      `${what[e.what]} was ${e.how === 'shavings' ? 'cut to shavings' : 'burred away'}`,
      e.length !== undefined && lengthWords(e.length, e.lengthHow),
    );
  },
  'head-seen': (e) =>
    semicolons(
      `the head of ${screw(e.screw)} ${heads[e.head]}`,
      e.part !== undefined && `in ${e.piece === undefined ? '' : `piece ${e.piece} of `}${partName(e.part)}`,
    ),
  reassigned: (e) =>
    e.swap
      ? `${screw(e.swap[0])} and ${screw(e.swap[1])} had been confused from entry ${e.from ?? 1} on`
      : `${e.entries?.length === 1 ? 'entry' : 'entries'} ${and((e.entries ?? []).map(String))} belonged to ${screw(e.screw ?? '')}`,
  stopped: (e, { again }) =>
    semicolons(
      again ? 'why the work was stopped was said' : 'the work was stopped',
      e.reason !== undefined && `reason: ${stops[e.reason]}`,
      e.text !== undefined && clean(e.text),
    ),
  deferred: (e) => `${screw(e.screw)} was put off until later`,
  event: (e) =>
    semicolons(
      events[e.kind],
      e.screw !== undefined && `at ${screw(e.screw)}`,
      e.where !== undefined && `where: ${clean(e.where)}`,
      e.text !== undefined && clean(e.text),
    ),
  'move-answered': (e) =>
    `of the move in entry ${e.of} it was said: ${semicolons(
      ...afterwards(e),
      e.bores && `bores made: ${e.bores.length ? and(e.bores.map(bore)) : 'none'}`,
    )}`,
  'length-answered': (e) => {
    const answers = {
      broke: 'it broke, the rest is still in',
      'listed-wrong': 'it was listed wrong',
      lost: 'the rest is lost',
    };
    return semicolons(
      `why ${screw(e.screw)} came out short: ${answers[e.answer]}`,
      e.reachable === true && 'the stump could still be reached at the near cortex',
      e.reachable === false && 'the rest lay too deep to be reached at the near cortex',
    );
  },
  checked: (e) =>
    semicolons(
      `it was checked: ${checks[e.what]}`,
      e.screw !== undefined && screw(e.screw),
      e.size !== undefined && `size ${num(e.size)}`,
    ),
  aftercare: (e, { content }) => {
    const states = { accepted: 'accepted', changed: 'changed', dropped: 'dropped' };
    return `a line on aftercare was ${states[e.state]}: ${clean(e.text ?? content.aftercare.find(({ id }) => id === e.line)?.text ?? e.line ?? '')}`;
  },
  'hole-seen': (e) =>
    semicolons(
      `a hole of ${mm(e.diameter)} was seen ${e.where === 'off-plate' ? 'away from the plate' : 'at the end of the metal'}`,
      e.screw !== undefined && `at ${screw(e.screw)}`,
    ),
};
