/**
 * What can be wrong with a file or an entry, as codes with values. The English text is what the command line prints; a
 * screen puts the code into words of its own language (the key `fault.` and the code).
 */
import { fillTemplate } from './template.ts';

/** English text of each code; a name in braces is a value. */
export const faultTexts = {
  // JSON
  large: 'larger than {size} MiB ({bytes} bytes)',
  'not-text': 'not UTF-8 text',
  broken: 'broken JSON',
  deep: 'nested more than {count} levels',
  duplicate: 'duplicate key',

  // Any field
  'unknown-field': 'unknown field',
  missing: 'missing',
  object: 'expected an object',
  list: 'expected a list',
  text: 'expected text',
  empty: 'must not be empty',
  unicode: 'not well-formed Unicode',
  'true-or-false': 'expected true or false',
  true: 'expected true',
  number: 'expected a number',
  finite: 'expected a finite number',
  whole: 'expected a whole number',
  'whole-from-1': 'expected a whole number from 1',
  'one-or-two': 'expected 1 or 2',
  negative: 'must not be negative',
  'above-0': 'must be greater than 0',
  'from-1': 'must be at least 1',
  share: 'must lie between 0 and 1',
  time: 'expected a time',
  'time-form': 'not an RFC 3339 time with an offset',
  zone: 'not an IANA time zone',
  digits: 'expected 64 lower-case hexadecimal digits',
  'screw-id': 'a screw id has at most 64 characters',
  long: 'longer than {count} characters',
  'exactly-text': 'expected "{value}"',
  'exactly-number': 'expected {n}',
  'one-of': 'unknown value {value}, expected one of {known}',
  few: 'expected at least {count}',
  least: 'must be at least {n}',
  most: 'must be at most {n}',
  'date-form': 'is not a date such as 2026-03-02',
  unfit: 'not of the form that is expected here',

  // Entries
  'entry-type': 'unknown entry type {type}',
  'left-in-move': 'leaving in is entered as left-in, not as a move',
  'half-outer': 'must be less than half the outer diameter',
  reachable: 'required after shank-broke: can a stump still be reached at the near cortex?',
  'only-shank-broke': 'belongs to the outcome shank-broke alone',
  'only-out': 'belongs to the outcome out alone',
  'screw-or-tool': 'needs either a screw or a tool',
  'text-or-not': 'needs either text or notApplicable',
  nobody: 'names nobody',
  'length-how': 'required with a length: was it measured, read from an image, or left by difference?',
  'no-length': 'belongs to a length',
  'length-or-whole': 'needs a length, or whole or complete',
  'what-other': 'belongs to the move other, which needs it',
  'inner-outer': 'is not less than the outer diameter',
  'part-or-screw': 'needs either a part or a screw',
  'entries-or-swap': 'needs either entries and a screw, or swap and from',
  'empty-list': 'holds nothing',
  'two-screws': 'names one screw twice',
  'reachable-broke': 'belongs to the answer broke, which needs it: can a stump still be reached at the near cortex?',
  'line-or-text': 'needs either a line or a text',
  'exactly-2': 'expected 2',
  'rules-unknown': 'this build has no rules {rules}',
  'other-content': 'is not {version}, which the file names',
  'other-rules': 'is not {rules}, which the file names',
  'above-stop': 'must not be greater than boneStop',

  // A release
  'id-twice': 'names an id twice',
  lacks: 'lacks {id}',
  'lacks-ruled': 'lacks {id}, which the rules name',
  order: 'out of order, expected {id}',
  repeats: 'repeats {id}',
  'no-source': 'no such source: {id}',
  'release-status': 'a release is set by no department',
  'cite-practice': 'common practice is cited as "{words}", and nothing else is',
  'cite-memory': 'what is from memory is cited as "{words}", and nothing else is',
  'cite-department': 'what the department set is cited as "{words}" a day, and nothing else is',
  'core-wide': 'must be less than the diameter',
  'outcome-twice': 'repeats an outcome',
  'stage-unfit': 'a stage the move does not fit',
  'leave-in-last': 'leave-in stands last',
  'hazard-tests': 'a released hazard has tests, an added one none',
  'notice-late': 'must be less than tourniquetMinutes',
  'expires-early': 'must be later than reviewed',
  'glance-letters': 'this glance label has at most {count} letters',
  'glance-long': 'a glance label has at most sixteen letters',
  'say-long': 'a read-aloud line has at most twelve words',
  'shares-not-1': 'the shares must add up to 1',

  // A department's content
  'other-base': 'is not {version}',
  'other-version': 'does not begin with the base, {base}',
  checksum: 'the file was changed under this version: its checksum is {digits}',
  'version-form': 'is not BASE+NAME-NUMBER.CHECKSUM',
  'leave-in-used': 'leaving it in stays open everywhere',
  'dose-released': 'is that of the release for a drug it lists',
  'status-own': 'is a status of what the department set here',
  'glance-taken': 'is the glance label of another one too',
  'line-ends': 'must not be empty, nor begin or end with a space',
  'line-long': 'has at most {count} characters',
  'line-seen': 'is one line of characters that can be seen',
  ranked: 'holds a word that ranks, orders about or soothes',
  'no-step': 'cannot be carried over from {from} to {to}',
  'order-anew': 'has no place for {ids}, which {version} brought: to be ordered anew',
  'asks-anew': 'asks something else in {version}: to be worded anew',
  'left-side': 'says left of something that is no side, which {version} does not',
  'consent-id': 'is not own- and small letters',
  'hazard-id': 'is D and a number',
  'language-form': 'is not a language such as en',

  // A case
  'not-format': '{value} is not "{wanted}"',
  'format-version': 'version {version} is not known; this build reads version {known}',
  'no-content': 'this build has no content {version}',
  gap: 'expected {n}, the numbers run without gaps',
  late: 'later than it was logged',
  early: 'earlier than the entry before',
  screws: 'more than {count} screws in one case',
  corrections: 'too many entries would have to be read again for the corrections before it',
  'limits-cross': 'consider limit {consider} is greater than stop limit {stop} in force',
  'bore-wide': 'a bore of {bore} mm is as wide as the bone of {outer} mm',
  'no-entry': 'holds no entry',

  // A backup
  cases: 'says {promised}, there are {count}',
  head: 'names entry {n}, the last here is {count}',
  shut: 'does not open: changed, moved or of another file',
  lock: 'cannot be opened on this device ({detail})',
  'lock-id': 'stands with "id" or not at all',

  // Tool sets and rates
  'no-tool': 'holds no tool',
  'no-rates': 'not a move that has rates',
  outcome: 'unknown outcome',
  kind: 'not one of the kinds of screw that this move has rates for',
  twice: 'given twice',
  'some-rows': 'given for some rows of this move and left out in others',
  'adds-up': 'the shares of this move add up to more than 1',
} as const;

export type FaultCode = keyof typeof faultTexts;
export type FaultValues = Readonly<Record<string, string | number>>;

export interface Fault {
  /** Path into the file, such as `entries[6].outcome`. */
  path: string;
  /** In English, as the command line prints it. */
  message: string;
  code: FaultCode;
  values?: FaultValues;
}

/** @example fault('entries[2].n', 'gap', { n: 3 }).message // 'expected 3, the numbers run without gaps' */
export const fault = (path: string, code: FaultCode, values?: FaultValues): Fault => ({
  path,
  message: fillTemplate(faultTexts[code], (name) => String(values?.[name] ?? name)),
  code,
  ...(values && { values }),
});

/** What a schema says in the place of a message. */
export const says = (code: FaultCode): FaultCode => code;

export const isFaultCode = (said: string): said is FaultCode => Object.hasOwn(faultTexts, said);
