/** The sections of the note in English. */
import type { AnyMoveId, Role, ToolId } from '../../../../content/ids.ts';
import type { Content } from '../../../../content/types.ts';
import type { EntryOf } from '../../../../machines/entry.ts';
import type { MetalAccount, NotModelled } from '../../../../machines/view.types.ts';
import { capital, heading, semicolons, span } from '../../../format/prose.ts';
import type { Listing, Standing } from '../../standing.ts';
import {
  and,
  answers,
  clean,
  count,
  mm,
  notRecorded,
  num,
  percent,
  points,
  roles,
  screw,
  tool,
  yesNo,
} from './base.ts';
import type { PartFate } from '../../part-fate.ts';
import { countImages, doingOf } from './entries.ts';

/** Of so many mm; nothing where nobody knows. */
const of = (length: number | null): string => (length === null ? '' : ` of ${mm(length)}`);

export const title = (draft: boolean): string => `Operative record: removal of metalwork${draft ? ' (DRAFT)' : ''}`;

export const titles = {
  head: 'Case',
  staysIn: 'What stays in',
  times: 'Date and times',
  team: 'Team',
  operation: 'Operation',
  before: 'Before the operation',
  screws: 'Screw by screw',
  tools: 'Tools',
  bone: 'Bone lost and strength, estimated',
  holds: 'Limits and holds',
  metal: 'Account of the metal',
  told: 'Telling the patient',
  aftercare: 'The time after',
  clocks: 'Clocks',
  timeline: 'Timeline',
  changes: 'Corrections and additions',
  sterile: 'For sterile services and restock',
  signature: 'Signature',
  cautions: 'Cautions',
};

export const noScrew: string = 'No screw was listed: not recorded.';
export const noEntry: string = 'The log holds no entry.';
export const told: string = 'Patient told';

export const head = {
  status: 'Status',
  statuses: {
    draft: 'DRAFT: not signed',
    signed: 'signed',
    amended: 'AMENDED: entries were added after signing',
  },
  patient: 'Patient (this record takes no name or number)',
  case: 'Case',
  side: 'Side',
  bone: 'Bone',
  construct: 'Construct',
  planned: 'Planned',
  entries: 'Entries in the log',
  content: 'Content',
  version: (version: string, reviewed: string, expires: string, expired: boolean): string =>
    `version ${version}, reviewed ${reviewed}, valid to ${expires}${expired ? '; EXPIRED on the date of the case' : ''}`,
  seal: 'Seal',
  whole: 'whole: every entry carries its seal and the chain fits',
  unsealed: 'UNSEALED: not every entry carries a seal, so damage and edits cannot be seen',
  sealless: 'UNSEALED: the log holds no entry',
  broken: (at: number | null): string => `BROKEN at entry ${at ?? 'not known'}: the log was damaged or edited there`,
  sealTail: (seal: string): string =>
    `${seal}. The seal shows damage and edits; it does not stop somebody who seals a forged log anew`,
  lastSeal: 'Last seal',
  openedAs: (was: string, by: number[]): string => `opened as ${was}, corrected by entry ${and(by.map(String))}`,
};

/** Labelled lines of a piece that is still in. */
export const piece = {
  material: (text: string): string => `Material: ${text}`,
  size: (text: string): string => `Size: ${text}`,
  where: (text: string): string => `Where: ${text}`,
  place: (text: string): string => `Lies by estimate: ${text}`,
  whyStays: (text: string): string => `Why it stays: ${text}`,
  why: (text: string): string => `Why: ${text}`,
  image: (text: string): string => `Image: ${text}`,
  decidedBy: (text: string): string => `Decided by: ${text}`,
  told: (text: string): string => `Told to: ${text}`,
};

export const staysIn = {
  entry: (what: string, n: number | null): string => `${heading(what)}${n === null ? '' : ` (entry ${n})`}`,
  none: 'Every listed screw is out and accounted for by the log. No piece is entered as left in.',
  noneListed: 'No screw was listed and no piece was entered as left in: not recorded.',
  scan: 'MR status of anything left in is not assessed here. Tell the MRI team before any scan.',
};

export const screws = {
  short: {
    broke: 'it came out short: it broke, the rest was still in',
    'listed-wrong': 'it came out short: it was said to be listed wrong',
    lost: 'it came out short: the rest was said to be lost',
  },
  fate: (id: string, stage: string): string => `${screw(id)}: ${stage}`,
  /** What was told once the case was closed, by entry `n`. */
  after: {
    out: (n: number): string => `found after closing: all of it is out (entry ${n})`,
    stays: (n: number): string => `said after closing: it stays in (entry ${n})`,
  },
  toldAfter: (n: number): string => `; told after closing (entry ${n})`,
  notEnded: 'not ended in the log',
  interrupted: (n: number): string => `interrupted, entry ${n}`,
  endedBy: (n: number): string => `nobody entered how it ended; ended by entry ${n}`,
  took: (time: string, lasted: string | null): string => `, ended ${time}${lasted === null ? '' : ` (${lasted})`}`,
  then: (stage: string): string => `; then: ${stage}`,
  slips: (n: number): string => `${count(n, 'slip')} in the recess`,
  noMove: 'No move was entered.',
};

const long = (length: number | null | undefined) =>
  length === null || length === undefined ? 'not known' : mm(length);
const out = (length: number | null) => (length === null ? 'not measured' : mm(length));
type Account = Pick<MetalAccount, 'listed' | 'recovered' | 'destroyed' | 'left' | 'unaccounted' | 'closes'>;
/** What was said besides the lengths. */
type Closing = Record<
  | 'isIn'
  | 'complete'
  | 'whole'
  | 'stopped'
  | 'asked'
  | 'lost'
  | 'wrong'
  | 'inPlate'
  | 'headStays'
  | 'image'
  | 'besides',
  boolean
>;
/** What is missing; a measure that is longer than the listing is no length that is missing. */
const missing = (unaccounted: number | null) =>
  (unaccounted ?? 0) < -0.005
    ? `${mm(-(unaccounted ?? 0))} more than listed`
    : `not accounted for ${long(unaccounted)}`;
const figuresOf = ({ recovered, destroyed, left, unaccounted }: Account) =>
  `recovered ${out(recovered)}${destroyed === 0 ? '' : `, destroyed ${out(destroyed)}`}, stays ${out(left)}, ${missing(unaccounted)}`;

export const metal = {
  screw: (id: string, account: Account, closes: string): string =>
    `${heading(screw(id))}: listed ${long(account.listed)}, ${figuresOf(account)}; ${closes}`,
  tip: (content: Content, id: ToolId, n: number, account: Account, closes: string): string =>
    `Tip of the ${tool(content, id)} (entry ${n}): length ${long(account.listed)}, ${figuresOf(account)}; ${closes}`,
  /** How an account closes, and what it rests on. */
  closes: ({ closes, unaccounted, left, destroyed }: Account, how: Closing): string => {
    const short = mm(unaccounted ?? 0);
    switch (closes) {
      case 'measured':
        if (how.whole)
          return `accounted for, measured; whole, tip and head seen${how.besides ? '; A PIECE WAS TOLD OF IT BESIDES: of what it is was not told' : ''}`;
        if (how.wrong) return 'accounted for, measured; it was said to be listed wrong';
        return `accounted for, measured${(unaccounted ?? 0) < -2 ? `, ${mm(-(unaccounted ?? 0))} longer than listed` : ''}`;
      case 'difference':
        if (how.headStays)
          return 'accounted for by difference: the pieces out were measured, its head was said to be in the plate, which stays';
        if (left)
          return `accounted for by difference: the pieces out were measured${how.image ? ' or read from an image' : ''}, what stays was not; an image was taken`;
        if (how.inPlate)
          return 'accounted for by difference: the pieces out were measured, its head was said to be in the plate, which is out';
        if (destroyed)
          return 'accounted for by difference: the pieces out were measured, the rest was said to be destroyed';
        return 'accounted for by difference: what was measured or read from an image makes up its length';
      case 'assumed':
        if (how.complete) return 'complete by eye: its pieces were laid together, not all measured';
        if (how.stopped) return 'stays: the work was stopped; no break entered';
        if (how.whole) return 'not measured; whole, tip and head seen';
        return 'taken as whole: not measured, and no break entered';
      default:
        if (how.asked) return `NOT ACCOUNTED FOR: it came out ${short} short, and why was not said`;
        if (how.lost) return 'NOT ACCOUNTED FOR: the rest was said to be lost';
        if (how.complete) return `NOT ACCOUNTED FOR: called complete, ${short} short`;
        if (how.stopped)
          return 'NOT ACCOUNTED FOR: it was in when the work was stopped; how much of it is in was not measured';
        return how.isIn ? 'NOT ACCOUNTED FOR: neither out nor entered as staying' : 'NOT ACCOUNTED FOR';
    }
  },
  noTip: 'No broken tool tip was entered.',
  heads: (what: string, cite: string): string =>
    `A head that is gone explains no more than its height. ${what} (${cite}).`,
  tolerance: (value: number, cite: string): string =>
    `Tolerance: ${mm(value)} for each measured piece, at least ${mm(value)} and at most ${mm(2 * value)} in all${cite}. This is not the official count of swabs and instruments.`,
  counts: 'Account answered',
  /** `decidedBy`: who decided that it ends so, as far as it is known; null where nothing was passed. */
  count: (time: string, entry: EntryOf<'count-answered'>, decidedBy: string | null): string =>
    semicolons(
      `${time} by ${and([...new Set(entry.by)].map((role) => roles[role]))}`,
      `discrepancy: ${entry.discrepancy === undefined ? notRecorded : clean(entry.discrepancy)}`,
      decidedBy !== null && `decided by: ${decidedBy}`,
      entry.image === undefined
        ? `image: ${entry.imageTaken === true ? 'taken, finding not recorded' : yesNo(entry.imageTaken)}`
        : countImages[entry.image],
    ),
};

export const parts = {
  /** What became of a part; null when nobody said anything of it. */
  became: (part: PartFate): string | null => {
    const words = parts.ended(part);
    return words === null || part.after === null ? words : `${words}, said after closing (entry ${part.after})`;
  },
  ended: ({ kind, end, closes, pieces, off, byStop }: PartFate): string | null => {
    const takenOff = kind === 'plate' ? 'taken off the bone' : 'taken off';
    const taken = off === null ? '' : `, ${takenOff} at ${off}`;
    const of = pieces > 1 ? `, in ${pieces} pieces` : '';
    if (closes === 'difference') return `some of it out, the rest said to stay${of}${taken}`;
    if (end === 'put-in') return 'put in today';
    if (end === 'out') return closes === 'open' ? `some of it out${of}, the rest not said${taken}` : `out${of}${taken}`;
    if (byStop) return 'in when the work was stopped';
    if (end === 'left-in') return closes === 'open' ? `some of it left in${of}, the rest not said` : `left in${of}`;
    if (end === 'not-found') return `not found${of}${taken}`;
    return off === null ? null : `${takenOff} at ${off}; whether it is out was not recorded`;
  },
  account: (part: PartFate): string => {
    const said = parts.became(part) ?? (part.asked ? 'nobody spoke of it' : 'version 1 did not ask');
    const open = part.closes === 'open' ? '; NOT ACCOUNTED FOR' : '';
    const what = part.kind === 'foil' ? '' : ` (${part.what})`;
    return `${heading(part.name)}${what}: ${said}${open}`;
  },
};

const both = (label: string, own: string, made: string) =>
  `${label}: ${own} with the screw's own hole, ${own === made ? 'the same' : made} after all that was made`;

/** `mm3(1200.02)` is `'1200 mm³'`. */
const mm3 = (modulus: number): string => `${Math.round(modulus)} mm³`;

export const aftercare = {
  label: 'Accepted by the surgeon',
  unknown: (line: string): string => `A line that this content does not have (${clean(line)})`,
};

export const bone = {
  bores: (own: number | null, bores: string[], entered: boolean): string =>
    `Bores besides the screw's own hole${of(own)}: ${and(bores)}${entered ? '' : ' (as expected of the moves, not measured)'}`,
  noBores: (own: number | null): string => `No bore was entered or expected besides the screw's own hole${of(own)}`,
  unknown: 'Bone at this level: not recorded, so no figure',
  sources: {
    measured: 'measured',
    film: 'measured on a film',
    assumed: 'assumed',
    named: 'assumed from the name of the bone, from memory',
  },
  size: (outer: number, cortex: number, source: string): string =>
    `Bone at this level: outer diameter ${mm(outer)}, cortex ${mm(cortex)}, ${source}`,
  noDiameter: 'Diameter of the screw: not known, so no figure',
  asWide: 'A bore as wide as the bone: no figure',
  torsion: (kept: number, low: number, high: number, untested: string): string =>
    `${percent(kept)} (${percent(low)} to ${percent(high)}${untested && `; ${untested}`})`,
  beyondTested: 'beyond the tested range',
  notTested: 'not tested there, the band widens',
  modulus: (ring: number, own: number, made: number): string =>
    `${both('Section modulus in the weakest direction', mm3(own), mm3(made))}; intact ring ${mm3(ring)}`,
  ofSound: (share: number, sound: number, cite: string): string =>
    `Against a sound adult bone of that name, ${mm3(sound)}${cite}: ${percent(share)}`,
  noSound: 'Against a sound adult bone of that name: none to compare with',
  notModelled: {
    broken: 'The bone broke: not modelled, no figure',
    'near-joint': 'Near a joint: not modelled here, no share',
    neck: 'In the neck: not modelled here, no share',
    'lag-screw': 'A lag screw, and nobody said that it lies in a shaft: not modelled here, no share',
    'bone-not-known': 'Bone at this level: not recorded, so no figure',
    'diameter-not-known': 'Diameter of the screw: not known, so no figure',
    'opening-not-said': 'Bone was opened and nobody said how far: no figure',
    'openings-meet': 'Its opening runs into that at another screw: not reckoned, no figure',
    'as-wide': 'A bore as wide as the bone: no figure',
  } satisfies Record<NotModelled, string>,
  broken: 'The bone broke at this operation: broken, not modelled. No share, strength or limit is told of it.',
  weakest: (id: string, modulus: number, unknown: string[], levels: number): string =>
    `Weakest of the ${count(levels, 'level')} with figures, by section modulus: ${screw(id)}, ${mm3(modulus)}${unknown.length ? `; no figures at ${and(unknown.map(screw))}` : ''}`,
  openingsAsked: (ids: string[]): string =>
    `Long openings at ${and(ids.map(screw))}: whether they run into another was not recorded; each level is reckoned by itself`,
  hole: (where: 'off-plate' | 'end-of-metal', diameter: number, id: string | null): string =>
    `A hole of ${mm(diameter)} ${where === 'off-plate' ? 'away from the plate' : 'at the end of metal that stays'}${id === null ? '' : `, at ${screw(id)}`}: not in these figures`,
  noHole: 'Holes away from the plate and at the end of metal that stays: not recorded',
  widens: (rate: number, cite: string): string =>
    `Beyond what was tested the band of torsion grows by ${num(rate)} on either side for each d/D${cite}. Section modulus: intact ring times the bending strength kept.`,
  ring: (own: string, made: string): string => both('Cortical ring lost', own, made),
  bending: (own: string, made: string): string => both('Bending strength kept in the weakest direction', own, made),
  twisting: (own: string, made: string): string => both('Torsional strength kept (a scale of its own)', own, made),
  reachesUpper: (limit: number): string => `The loss reaches the upper limit of ${percent(limit)}`,
  reachesLower: (limit: number): string => `The loss reaches the lower limit of ${percent(limit)}`,
  open: 'A slot longer than the bone is wide: reckon with an open section in torsion',
  basis: (rate: number, rateCite: string, testedTo: number, testedCite: string, limitsCite: string): string =>
    `All figures are estimates. Ring and bending: plane geometry of a hollow cylinder. Torsion: exp(-${num(rate)} d/D)${rateCite}; tested to ${num(testedTo)} of the diameter${testedCite}. Limits${limitsCite} are prompts.`,
};

const kept = (value: boolean | undefined) => (value === undefined ? 'kept: not recorded' : value ? 'kept' : 'not kept');

export const tools = {
  damage: (content: Content, entry: EntryOf<'tool-damaged'>, time: string): string =>
    `${capital(tool(content, entry.tool))} at ${time}: ${clean(entry.how)}; tip ${entry.tipMissing ? 'missing' : 'not missing'}; ${kept(entry.kept)}`,
  unnamed: (n: number): string => `${count(n, 'move')} with no tool named`,
  used: 'Tools used',
  damaged: 'Tools damaged',
  wanted: 'Not listed as in the room, for a move that was closed by that',
};

const on = (id: string | undefined) => (id === undefined ? '' : ` on ${screw(id)}`);

/** A move that was begun, for a line on a hold. */
interface Begun {
  id: AnyMoveId;
  screw: string;
  n: number;
}

/** How a hold was answered; of one that was heeded, `next` is what was begun then. */
const answeredHow = (content: Content, { answer, screw: id }: EntryOf<'hold-answered'>, next: Begun | null): string => {
  if (answer === 'go-on' || answer === 'not-available') return `passed ("${answers[answer]}")`;
  if (answer !== 'heeded' || id === undefined) return answers[answer];
  return next === null
    ? `heeded, and no move began on ${screw(id)} after it`
    : `heeded; next on ${screw(id)}: ${doingOf(content, next.id)} (entry ${next.n})`;
};

export const holds = {
  answered: 'Holds answered',
  answer: (content: Content, entry: EntryOf<'hold-answered'>, time: string, next: Begun | null): string =>
    semicolons(
      `${time} "${content.phrases.holds[entry.hold].label}"${on(entry.screw)}: ${answeredHow(content, entry, next)}`,
      entry.onWordOf === undefined ? 'on whose word: not recorded' : `on the word of ${clean(entry.onWordOf)}`,
      `reason: ${entry.reason === undefined ? notRecorded : clean(entry.reason)}`,
      `entry ${entry.n}`,
    ),
  reverse: (content: Content, id: string, confirmed: boolean, n: number, time: string): string =>
    `${time} "${content.phrases.holds.reverse.label}" on ${screw(id)}: ${confirmed ? 'confirmed' : 'not confirmed'} as the move began; entry ${n}`,
  noAnswer: 'no answer is in the log',
  called: 'Colleague called',
  colleague: (time: string, who: string | undefined): string =>
    `${time} ${who === undefined ? 'name not recorded' : clean(who)}`,
  unanswered: 'Passed without an answer',
  passed: (
    content: Content,
    label: string,
    n: number,
    time: string | null,
    /** The move that began, or what else was told by that entry. */
    at: { id: AnyMoveId; screw: string } | string | null,
  ): string => {
    const when =
      typeof at === 'string' ? `: ${at}` : at && `, when ${doingOf(content, at.id)} began on ${screw(at.screw)}`;
    return `"${label}" at entry ${n}${time === null ? '' : ` (${time})`}${when ?? ''}`;
  },
  nonePassed: 'no entry in the log passed an open hold',
  late: 'Entered late, not asked',
  notAsked: (content: Content, { screw: id, move, n }: EntryOf<'move-started'>, time: string): string =>
    `${time} ${doingOf(content, move)} on ${screw(id)}; entry ${n}`,
  standing: 'Standing at the last entry',
  stands: (label: string, id?: string): string => `"${label}"${on(id)}`,
  noneStands: 'no hold stands',
  noneStood: 'no hold stood open when the case was closed',
  /** Of a closed case: what nobody answered, and no entry went past. */
  never: 'Never answered',
  neverOf: (label: string, n: number, id?: string): string =>
    `"${label}"${on(id)}: it stood when the case was closed (entry ${n}), and nobody answered`,
};

export const toldLine = (entry: EntryOf<'patient-told'>, time: string): string => {
  const named = entry.points.length ? and([...new Set(entry.points)].map((point) => points[point])) : 'no point named';
  return `${entry.state === 'told' ? 'told' : 'still to be told'}, by ${clean(entry.by)}, at ${time}: ${named}`;
};

export const clocks = {
  theatre: 'Theatre clock',
  compared: (time: string, difference: string): string => `at ${time} ${difference}`,
  gaps: 'Stops of the log',
  gap: (time: string, device: string, n: number): string =>
    `taken up again at ${time} on ${device} (entry ${n}); how much time had passed was not confirmed`,
  jumps: 'Jumps of the clock of the device',
  jump: (time: string, seconds: number): string =>
    `at ${time} ${seconds < 0 ? 'back' : 'forward'} by ${span(seconds)}; durations are corrected for it`,
  noJump: 'no jump is in the log',
};

export const changes = {
  kinds: {
    strike: 'strike',
    addendum: 'addendum',
    correction: 'correction',
    remark: 'remark',
    'entry after signing': 'entry after signing',
  },
  late: (text: string): string => `late entry: ${text}`,
  /** `of` is the time it is about, null when that is when it was entered; `by` null when nobody said. */
  line: (n: number, kind: string, entered: string, of: string | null, by: string | null, what: string): string =>
    `Entry ${n}, ${kind}, entered ${entered}${of === null ? '' : `, about ${of}`}, ${by === null ? 'by whom not recorded' : `by ${by}`}: ${what}`,
  review: (n: number): string => `Entry ${n}: out of order, kept without effect, for review`,
  none: 'No correction or addition is in the log.',
};

export const sterile = {
  damaged: 'Damaged',
  tips: 'Tips broken off',
  tip: (content: Content, id: ToolId, n: number): string => `${capital(tool(content, id))}, entry ${n}`,
  part: 'Tap or extractor and screw to be parted',
  toPart: (id: string, cameOut: boolean): string =>
    `${capital(screw(id))}: ${cameOut ? 'came out with the tool jammed in it' : 'a tool is jammed in it'}`,
  restock: 'Replace',
  worn: 'Used on metal or used up, look before it goes back (common practice, no source)',
  missing: 'Not listed as in the room, for a move that was closed by that',
};

export const signature = {
  signed: 'Signed',
  line: (who: string, role: Role, time: string, meaning: string, n: number): string =>
    `${who}, ${roles[role]}, ${time}: ${meaning} (entry ${n})`,
  /** Was the name among the people listed, as far as the log tells? */
  standing: (role: Role, { before, since }: Standing): string => {
    const listed = ({ n, role: as, struckBy }: Listing) =>
      `as ${roles[as]} in entry ${n}${struckBy === null ? '' : ` (struck since by entry ${struckBy})`}`;
    if (!before.length)
      return `name typed by hand, not among the people listed${since.length ? ` then; listed since ${and(since.map(listed))}` : ''}`;
    const asOther = before.every((one) => one.role !== role) ? `, not as ${roles[role]}` : '';
    const same = before.length > 1 ? '; whether that is one person was not recorded' : '';
    return `listed ${and(before.map(listed))}${asOther}${same}`;
  },
  /** After the signature in entry `signed`, these were added. */
  again: (signed: number, entries: number[]): string =>
    `Not covered by the signature in entry ${signed}: ${entries.length === 1 ? 'entry' : 'entries'} ${and(entries.map(String))}, added after it. A NEW SIGNATURE IS NEEDED.`,
  unsigned: 'DRAFT: not signed. Signature, name, date and time: ______________________________',
};

/** What newer rules reckon otherwise of what was signed. */
export const reckoned = {
  signedUnder: (rules: number): string => `Signed under rules ${rules}.`,
  title: 'Reckoned anew',
  anew: (rules: number, line: string): string => `Reckoned anew by rules ${rules}: ${line}`,
  same: 'nothing differs',
  asSigned: 'As it was signed',
  toldAgain: (rules: number, n: number): string =>
    `What follows was signed in entry ${n}, as rules ${rules} tell it from the entries before that. Below it stands the record as it is told now.`,
  /** The hash that a signature keeps of the English text of the record before it. */
  hash: {
    none: 'No hash of the words that were signed was kept: that these are the same words cannot be proven.',
    same: (hash: string): string =>
      `The words that were signed are proven: the text in English from the entries before the signature has the SHA-256 that was signed, ${hash}.`,
    other: (hash: string): string =>
      `The words that were signed had the SHA-256 ${hash}; this version of the program words the same entries otherwise, so it cannot tell them word for word.`,
    unknown: (hash: string): string =>
      `The words that were signed had the SHA-256 ${hash}; this device lacks what it takes to check it.`,
  },
  tourniquet: (now: string, was: string): string => `tourniquet ${now}, was ${was}`,
  was: (of: string, now: string, was: string): string => `${of}: ${now}, was ${was}`,
  closes: {
    measured: 'accounted for, measured',
    difference: 'accounted for by difference',
    assumed: 'taken as whole',
    open: 'not accounted for',
  },
  notAsked: 'not asked',
  impossible: (n: number): string => `entry ${n}: an end before its own start`,
};

/** The marks that stand before the sentence of an entry in the timeline. */
export const marks = {
  struck: (by: number, reason: string): string => `STRUCK by entry ${by} (${clean(reason)})`,
  /** `unasked`: nothing could be asked before it. */
  late: (time: string, unasked: boolean): string => `LATE, entered at ${time}${unasked ? ', not asked' : ''}`,
  device: (time: string): string => `DEVICE ${time}`,
  deviceAlone: 'TIME AS THE DEVICE SHOWED IT: how far from the theatre clock is not known',
  outOfOrder: 'OUT OF ORDER, without effect',
  impossible: 'TIME CANNOT BE: an end before its own start',
  conflict: (n: number): string => `CONTRADICTS entry ${n}: both cannot be true as told`,
  notOffered: 'NOT OFFERED at that time',
  unanswered: (holds: string[]): string => `UNANSWERED: ${and(holds.map((label) => `"${label}"`))}`,
  afterSigning: 'AFTER SIGNING',
  afterClosing: 'AFTER CLOSING',
  moved: (id: string, ns: number[]): string => `ENTERED FOR ${screw(id)}, moved by entry ${and(ns.map(String))}`,
  version1: 'who called and who entered it: not recorded (version 1, not asked)',
};
