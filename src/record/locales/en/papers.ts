/**
 * The papers for the patient, the next surgeon and sterile services, in English. What the patient reads is at a reading
 * age of 11 in whole: short sentences, short words (`tests/standards/reading-age.ts`).
 */
import type { Stage } from '../../../../content/ids.ts';
import type { PatientCaution } from '../../../../content/patient-cautions.ts';
import { ranges } from '../../../format/prose.ts';
import type { CountImage, PieceForm, ToolTask } from '../../papers/shapes.ts';
import { and, clean, count, mm, points as pointWords } from './base.ts';

/** Bones in plain words, beside their name. */
const bones: Record<string, string> = {
  femur: 'thigh bone',
  tibia: 'shin bone',
  fibula: 'thin bone of the lower leg',
  humerus: 'bone of the upper arm',
  radius: 'bone of the forearm, on the side of the thumb',
  ulna: 'bone of the forearm, on the side of the little finger',
  clavicle: 'collar bone',
  metacarpal: 'bone of the hand',
};
const plain = (bone: string, id: string | null) =>
  id !== null && Object.hasOwn(bones, id) ? `${bone} (${bones[id]})` : bone;

/** The side and bone; `midline` when the side is the middle. */
const placeOf = (side: string | null, bone: string, id: string | null, midline: boolean): string =>
  side === null
    ? 'in the bone (which bone was not written down)'
    : midline
      ? `in the ${plain(bone, id)}, in the MIDLINE`
      : `in the ${side} ${plain(bone, id)}`;

const named = (ids: readonly string[]) =>
  ids.length === 1 ? `screw ${clean(ids[0] as string)}` : `screws ${and(ranges(ids.map(clean)))}`;
const isOrAre = (ids: readonly string[]) => (ids.length === 1 ? 'is' : 'are');

const stays: Record<Stage, (ids: readonly string[]) => string> = {
  seated: (ids) => `${named(ids)} ${isOrAre(ids)} still in`,
  'recess-stripped': (ids) => `${named(ids)} ${isOrAre(ids)} still in`,
  'head-sheared': (ids) =>
    `${named(ids)} ${isOrAre(ids)} still in, without ${ids.length === 1 ? 'its head' : 'their heads'}`,
  'fragment-retained': (ids) => `a piece of ${named(ids)} is still in`,
  out: (ids) => `a piece of ${named(ids)} is still in`,
  'left-in': (ids) => `a piece of ${named(ids)} is still in`,
};

const lengths = {
  measured: (length: number) => `${mm(length)} long`,
  image: (length: number) => `about ${mm(length)} long (read off an X-ray)`,
  account: (length: number) => `about ${mm(length)} long (worked out, not measured)`,
  listed: (length: number) => `${mm(length)} long by the list (not measured)`,
};

export const patient = {
  place: placeOf,
  /** `known`: of some metal somebody said that it is in; `unsure`: of some nobody knows. */
  tells: (place: string, known: boolean, unsure: boolean): string =>
    `This page is about metal that ${known ? (unsure ? 'is still, or may be,' : 'is still') : 'may still be'} ${place}.`,
  keep: 'Keep this page. Show it to every doctor who treats you.',
  allOut: 'By this record, all of the metal on the list is out.',
  notSure: 'By this record, it is not known if all of the metal is out.',
  noneListed: 'This record lists no metal. What is still in was not written down.',
  notDone: 'This page was made before the end of the operation was noted.',
  piece: (form: PieceForm, ids: readonly string[], what: string, stage: Stage | null): string =>
    ({
      screw: () => stays[stage ?? 'left-in'](ids),
      'made-up': () => `a piece of ${named(ids)} was said to stay in`,
      head: () => `${what} is still in`,
      'not-ended': () => `it was not written down if ${named(ids)} ${isOrAre(ids)} out or still in`,
      short: () => `it is not known if all of ${named(ids)} is out`,
      tool: () => `${what} is still in`,
      tip: () => `${what} broke off`,
      part: () => `${what} is still in`,
      'part-some': () => `a part of ${what} is still in`,
      'part-missing': () => `${what} was not found`,
      'put-in': () => `${what} was put in at this operation`,
    })[form](),
  toolPiece: (tool: string | null): string => (tool === null ? 'a piece of a tool' : `a piece of a tool (${tool})`),
  tip: (tool: string): string => `the tip of a tool (${tool})`,
  /** Of metal that may be in or out. */
  mayBe: 'It may still be in you, or it may be out. This is not known.',
  madeUp: 'The pieces that came out are as long as the screw. So it is not known how much is still in.',
  madeOf: (material: string): string => `The metal is ${material}.`,
  madeOfTool: 'It is metal of a tool. Which metal was not written down.',
  madeOfUnknown: 'What it is made of is not known.',
  madeOfSilent: 'What it is made of was not written down.',
  size: (
    diameter: number | null,
    length: number | null,
    how: keyof typeof lengths | null,
    isScrew: boolean,
  ): string => {
    const long = length === null || how === null ? null : lengths[how](length);
    if (!isScrew) return long === null ? 'Its size is not known.' : `Size: ${long}.`;
    return `Size: ${diameter === null ? '' : `${mm(diameter)} thick, `}${long ?? 'how long is not known'}.`;
  },
  where: (words: string): string => `Where: ${words}.`,
  whereSilent: 'Where in the bone it lies was not written down.',
  why: (words: string): string => `Why it stays: ${words}.`,
  whySilent: 'Why it stays was not written down.',
  byStop: (words: string): string => `Why it stays: ${words}.`,
  image: { yes: 'An X-ray was taken when it was left in.', no: 'No X-ray was taken when it was left in.' },
  imageSilent: 'It was not written down if an X-ray was taken when it was left in.',
  counted: {
    clear: 'An X-ray was taken. Nothing was seen on the X-ray.',
    'metal-seen': 'An X-ray was taken. Metal was seen on the X-ray.',
    'not-sure': 'An X-ray was taken. The team was not sure what it showed.',
    'not-taken': 'No X-ray was taken.',
    taken: 'An X-ray was taken. What it showed was not written down.',
    'not-told': 'It was not written down if an X-ray was taken.',
  } satisfies Record<CountImage, string>,
  /** Where metal is known to be in as well. */
  clearBesides: 'An X-ray was taken. Nothing of what is missing was seen on the X-ray.',
  noCount: 'No count of the metal was written down.',
  count: 'When the metal was counted',
  foil: (id: string): string => `the metal foil put into ${named([id])}`,
  partUnknown: (names: string[]): string =>
    `It was not written down if ${and(names)} ${names.length === 1 ? 'is' : 'are'} out or still in`,
  discrepancy: (words: string): string => `The team wrote: ${words}.`,
  contradicted: (ids: string[]): string => `The record tells two stories of ${named(ids)}. Both cannot be true.`,
  titles: {
    stays: 'For the patient',
    means: 'What it means',
    scan: 'Before an MRI scan',
    told: 'What your team tells you',
    after: 'The time after',
    call: 'Whom to call, and when',
    about: 'About this page (for the team)',
  },
  usual: 'The advice on this page is usual advice, not made for you alone. What your team tells you comes first.',
  cautions: {
    'may-harm':
      'Metal that stays in can move. It can hurt, or the place can get infected. Ask your team what this means for you.',
    'next-operation': 'If you have another operation at this place, show this page first.',
    'tell-staff': 'Before any MRI scan, tell the staff what stands here. Show them this page.',
    untested:
      'Nobody here has tested what a scan does to such metal. The scanner may move the metal or heat it. For the staff: MR status not assessed.',
    'call-when':
      'Call if the pain gets worse, or if the place swells, turns red or leaks. Call if you have a fever, or if something gives way there.',
  } satisfies Record<PatientCaution, string>,
  fill: ['Name', 'Phone by day', 'Phone by night', 'Next visit: day, time, place', 'What to watch for'],
  byHand: 'Your team fills in these lines by hand. If a line is empty when you go home, ask for it.',
  told: (by: string, told: string[]): string => `Told to you by ${by}${told.length ? `: ${and(told)}` : ''}.`,
  toBeTold: (by: string, told: string[]): string =>
    `Still to be told to you by ${by}${told.length ? `: ${and(told)}` : ''}.`,
  toldSilent: 'What you were told was not written down.',
  points: {
    material: 'what it is made of',
    size: 'its size',
    place: 'where it is',
    risks: 'the risks',
    mri: 'MRI scans',
  } satisfies Record<keyof typeof pointWords, string>,
  noAfter: 'The surgeon put nothing on this page about the time after.',
  /** Lines for the time after in plain words, where the surgeon took them as they are. */
  after: {
    'load-reduced': 'Put less weight on it at first. Your surgeon says for how long.',
    'new-pain':
      'If it hurts in a new way or gives way, come back at once. Put no weight on it until a doctor has seen it.',
    'end-of-metal': 'The bone is weak at a hole next to the plate. It is also weak where the metal ends.',
    'forearm-radius':
      'The bone can break again. In one study this came 42 to 121 days after the metal was taken out, in 7 of 37 people.',
    'forearm-ulna':
      'The bone can break again. In one study this came 42 to 121 days after the metal was taken out, in 7 of 37 people.',
    'radius-end-of-metal':
      'If a plate stays in the other bone of your forearm, that bone can break late at its last hole.',
    'clavicle-early':
      'The bone can break again early on. In one study this came 24 days later on average. So take care from the first day.',
    'clavicle-women':
      'The risk is high for women after the change of life, and if the metal came out within 12 months.',
    'femur-early':
      'The bone can break again with no fall. In one study this came 12 to 93 days later, in 6 of 62 people. So take care from the first day.',
    'femur-lag-hole': 'Most of these broke through a screw hole next to the plate.',
    'hip-nail': 'Without the nail your hip bears less. In one study it bore less than half.',
    'hip-load': 'The neck of the hip can break by itself. How much weight is safe is not clear.',
    'hip-screws': 'The bone can break below the hip. In one study this came after 5 and 7 weeks, in 2 of 27 people.',
    'child-femur': 'The bone can break again at the old place. In one study this was so in 3 of 35 children.',
    'child-radius': 'The bone can break again. In one study this was so in 11 of 267 children.',
    'child-ulna': 'The bone can break again. In one study this was so in 11 of 267 children.',
    'tibia-unknown': 'How often the bone breaks again is not known.',
    'humerus-unknown': 'How often the bone breaks again is not known.',
  } as Record<string, string>,
  statuses: { draft: 'DRAFT, not signed', signed: 'Signed', amended: 'Changed after it was signed' },
  about: (label: string, day: string | null, status: string, seal: string | null): string[] => [
    `Case: ${label}.`,
    day === null ? 'The day of the operation was not written down.' : `Operation on ${day}.`,
    `${status}.`,
    ...(seal === null ? [] : [`Last seal: ${seal}.`]),
  ],
  end: (version: string): string =>
    `This page says what was noted in theatre. It does not take the place of your team. Not a certified medical device. Content version ${version}.`,
};

export const surgeon = {
  title: (side: string | null, bone: string, draft: boolean): string =>
    `For the next surgeon: ${side === null ? 'side not recorded' : `${side} ${bone}`}${draft ? ' (DRAFT)' : ''}`,
  titles: {
    stays: 'What is in, or may be',
    out: 'What came out',
    after: 'The time after',
    scan: 'MRI',
    code: 'Passport',
    about: 'About this page',
  },
  nothing: 'Nothing is entered as still in.',
  unknownPart: (names: string[]): string => `Whether ${and(names)} came out was not recorded.`,
  out: (names: string, how: string): string => `${names}: ${how}`,
  lastBy: (label: string, tries: number): string =>
    `${label}${tries > 1 ? `, after ${count(tries, 'try', 'tries')} in all` : ''}`,
  noMove: 'no move was entered',
  tried: 'What was tried, in order:',
  notTried: 'What was tried: no move was entered.',
  next: (stage: string): string =>
    `What would be needed from this state (${stage}), by the rules of this tool; no advice:`,
  noWay: (stage: string): string =>
    `What would be needed from this state (${stage}): by the rules of this tool no way out is known.`,
  fewest: (tools: string): string => `The fewest tools that open one of these ways: ${tools}.`,
  unseen: 'A move that needs something nobody noted, such as a tip that stands proud, is not listed among them.',
  matchedDriver: (facts: string | null): string => `matched driver${facts === null ? '' : ` (${facts})`}`,
  otherDriver: 'larger or other driver',
  forScrews: (tool: string, diameter: number): string => `${tool} for screws of ${mm(diameter)}`,
  wider: (tool: string, diameter: number): string => `${tool} wider inside than ${mm(diameter)}`,
  boneThen: 'Then',
  boneNow: 'Estimate now (reckoned, nobody has measured it since)',
  boneUnknown: 'not recorded',
  code: 'Room for the code of a metal passport: stick or print it here',
  screws: (ids: readonly string[]): string => named(ids),
  each: (ids: readonly string[]): string => (ids.length === 1 ? named(ids) : `${named(ids)}, each`),
};

export const tools = {
  title: 'Tools after this case',
  head: ['Instrument', 'Size', 'What happened', 'What to do'],
  slipped: 'slipped',
  broke: 'broke',
  jammed: 'jammed in the screw',
  outJammed: 'came out jammed in the screw',
  cutMetal: 'used on metal',
  usedUp: 'packed into the recess, used up',
  gone: 'said to be no longer in the room',
  tipMissing: (length: number | null, how: 'measured' | 'image' | 'difference' | undefined): string =>
    `its tip missing${length === null ? '' : ` (${mm(length)}${how === undefined || how === 'measured' ? '' : ', not measured'})`}`,
  kept: 'kept',
  tip: (entry: number, found: boolean): string =>
    `tip broken off (entry ${entry}): ${found ? 'accounted for' : 'NOT ACCOUNTED FOR'}`,
  oneOf: (sizes: string): string => `${sizes}: which one was not recorded`,
  someDriver: 'Driver, which one not recorded',
  unnamed: (move: string): string => `Not recorded which (${move})`,
  tasks: {
    part: 'part it from the screw',
    replace: 'replace',
    sharpen: 'sharpen or replace',
    'look-at': 'look at it',
  } satisfies Record<ToolTask, string>,
  basis:
    'What happened stands in the log. What to do is common practice, no source; your department and the maker decide.',
  none: 'Nothing was noted of any instrument.',
};
