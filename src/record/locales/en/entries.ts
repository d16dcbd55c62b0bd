/** Every entry as one plain sentence in the past tense, in English. */
import type { AnyMoveId, ImageFinding, MoveId, Outcome, Role } from '../../../../content/ids.ts';
import { inSentence } from '../../../../content/names.ts';
import { moveOf } from '../../../../content/moves.ts';
import type { Content } from '../../../../content/types.ts';
import type { Entry, EntryOf, EntryType } from '../../../../machines/entry.ts';
import { epoch, inZone } from '../../../../machines/time.ts';
import { semicolons, some, span } from '../../../format/prose.ts';
import { checkAsked, fill, isAssumed, type ListedFacts, type Running, type Telling } from '../telling.ts';
import { aboutPatient, afterwards, lengthWords, partName, placedBy, tellers2 } from './entries-2.ts';
import {
  and,
  answers,
  bore,
  clean,
  constructs,
  count,
  mm,
  num,
  percent,
  points,
  roles,
  screw,
  sides,
  tool,
  yesNo,
} from './base.ts';

/** Each move as an activity. */
const doing: Record<MoveId, string> = {
  'turn-out': 'turning out with the matched driver',
  'reseat-driver': 'cleaning the recess, reseating the driver and turning once more',
  'pack-recess': 'packing the recess with foil and turning',
  'drive-oversize': 'tapping in a tight driver and turning',
  'grip-head': 'gripping the head from outside',
  'conical-extractor': 'turning in the conical extractor by hand',
  'reverse-tap': 'drilling the recess round and cutting in the {tap}',
  'free-plate': 'freeing the plate and turning screw and plate together',
  'slot-head': 'cutting a slot or flats in the head and turning',
  'drill-head-off': 'drilling the head off',
  'grip-shank': 'gripping the standing shank and turning',
  'gouge-and-grip': 'making room round the shank with a gouge and gripping it',
  'far-side': 'taking the piece out from the far side',
  'push-through': 'driving the piece out through the far side',
  'hollow-ream': 'reaming over the shank with the hollow reamer',
  'extraction-sleeve': 'turning out with the extraction sleeve',
  'burr-out': 'burring the piece away',
  uncover: 'clearing the head',
  'break-loose': 'rapping the screw and rocking it in the recess',
  'lift-and-turn': 'pulling on the screw and turning it',
  'open-near-cortex': 'opening the near cortex and turning',
  window: 'opening a window in the bone and taking the piece out',
  'leave-in': 'leaving it in',
};

/** The tool in a sentence when none was named. */
const unnamed: Record<MoveId, string> = {
  'turn-out': 'driver',
  'reseat-driver': 'driver',
  'pack-recess': 'driver',
  'drive-oversize': 'driver',
  'grip-head': 'gripper',
  'conical-extractor': 'conical extractor',
  'reverse-tap': '{tap}',
  'free-plate': 'cutting tool',
  'slot-head': 'tool',
  'drill-head-off': 'drill',
  'grip-shank': 'gripper',
  'gouge-and-grip': 'gripper',
  'far-side': 'gripper',
  'push-through': 'punch',
  'hollow-ream': 'hollow reamer',
  'extraction-sleeve': 'extraction sleeve',
  'burr-out': 'burr',
  uncover: 'tool',
  'break-loose': 'driver',
  'lift-and-turn': 'gripper',
  'open-near-cortex': 'drill',
  window: 'tool',
  'leave-in': 'tool',
};

/** The move as an activity; a move without a phrase here by the label of its release. */
export const doingOf = (content: Content, move: AnyMoveId): string => {
  const said = (doing as Partial<Record<string, string>>)[move];
  return said === undefined ? inSentence(content, content.phrases.moves[move].label) : toolsNamed(content, said);
};

/** A text with the tools in the words of the release. */
const toolsNamed = (content: Content, text: string): string => fill(text, { tap: tool(content, 'reverse-tap') });

export const toolOf = (content: Content, running: Running | undefined): string =>
  running?.tool
    ? tool(content, running.tool)
    : toolsNamed(content, (running && (unnamed as Partial<Record<string, string>>)[running.move]) ?? 'tool');

const object = (content: Content, entry: { screw?: string | undefined; tool?: EntryOf<'left-in'>['tool'] }) =>
  entry.screw !== undefined ? screw(entry.screw) : `the ${tool(content, entry.tool ?? 't-handle')}`;

/** How a move ended, without a capital or a full stop. `running` is the move it ended, if one is known. */
export function outcome(content: Content, id: string, how: Outcome, running: Running | undefined): string {
  const name = screw(id);
  const held = toolOf(content, running);
  const rules = running && moveOf(content, running.move);
  if (how === 'slipped' && rules?.turnsInRecess) return `the ${held} slipped in the recess of ${name}`;
  if (how === 'head-sheared' && rules?.aim === 'head-sheared') return `the head of ${name} was drilled off`;
  if (how === 'set-up-done' && rules?.aim === 'head-sheared') return `the head of ${name} was drilled off`;
  return fill(content.phrases.outcomes[how].sentence, { screw: name, tool: held, id: clean(id) }).replace(
    'screw screw ',
    'screw ',
  );
}

const boresWords = (bores: EntryOf<'move-ended'>['bores']): string => (bores?.length ? and(bores.map(bore)) : 'none');

const threads = { cortical: 'cortical', cancellous: 'cancellous', partly: 'partly threaded' } as const;
const metals = { steel: 'steel', titanium: 'titanium', 'cobalt-chromium': 'cobalt-chromium' } as const;
const forms = { solid: 'solid', cannulated: 'cannulated', headless: 'headless' } as const;

/** The form of a recess and its size, as far as they are known; null when the form is not. */
export const recess = ({ drive, driveSize }: ListedFacts): string | null =>
  drive === 'unknown' ? null : `${drive}${driveSize === undefined ? '' : ` ${num(driveSize)}`}`;

/** The facts of a listed screw in words. */
export const screwFacts = (entry: ListedFacts): string =>
  [
    entry.thread === null
      ? `${entry.diameter === null ? 'diameter not known' : mm(entry.diameter)}, thread not known`
      : `${entry.diameter === null ? 'diameter not known,' : mm(entry.diameter)} ${threads[entry.thread]} thread`,
    ...some(entry.form !== undefined && forms[entry.form]),
    isAssumed(entry, 'locking') ? 'locking or not: not known' : entry.locking ? 'locking' : 'not locking',
    entry.drive === 'unknown'
      ? 'drive form unknown'
      : `${entry.drive} drive`.concat(entry.driveSize === undefined ? '' : ` ${num(entry.driveSize)}`),
    entry.material === 'unknown' ? 'material unknown' : metals[entry.material],
    entry.length === null ? 'length unknown' : `${mm(entry.length)} long`,
    isAssumed(entry, 'cortices') ? 'cortices not known' : entry.cortices === 1 ? 'one cortex' : 'two cortices',
    ...some(entry.washer === true && 'with a washer', entry.underPlate === false && 'not under the plate'),
  ].join(', ');

/** The theatre clock against this device, such as "it read 10:15:00, 2 min 5 s ahead of this device". */
export function clockDifference(entry: EntryOf<'clock-compared'>, zone?: string): string {
  const seconds = Math.round((epoch(entry.theatreClock) - epoch(entry.at)) / 1000);
  const reading =
    zone === undefined ? clean(entry.theatreClock).slice(11, 19) : inZone(epoch(entry.theatreClock), zone).time;
  if (seconds === 0) return `it read ${reading}, the same as this device`;
  return `it read ${reading}, ${span(seconds)} ${seconds > 0 ? 'ahead of' : 'behind'} this device`;
}

const check = (label: string, value: boolean | undefined) => `${label}: ${yesNo(value)}`;
const seen = (value: boolean | undefined, yes: string, no: string) => (value === undefined ? false : value ? yes : no);

const toldTo = {
  before: 'told before',
  'patient-awake': 'told to the patient, who was awake',
  relative: 'told to a relative',
} as const;

/** What the image of a count showed. */
export const countImages: Record<ImageFinding, string> = {
  clear: 'image taken, no metal seen on it',
  'metal-seen': 'image taken, metal seen on it',
  'not-sure': 'image taken, not sure what it shows',
  'not-taken': 'no image was taken',
};

const otherChecks = [
  ['jawsSquare', 'jaws square'],
  ['edgeFree', 'edge free'],
  ['inAxis', 'in the axis'],
  ['deepEnough', 'deep enough'],
  ['shankBare', 'shank bare'],
] as const;

/** The measures of a tool that stood in the room, as far as somebody told them. */
export const measures = (e: EntryOf<'tool-in-room'>): string[] =>
  some(
    e.size !== undefined && `size ${num(e.size)}`,
    e.fits && (e.fits.length ? `for screws of ${and(e.fits.map(num))} mm` : 'for no screw size'),
    e.inner !== undefined && `inner ${mm(e.inner)}`,
    e.outer !== undefined && `outer ${mm(e.outer)}`,
  );

/** A sentence for each type of entry, without a capital or a full stop. */
export const tellers: { [T in EntryType]: (entry: EntryOf<T>, telling: Telling) => string } = {
  'case-opened': (e) =>
    semicolons(
      `the case was opened as "${clean(e.label)}": ${sides[e.side]} ${clean(e.bone)}, ${constructs[e.construct]}`,
      e.planned === '' ? 'what was planned was left blank' : `planned: ${clean(e.planned)}`,
      e.urgency !== undefined && `urgency: ${clean(e.urgency)}`,
      e.placedBy && placedBy(e.placedBy),
      e.placedMonthsAgo !== undefined && `${count(Number(num(e.placedMonthsAgo)), 'month')} before`,
      e.theatreMinutes !== undefined && `${num(e.theatreMinutes)} min of theatre time planned`,
      e.purpose === 'put-in' && 'metal was to be put in',
      ...aboutPatient(e),
    ),
  'person-listed': (e) =>
    `${clean(e.who)} was listed as ${e.role === 'other' ? 'another person in the room' : roles[e.role]}`,
  'bone-measured': (e) =>
    `the bone${e.screw === undefined ? '' : ` at ${screw(e.screw)}`} was ${e.source === 'film' ? 'measured on a film' : e.source}: outer diameter ${mm(e.outer)}, cortex ${mm(e.cortex)}${e.plusMinus === undefined ? '' : `, ± ${mm(e.plusMinus)}`}`,
  'screw-listed': (e, { content, again }) =>
    semicolons(
      `${screw(e.screw)} was listed${again ? ' again' : ''}: ${screwFacts(e)}`,
      e.stage && e.stage !== 'seated' && `known state: ${content.phrases.stages[e.stage].label.toLowerCase()}`,
    ),
  'tool-in-room': (e, { content }) => {
    const told = measures(e);
    const label = tool(content, e.tool);
    return `the ${label}${told.length ? ` (${told.join('; ')})` : ''} ${/(pliers|forceps)$/.test(label) ? 'were' : 'was'} ${e.present ? '' : 'not '}in the room`;
  },
  'consent-point': (e, { content }) =>
    `the consent point "${content.phrases.consent[e.point].label}" was ${e.confirmed ? 'confirmed' : 'not confirmed'}${e.toldTo === undefined ? '' : `, ${toldTo[e.toldTo]}`}`,
  'limits-set': (e) => {
    const set = some(
      e.boneConsider !== undefined && `lower bone limit ${percent(e.boneConsider)} of the cortex`,
      e.boneStop !== undefined && `upper bone limit ${percent(e.boneStop)} of the cortex`,
      e.tourniquetMinutes !== undefined && `tourniquet ${num(e.tourniquetMinutes)} min`,
      e.theatreMinutes !== undefined && `theatre time ${num(e.theatreMinutes)} min`,
    );
    return set.length ? `limits were set: ${set.join('; ')}` : 'the limits were confirmed without a change';
  },
  'work-started': () => 'the work was started',
  'screw-called': (e) => `${screw(e.screw)} was called`,
  'move-started': ({ screw: id, move, what, tool: named, reverseConfirmed, bores }, { content }) =>
    semicolons(
      `on ${screw(id)}, ${what === undefined ? doingOf(content, move) : `something else, "${clean(what)}",`} began${named ? `, with the ${tool(content, named)}` : ''}`,
      reverseConfirmed === true && 'the drive was confirmed to run in reverse',
      reverseConfirmed === false && 'the drive was not confirmed to run in reverse',
      bores && `expected bores: ${boresWords(bores)}`,
    ),
  'move-ended': (e, { content, running }) => {
    const { screw: id, outcome: how, reachable, recovered, toolJammed, bores } = e;
    return semicolons(
      outcome(content, id, how, running),
      e.whole === true && 'it was whole, tip and head seen',
      e.whole === false && 'it was not whole',
      reachable === true && 'the stump could still be reached at the near cortex',
      reachable === false && 'the rest lay too deep to be reached at the near cortex',
      recovered !== undefined && `${lengthWords(recovered, e.lengthHow)} of it recovered`,
      toolJammed === true && `the ${toolOf(content, running)} was still jammed in it`,
      ...afterwards(e),
      bores && `bores made: ${boresWords(bores)}`,
    );
  },
  reassessed: (e) =>
    semicolons(
      `${screw(e.screw)} was looked at again`,
      check('recess cleaned', e.checks.recessCleared),
      check('driver fully seated', e.checks.fullySeated),
      check('in line', e.checks.inLine),
      check('fresh driver', e.checks.freshDriver),
      ...otherChecks.map(([key, label]) => e.checks[key] !== undefined && check(label, e.checks[key])),
    ),
  'hold-answered': (e, { content }) =>
    semicolons(
      `the hold "${content.phrases.holds[e.hold].label}"${e.screw === undefined ? '' : ` on ${screw(e.screw)}`} was answered "${answers[e.answer]}"${e.onWordOf === undefined ? '' : ` on the word of ${clean(e.onWordOf)}`}`,
      e.reason !== undefined && `reason: ${clean(e.reason)}`,
      e.checks !== undefined &&
        Object.entries(e.checks)
          .map(([id, answer]) => `${checkAsked(content, id)} ${answer === 'not-known' ? 'not known' : answer}`)
          .join(', '),
      e.seen !== undefined && `${count(e.seen, 'screw')} on the image`,
      e.out !== undefined && `${count(e.out, 'screw')} out`,
      e.tool !== undefined && tool(content, e.tool),
      e.length !== undefined && lengthWords(e.length, e.lengthHow),
      e.imageTaken !== undefined && (e.imageTaken ? 'an image was taken' : 'no image was taken'),
    ),
  found: (e) => {
    const things = some(
      seen(e.headProud, 'the head stood proud', 'the head did not stand proud'),
      seen(e.shankProud, 'the shank stood proud', 'the shank did not stand proud'),
      seen(e.tipProud, 'the tip stood proud of the far cortex', 'the tip did not stand proud of the far cortex'),
      seen(e.corridor, 'there was a corridor on the far side', 'there was no corridor on the far side'),
      e.fragmentLength !== undefined && `the piece was ${mm(e.fragmentLength)} long`,
      e.nearSurface !== undefined &&
        (e.nearSurface < 0
          ? `its upper end lay ${mm(-e.nearSurface)} below the near cortex`
          : `its upper end stood ${mm(e.nearSurface)} above the near cortex when seated`),
      e.shankStands !== undefined && `the shank stood ${mm(e.shankStands)} above the near cortex`,
      seen(e.headCovered, 'the head was covered', 'the head was not covered'),
      seen(
        e.openingsMeet,
        'its opening in the bone ran into that at another screw',
        'its opening in the bone did not run into that at another screw',
      ),
    );
    return `${screw(e.screw)} was looked at: ${things.join('; ') || 'no finding was entered'}`;
  },
  'plate-off': (e) => `${partName(e.part ?? 'plate')} was taken off the bone`,
  'colleague-called': (e) =>
    e.who === undefined ? 'a colleague was called' : `a colleague was called: ${clean(e.who)}`,
  'left-in': (e, { content }) =>
    semicolons(
      `${e.screw === undefined ? `the broken piece of ${object(content, e)}` : object(content, e)} was left in, ${e.length === null ? 'length not measured' : lengthWords(e.length, e.lengthHow)}`,
      `where: ${clean(e.where)}`,
      `why: ${clean(e.reason)}`,
      e.decidedBy !== undefined && `decided by ${clean(e.decidedBy)}`,
      e.imageTaken !== undefined && (e.imageTaken ? 'an image was taken' : 'no image was taken'),
      e.toldTo !== undefined && `told to ${clean(e.toldTo)}`,
    ),
  'piece-recovered': (e, { content }) => {
    const length = e.length !== undefined && lengthWords(e.length, e.lengthHow);
    const name = object(content, e);
    if (e.whole) return semicolons(`all of ${name} was out: it was whole, tip and head seen`, length);
    if (e.complete === true)
      return semicolons(`all of ${name} was out: its pieces were laid together and complete`, length);
    return `a piece of ${name}, ${length || 'length not measured'} long, was recovered`;
  },
  'tool-damaged': (e, { content }) =>
    semicolons(
      `the ${tool(content, e.tool)} was damaged: ${clean(e.how)}`,
      e.tipMissing
        ? `its tip was missing${e.length === undefined ? '' : `, ${lengthWords(e.length, e.lengthHow)} long`}`
        : 'its tip was not missing',
      e.kept !== undefined && (e.kept ? 'the tool was kept' : 'the tool was not kept'),
    ),
  tourniquet: (e) =>
    `the tourniquet was ${e.to === 'up' ? 'inflated' : 'let down'}${e.pressure === undefined ? '' : `, ${num(e.pressure)} mmHg`}`,
  images: (e) =>
    `${count(e.shots, 'image')} ${e.shots === 1 ? 'was' : 'were'} taken${e.dose === undefined ? '' : `, dose ${num(e.dose)} ${e.doseUnit === undefined ? '(unit not recorded)' : clean(e.doseUnit)}`}`,
  antibiotic: (e) => `${clean(e.drug)} was given${e.dose === undefined ? '' : `, ${clean(e.dose)}`}`,
  'blood-loss': (e) => `blood loss was put at ${num(e.ml)} ml`,
  'washed-out': () => 'the field was washed out',
  'clock-compared': (e, { zone }) =>
    `the ${e.source === 'station' ? 'clock of a station' : 'theatre clock'} was compared: ${clockDifference(e, zone)}`,
  'clock-jumped': (e) => `the clock of the device jumped ${e.seconds < 0 ? 'back' : 'forward'} by ${span(e.seconds)}`,
  'note-field': (e, { content }) =>
    `the item "${content.phrases.noteFields[e.field]}" was ${e.text === undefined ? 'marked not applicable' : `filled in: ${clean(e.text)}`}`,
  'patient-told': (e) => {
    const named = e.points.length
      ? `about ${and([...new Set(e.points)].map((point) => points[point]))}`
      : 'with no point named';
    return e.state === 'told'
      ? `the patient was told by ${clean(e.by)}, ${named}`
      : `the patient was still to be told by ${clean(e.by)}, ${named}`;
  },
  signed: (e) => `the record was signed by ${clean(e.who)} (${roles[e.role]}): ${clean(e.meaning)}`,
  remark: (e) =>
    `${{ addendum: 'an addendum', correction: 'a correction', remark: 'a remark' }[e.kind ?? 'remark']} was written: ${clean(e.text)}`,
  struck: (e) => `entry ${e.entry} was struck: ${clean(e.reason)}`,
  'count-answered': (e) =>
    semicolons(
      `the account of the metal was answered by ${and([...new Set(e.by)].map((role) => roles[role]))}`,
      e.discrepancy !== undefined && `discrepancy: ${clean(e.discrepancy)}`,
      e.decidedBy !== undefined && `decided by ${clean(e.decidedBy)}`,
      e.image === undefined
        ? e.imageTaken !== undefined && (e.imageTaken ? 'image taken, finding not recorded' : 'no image was taken')
        : countImages[e.image],
    ),
  'work-ended': () => 'the work was ended',
  'case-closed': () => 'the case was closed',
  ...tellers2,
};

const roleOf = (role: Role) => (role === 'other' ? 'other person' : roles[role]);

/** Who called it and who entered it, empty when neither is known. */
export const attribution = ({ calledBy, loggedBy }: Entry): string =>
  some(calledBy && `called by the ${roleOf(calledBy)}`, loggedBy && `entered by the ${roleOf(loggedBy)}`).join(', ');

export { events, partMoves, partName, parts, stops } from './entries-2.ts';
