/** Every entry as one plain sentence in the past tense. */
import type { Content } from '../../content/types.ts';
import type { Entry, EntryOf, EntryType } from '../../machines/entry.ts';
import { epoch } from '../../machines/time.ts';
import { endSentence, screwName, startSentence, type Running } from './narrative-moves.ts';
import {
  answerWord,
  clean,
  constructWord,
  count,
  list,
  mm,
  num,
  percent,
  pointWord,
  roleWord,
  sentence,
  sideWord,
  some,
  span,
  toolLabel,
  yesNo,
} from './words.ts';

/** What a sentence needs besides its entry. */
export interface Telling {
  content: Content;
  /** The move that a `move-ended` ended, if one is known. */
  running: Running | undefined;
  /** The entry lists a screw that was listed before. */
  again: boolean;
}

const semicolons = (...parts: Parameters<typeof some>) => some(...parts).join('; ');
const object = (content: Content, entry: { screw?: string | undefined; tool?: EntryOf<'left-in'>['tool'] }) =>
  entry.screw !== undefined ? screwName(entry.screw) : `the ${toolLabel(content, entry.tool ?? 't-handle')}`;

/** The facts of a listed screw in words. */
export const screwFacts = (entry: EntryOf<'screw-listed'>): string =>
  [
    `${mm(entry.diameter)} ${entry.thread} thread`,
    entry.locking ? 'locking' : 'not locking',
    entry.drive === 'unknown'
      ? 'drive form unknown'
      : `${entry.drive} drive`.concat(entry.driveSize === undefined ? '' : ` ${num(entry.driveSize)}`),
    entry.material === 'unknown' ? 'material unknown' : entry.material,
    entry.length === null ? 'length unknown' : `${mm(entry.length)} long`,
    entry.cortices === 1 ? 'one cortex' : 'two cortices',
  ].join(', ');

const check = (label: string, value: boolean | undefined) => `${label}: ${yesNo(value)}`;
const seen = (value: boolean | undefined, yes: string, no: string) => (value === undefined ? false : value ? yes : no);

const tellers: { [T in EntryType]: (entry: EntryOf<T>, telling: Telling) => string } = {
  'case-opened': (e) =>
    semicolons(
      `the case was opened as "${clean(e.label)}": ${sideWord(e.side)} ${clean(e.bone)}, ${constructWord[e.construct]}`,
      e.planned === '' ? 'what was planned was left blank' : `planned: ${clean(e.planned)}`,
      e.urgency !== undefined && `urgency: ${clean(e.urgency)}`,
      e.placedBy &&
        `metal put in by ${{ 'same-team': 'the same team', 'other-team': 'another team', unknown: 'a team not known' }[e.placedBy]}`,
      e.placedMonthsAgo !== undefined && `${count(Number(num(e.placedMonthsAgo)), 'month')} before`,
      e.theatreMinutes !== undefined && `${num(e.theatreMinutes)} min of theatre time planned`,
    ),
  'person-listed': (e) =>
    `${clean(e.who)} was listed as ${e.role === 'other' ? 'another person in the room' : roleWord[e.role]}`,
  'bone-measured': (e) =>
    `the bone${e.screw === undefined ? '' : ` at ${screwName(e.screw)}`} was ${e.source === 'measured' ? 'measured' : 'assumed'}: outer diameter ${mm(e.outer)}, cortex ${mm(e.cortex)}`,
  'screw-listed': (e, { content, again }) =>
    semicolons(
      `${screwName(e.screw)} was listed${again ? ' again' : ''}: ${screwFacts(e)}`,
      e.stage && e.stage !== 'seated' && `known state: ${content.phrases.stages[e.stage].label.toLowerCase()}`,
    ),
  'tool-in-room': (e, { content }) => {
    const measures = some(
      e.size !== undefined && `size ${num(e.size)}`,
      e.fits && (e.fits.length ? `for screws of ${list(e.fits.map(num))} mm` : 'for no screw size'),
      e.inner !== undefined && `inner ${mm(e.inner)}`,
      e.outer !== undefined && `outer ${mm(e.outer)}`,
    );
    const label = toolLabel(content, e.tool);
    return `the ${label}${measures.length ? ` (${measures.join('; ')})` : ''} ${/(pliers|forceps)$/.test(label) ? 'were' : 'was'} ${e.present ? '' : 'not '}in the room`;
  },
  'consent-point': (e, { content }) =>
    `the consent point "${content.phrases.consent[e.point].label}" was ${e.confirmed ? 'confirmed' : 'not confirmed'}`,
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
  'screw-called': (e) => `${screwName(e.screw)} was called`,
  'move-started': (e, { content }) => startSentence(content, e),
  'move-ended': (e, { content, running }) => endSentence(content, e, running),
  reassessed: (e) =>
    semicolons(
      `${screwName(e.screw)} was looked at again`,
      check('recess cleaned', e.checks.recessCleared),
      check('driver fully seated', e.checks.fullySeated),
      check('in line', e.checks.inLine),
      check('fresh driver', e.checks.freshDriver),
    ),
  'hold-answered': (e, { content }) =>
    semicolons(
      `the hold "${content.phrases.holds[e.hold].label}"${e.screw === undefined ? '' : ` on ${screwName(e.screw)}`} was answered "${answerWord[e.answer]}"${e.onWordOf === undefined ? '' : ` on the word of ${clean(e.onWordOf)}`}`,
      e.reason !== undefined && `reason: ${clean(e.reason)}`,
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
    );
    return `${screwName(e.screw)} was looked at: ${things.join('; ') || 'no finding was entered'}`;
  },
  'plate-off': () => 'the plate was taken off',
  'colleague-called': (e) =>
    e.who === undefined ? 'a colleague was called' : `a colleague was called: ${clean(e.who)}`,
  'left-in': (e, { content }) =>
    semicolons(
      `${e.screw === undefined ? `the broken piece of ${object(content, e)}` : object(content, e)} was left in, ${e.length === null ? 'length not measured' : mm(e.length)}`,
      `where: ${clean(e.where)}`,
      `why: ${clean(e.reason)}`,
      e.decidedBy !== undefined && `decided by ${clean(e.decidedBy)}`,
      e.imageTaken !== undefined && (e.imageTaken ? 'an image was taken' : 'no image was taken'),
      e.toldTo !== undefined && `told to ${clean(e.toldTo)}`,
    ),
  'piece-recovered': (e, { content }) => `a piece of ${object(content, e)}, ${mm(e.length)} long, was recovered`,
  'tool-damaged': (e, { content }) =>
    semicolons(
      `the ${toolLabel(content, e.tool)} was damaged: ${clean(e.how)}`,
      e.tipMissing
        ? `its tip was missing${e.length === undefined ? '' : `, ${mm(e.length)} long`}`
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
  'clock-compared': (e) => `the theatre clock was compared: ${clockDifference(e)}`,
  'clock-jumped': (e) => `the clock of the device jumped ${e.seconds < 0 ? 'back' : 'forward'} by ${span(e.seconds)}`,
  'note-field': (e, { content }) =>
    `the item "${content.phrases.noteFields[e.field]}" was ${e.text === undefined ? 'marked not applicable' : `filled in: ${clean(e.text)}`}`,
  'patient-told': (e) => {
    const points = e.points.length
      ? `about ${list([...new Set(e.points)].map((point) => pointWord[point]))}`
      : 'with no point named';
    return e.state === 'told'
      ? `the patient was told by ${clean(e.by)}, ${points}`
      : `the patient was still to be told by ${clean(e.by)}, ${points}`;
  },
  signed: (e) => `the record was signed by ${clean(e.who)} (${roleWord[e.role]}): ${clean(e.meaning)}`,
  remark: (e) =>
    `${{ addendum: 'an addendum', correction: 'a correction', remark: 'a remark' }[e.kind ?? 'remark']} was written: ${clean(e.text)}`,
  struck: (e) => `entry ${e.entry} was struck: ${clean(e.reason)}`,
  'count-answered': (e) =>
    semicolons(
      `the account of the metal was answered by ${list([...new Set(e.by)].map((role) => roleWord[role]))}`,
      e.discrepancy !== undefined && `discrepancy: ${clean(e.discrepancy)}`,
      e.imageTaken !== undefined && (e.imageTaken ? 'an image was taken' : 'no image was taken'),
    ),
  'work-ended': () => 'the work was ended',
  'case-closed': () => 'the case was closed',
};

/** The clock on the wall against this device, such as "it read 10:15:00, 2 min 5 s ahead of this device". */
export function clockDifference(entry: EntryOf<'clock-compared'>): string {
  const seconds = Math.round((epoch(entry.theatreClock) - epoch(entry.at)) / 1000);
  const reading = clean(entry.theatreClock).slice(11, 19);
  if (seconds === 0) return `it read ${reading}, the same as this device`;
  return `it read ${reading}, ${span(seconds)} ${seconds > 0 ? 'ahead of' : 'behind'} this device`;
}

/**
 * An entry as a sentence.
 *
 * @example narrate(ended, { content, running: { move: 'turn-out', tool: undefined }, again: false })
 * // 'The driver slipped in the recess of screw 3.'
 */
export function narrate(entry: Entry, telling: Telling): string {
  const tell = tellers[entry.type] as (entry: Entry, telling: Telling) => string;
  return sentence(tell(entry, telling));
}

/** Who called it and who entered it, as a second sentence, empty when neither is known. */
export function attribution({ calledBy, loggedBy }: Entry): string {
  const who = some(calledBy && `called by the ${roleOf(calledBy)}`, loggedBy && `entered by the ${roleOf(loggedBy)}`);
  return who.length ? sentence(who.join(', ')) : '';
}

const roleOf = (role: keyof typeof roleWord) => (role === 'other' ? 'other person' : roleWord[role]);
