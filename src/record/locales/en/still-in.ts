/** What is still in, in English: piece by piece, and the page for the patient and the next surgeon. */
import type { Stage, ToolId } from '../../../../content/ids.ts';
import type { Content } from '../../../../content/types.ts';
import { semicolons } from '../../../format/prose.ts';
import { count, mm, screw, tool } from './base.ts';

type Kind = 'left' | 'not-ended' | 'unaccounted' | 'put-in';

const whole: Record<Stage, string> = {
  seated: 'the whole screw',
  'recess-stripped': 'the whole screw, its recess stripped',
  'head-sheared': 'the shank; the head is gone',
  'fragment-retained': 'a broken piece lying deep',
  out: 'a piece',
  'left-in': 'a piece',
};

/** What was known of a screw last, where nobody told what became of it. */
const lastKnown: Record<Stage, string> = {
  ...whole,
  seated: 'seated',
  'recess-stripped': 'in, its recess stripped',
};

const missing = (length: number) =>
  `${mm(Math.abs(length))} ${length < 0 ? 'more came out than was listed' : 'not accounted for'}`;

type Origin = 'measured' | 'image' | 'account';
/** A length with where it comes from. */
const longBy: Record<Origin, (length: number) => string> = {
  measured: (length) => `${mm(length)} long`,
  image: (length) => `about ${mm(length)} long (from an image, not measured)`,
  account: (length) => `about ${mm(length)} long (by the account, not measured)`,
};
const across = (diameter: number | null) => (diameter === null ? 'diameter not known' : `${mm(diameter)} diameter`);

export const facts = {
  toolPiece: (content: Content, id: ToolId | null): string =>
    `a broken piece of the ${id ? tool(content, id) : 'tool'}`,
  toolMetal: 'metal of a tool, not recorded which; tool steel may be ferromagnetic (from memory)',
  part: (name: string, some: boolean, end: 'left-in' | 'not-found' | 'put-in'): string =>
    ({
      'left-in': `${some ? 'part of ' : ''}${name}`,
      'not-found': `${name}: not found`,
      'put-in': `${name}: put in today`,
    })[end],
  listedLong: (length: number): string => `${mm(length)} long as listed, not measured`,
  headIn: (id: string, part: string): string => `the head of ${screw(id)}, in ${part}`,
  byAccount: (length: number): string => `about ${mm(length)} long (by the account, not measured)`,
  notMeasured: 'not measured',
  long: (length: number, how: Origin): string => longBy[how](length),
  left: (id: string, stage: Stage): string => `${screw(id)}: ${whole[stage]}`,
  madeUp: (diameter: number | null): string =>
    `${across(diameter)}; its measured pieces make up its length, and nobody said that all of it is out`,
  byStop: (reason: string | null): string => `the work was stopped${reason === null ? '' : `: ${reason}`}`,
  stays: (id: string, stage: Stage): string => `${screw(id)}: ${whole[stage]}`,
  asListed: (diameter: number | null, length: number | null): string =>
    `${across(diameter)}, ${length === null ? 'length not known' : `${mm(length)} long as listed, not measured`}`,
  notEnded: (id: string, stage: Stage): string =>
    `${screw(id)}: whether it is out or stays was not told; last known: ${lastKnown[stage]}`,
  unbalanced: (id: string, open: number | null): string =>
    `${screw(id)}: ${open === null ? 'not all of it was measured' : `its lengths do not add up, ${missing(open)}`}`,
  missingSize: (diameter: number | null, open: number): string => `${across(diameter)}, ${missing(open)}`,
  size: (diameter: number | null, length: number | null, how: Origin): string =>
    `${across(diameter)}, ${length === null ? 'length not known' : longBy[how](length)}`,
  tip: (content: Content, id: ToolId): string => `the tip of the ${tool(content, id)}: broken and not accounted for`,
  tipSize: (length: number | null): string => (length === null ? 'length not known' : missing(length)),
  /** Where metal lies, from the near side to the far side. */
  places: ['above the near cortex', 'in the near wall', 'in the canal', 'in the far wall', 'beyond the far cortex'],
  place: (parts: string[], source: 'measured' | 'assumed' | 'film'): string =>
    `${parts.join(', ')} (estimate from lengths alone, bone ${source === 'film' ? 'measured on a film' : source})`,
};

/** The side and bone in the words of a patient; `midline` when the side is the middle. */
const where = (side: string | null, bone: string, midline: boolean): string =>
  side === null
    ? 'in the bone (which bone was not recorded)'
    : midline
      ? `in the ${bone}, in the MIDLINE`
      : `in the ${side} ${bone}`;

export const page = {
  title: (side: string | null, bone: string, draft: boolean): string =>
    `What is still in: ${side === null ? 'side not recorded' : `${side} ${bone}`}${draft ? ' (DRAFT)' : ''}`,
  patient: 'For the patient',
  where,
  toolPiece: (content: Content, id: ToolId, lost: boolean): string =>
    `A piece of a tool (${tool(content, id)})${lost ? ' that was not found' : ''}`,
  partOf: (id: string, open: number | null): string =>
    `Part of ${screw(id)}: ${open === null ? 'not all of it was measured' : 'the lengths do not add up'}`,
  screwUnknown: (id: string): string => `Whether ${screw(id)} came out was not recorded`,
  metalOf: (id: string): string => `Metal of ${screw(id)}`,
  why: (kind: Kind, why: string, decidedBy: string): string =>
    ({
      left: `It stayed because: ${why}. Decided by: ${decidedBy}`,
      'put-in': 'It was put in at this operation',
      'not-ended': 'Whether it is still in, and why, was not recorded',
      unaccounted: 'It may still be in the body, or it may have gone with the swabs or the suction: not known',
    })[kind],
  madeOf: (text: string): string => `Made of: ${text}`,
  place: (place: string, detail: string | null): string => `Place: ${place}${detail === null ? '' : `; ${detail}`}`,
  tells: (place: string, known: boolean): string =>
    `This page tells you about metal that ${known ? 'is' : 'may'} still ${known ? '' : 'be '}${place}. Keep it. Show it to any doctor who treats you.`,
  noneIn: 'By this record, no metal of the screws that were listed is still in.',
  noneListed: 'This record lists no metal. What is still in was not recorded.',
  partUnknown: (name: string): string => `Whether ${name} came out was not recorded.`,
  noted: (told: string): string => `Noted about telling you: ${told}`,
  scan: 'Before an MRI scan',
  tellStaff: 'Tell the staff about this metal before any MRI scan. Give them this page.',
  untested: 'Nobody has tested here how this metal acts in a scanner: MR status not assessed.',
  toolSteel:
    'A piece of a tool is not made like an implant. Tool steel may be pulled by the magnet (from memory, not from a source).',
  aftercare: 'The time after',
  noAftercare: 'Nothing about the time after was accepted for this page.',
  surgeon: 'For the next surgeon',
  nothing: 'Nothing is entered as still in.',
  screwWas: (description: string): string => `The screw was: ${description}`,
  bores: (bores: string, entered: boolean): string =>
    `Bores ${entered ? 'made ' : ''}beside its own hole: ${bores}${entered ? '' : ' (as expected of the moves, not measured)'}`,
  slips: (n: number): string => `${count(n, 'slip')} in the recess`,
  tried: 'What was tried, in order:',
  notTried: 'What was tried: no move was entered.',
  notEnded: 'not ended in the log',
  brokenOff: 'broken off',
  unknownEnd: 'how it ended was not recorded',
  next: (stage: string): string => `Moves made for this state (${stage}) and what they need:`,
  matchedDriver: 'matched driver',
  otherDriver: 'larger or other driver',
  about: 'About this page',
  aboutLine: (label: string, date: string | null, status: string, seal: string | null): string =>
    semicolons(
      `Case: ${label}`,
      `operation on ${date ?? 'a date not recorded'}`,
      status,
      seal !== null && `last seal ${seal}`,
    ),
  statuses: { draft: 'DRAFT, not signed', signed: 'signed', amended: 'amended' },
  end: (version: string): string =>
    `This page tells what was noted in theatre. It gives no advice. Not a certified medical device. Content version ${version}.`,
};
