/** The items of the note in English: labels, and what the log itself knows under them. */
import type { Role } from '../../../../content/ids.ts';
import type { Content } from '../../../../content/types.ts';
import type { EntryOf } from '../../../../machines/entry.ts';
import { events } from './entries-2.ts';
import { some } from '../../../format/prose.ts';
import { and, clean, count, mm, notRecorded, num, percent, roles, screw } from './base.ts';

export const notApplicableWritten: string = 'written as not applicable';
export const writtenAt = (text: string, time: string): string => `${text} (written at ${time})`;
export const fromTheLog = (line: string): string => `from the log: ${line}`;

export const team: Record<Role, string> = {
  surgeon: 'Operating surgeon',
  assistant: 'Assistant',
  anaesthetist: 'Theatre anaesthetist',
  scrub: 'Scrub nurse',
  circulating: 'Circulating nurse',
  other: 'Others',
};

export const atTablet: string = 'At the tablet';
export const tabletSince = (time: string, who: string | null, role: Role): string =>
  `since ${time}: ${who === null ? roles[role] : `${who} (${roles[role]})`}`;

export const times = {
  date: 'Date',
  zone: 'Time zone of every time below',
  noZone: 'UTC, since no case was opened',
  clock: 'Clock of every time below',
  byWall: (n: number): string =>
    `theatre clock, by the comparison in entry ${n}; what the device showed stands beside it where it differs`,
  byDevice: 'that of the device, as it showed it',
  /** From an entry on the log was kept on another device, and nobody compared the two. */
  takenOver: (n: number, device: string): string =>
    `from entry ${n} on that of ${device}; whether the two agree was not confirmed`,
  device: (time: string): string => ` (device ${time})`,
  opened: 'Case opened',
  started: 'Work started',
  ended: 'Work ended',
  closed: 'Case closed',
  duration: 'Duration of the work',
  upToLast: (duration: string): string => `${duration} up to the last entry`,
};

/** Labels that are not those of the fields. */
export const labels = {
  urgency: 'Elective or emergency',
  planned: 'Procedure planned',
  procedure: 'Procedure carried out',
  diagnosis: 'Operative diagnosis (before operation)',
  findings: 'Operative findings',
  extra: 'Extra procedure and why',
  implants: (content: Content): string => `${content.phrases.noteFields.implants}, with serial numbers`,
  closure: 'Closure technique',
  antibiotic: 'Antibiotic prophylaxis',
  images: 'Images',
  instructions: 'Instructions after operation',
};

export const before = {
  placedBy: 'Metal put in by',
  placed: { 'same-team': 'the same team', 'other-team': 'another team', unknown: 'not known' },
  placedMonths: 'In the body for',
  months: (amount: number): string => count(Number(num(amount)), 'month'),
  confirmed: 'Consent points confirmed',
  notConfirmed: 'Consent points entered as not confirmed',
  open: 'Consent points nobody entered',
  limits: 'Limits in force at the end',
  /** `cite` is empty, or a space and a source in brackets. */
  bone: (lower: number, upper: number, cite: string): string =>
    `bone: lower limit ${percent(lower)} and upper limit ${percent(upper)} of the cortical ring at one level${cite}`,
  tourniquet: (limit: number | null, cite: string): string =>
    `tourniquet: ${limit === null ? 'no limit set' : `${num(limit)} min`}${cite}`,
  setForCase: (n: number): string => `set for this case, entry ${n}`,
  theatre: (planned: number | null): string =>
    `theatre time: ${planned === null ? notRecorded : `${num(planned)} min`}`,
};

/** How many of the listed screws are out, which were left and which are neither. */
export const screwsOut = (
  out: number,
  of: number,
  left: string[],
  open: { stop: string[]; nobody: string[] },
  parts: string[],
): string[] =>
  some(
    `${out} of ${count(of, 'listed screw')} out`,
    left.length > 0 && `${and(left)} left in`,
    open.stop.length > 0 && `${and(open.stop)} in when the work was stopped`,
    open.nobody.length > 0 && `${and(open.nobody)} neither out nor left in`,
    ...parts,
  );

export function finding(entry: EntryOf<'found'>, time: string): string {
  const yes = (value: boolean | undefined, what: string) =>
    value !== undefined && `${what} ${value ? 'proud' : 'not proud'}`;
  const facts = some(
    yes(entry.headProud, 'head'),
    yes(entry.shankProud, 'shank'),
    yes(entry.tipProud, 'tip at the far cortex'),
    entry.corridor !== undefined && `${entry.corridor ? 'a' : 'no'} corridor on the far side`,
    entry.fragmentLength !== undefined && `piece ${mm(entry.fragmentLength)} long`,
    entry.nearSurface !== undefined &&
      `upper end ${mm(Math.abs(entry.nearSurface))} ${entry.nearSurface < 0 ? 'below' : 'above'} the near cortex when seated`,
  );
  return `${screw(entry.screw)} at ${time}: ${facts.join(', ') || 'looked at, no finding entered'}`;
}

/** The number of problems of one kind with their screws, such as "2 slips (screw 3)". */
export const problems = {
  slips: (n: number, screws: string): string => `${count(n, 'slip')} (${screws})`,
  heads: (n: number, screws: string): string => `${count(n, 'head')} came off (${screws})`,
  shanks: (n: number, screws: string): string => `${count(n, 'broken shank')} (${screws})`,
  brokenTools: (n: number, screws: string): string => `${count(n, 'broken tool')} (${screws})`,
  jammedTools: (n: number, screws: string): string => `${count(n, 'jammed tool')} (${screws})`,
  damaged: (n: number): string => `${count(n, 'tool')} entered as damaged`,
  outOfOrder: (n: number): string => `${count(n, 'entry', 'entries')} out of order, for review`,
  impossible: (n: number): string => `entry ${n}: by the times told, an end before its own start; for review`,
  stopped: (time: string, reason: string | null, more: string | null): string =>
    `work stopped at ${time}, ${reason === null ? 'reason not recorded' : `reason: ${reason}`}${more === null ? '' : ` (${more})`}`,
  conflict: (a: number, b: number): string => `entries ${a} and ${b} cannot both be true as told; for review`,
};

/** What was told of the course of the work. */
export const event = (entry: EntryOf<'event'>, time: string): string =>
  [
    `${events[entry.kind]} at ${time}`,
    ...some(
      entry.screw !== undefined && screw(entry.screw),
      entry.where !== undefined && clean(entry.where),
      entry.text !== undefined && clean(entry.text),
    ),
  ].join(', ');

export const noExtra: string = 'no move beyond turning out with the matched driver was entered';
export const extra = (id: string, time: string, move: string, stage: string): string =>
  `${screw(id)} at ${time}: ${move}, because: ${stage}`;

export const bored = (id: string, bores: string[], entered: boolean): string =>
  `bone bored at ${screw(id)}: ${and(bores)}, ${entered ? 'as entered' : 'as expected of the move, not measured'}`;

export const blood = (ml: number, time: string): string => `${num(ml)} ml, entered at ${time}`;
export const dose = (drug: string, amount: string | undefined, time: string): string =>
  `${clean(drug)}, ${amount === undefined ? 'dose not recorded' : clean(amount)}, at ${time}`;

export const tourniquet = {
  pressure: (mmHg: number | undefined): string => (mmHg === undefined ? 'pressure not recorded' : `${num(mmHg)} mmHg`),
  /** `pastLimit` in minutes, null while under it. */
  down: (up: string, down: string, lasted: string, pastLimit: number | null, pressure: string): string =>
    `up ${up}, down ${down}, ${lasted}${pastLimit === null ? '' : `, at or past the limit of ${num(pastLimit)} min`}; ${pressure}`,
  up: (up: string, lasted: string, pressure: string): string =>
    `up ${up}, let-down not recorded, ${lasted} up to the last entry; ${pressure}`,
  /** Let down while, by the log, it was not up. */
  onlyDown: (down: string, n: number): string => `let down ${down} (entry ${n}): that it was up then is not in the log`,
  total: (total: string, limit: number | null): string =>
    `${total} in all; ${limit === null ? 'no limit set' : `limit ${num(limit)} min`}`,
};

export const noUnit: string = '(unit not recorded)';
export const images = (shots: number, doses: string[]): string =>
  `${count(shots, 'image')}; dose ${doses.length ? and(doses) : notRecorded}`;

/** What was told of a screw once the case was closed. */
export const found = {
  out: (name: string, n: number): string => `${name} out (entry ${n})`,
  stays: (name: string, n: number): string => `${name} stays in (entry ${n})`,
  part: (name: string, words: string, n: number): string => `${name}: ${words} (entry ${n})`,
};
export const foundAfter = (lines: string[]): string => `found or said after closing: ${lines.join('; ')}`;

export const implants = (out: string[], left: string[], put: string[], stopped: string[]): string[] =>
  some(
    out.length > 0 && `taken out: ${and(out)}`,
    left.length > 0 && `left in: ${and(left)}`,
    stopped.length > 0 && `in when the work was stopped: ${and(stopped)}`,
    put.length > 0 && `put in today: ${and(put)}`,
  );
