/** What is still in, in English: piece by piece, and the page for the patient and the next surgeon. */
import type { Stage, ToolId } from '../../../../content/ids.ts';
import type { Content } from '../../../../content/types.ts';
import { semicolons } from '../../../format/prose.ts';
import { count, mm, screw, tool } from './base.ts';

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

export const page = {
  /** `unsure`: of some metal nobody knows whether it is in or out. */
  title: (side: string | null, bone: string, draft: boolean, unsure: boolean): string =>
    `What is still in${unsure ? ', or may be' : ''}: ${side === null ? 'side not recorded' : `${side} ${bone}`}${draft ? ' (DRAFT)' : ''}`,
  tellStaff: 'Tell the staff about this metal before any MRI scan. Give them this page.',
  untested: 'Nobody has tested here how this metal acts in a scanner: MR status not assessed.',
  toolSteel:
    'A piece of a tool is not made like an implant. Tool steel may be pulled by the magnet (from memory, not from a source).',
  screwWas: (description: string): string => `The screw was: ${description}`,
  bores: (bores: string, entered: boolean): string =>
    `Bores ${entered ? 'made ' : ''}beside its own hole: ${bores}${entered ? '' : ' (as expected of the moves, not measured)'}`,
  slips: (n: number): string => `${count(n, 'slip')} in the recess`,
  notEnded: 'not ended in the log',
  brokenOff: 'broken off',
  unknownEnd: 'how it ended was not recorded',
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
