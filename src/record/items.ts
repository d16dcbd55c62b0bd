/**
 * The items of an operative note. The eighteen of the surgical college's list (RCS England, Good Surgical Practice,
 * 2014), those of the Joint Commission (RC.02.01.03: specimens, diagnosis after operation, findings) and those that
 * orthopaedic notes add. Each is a value, "not applicable" or "not recorded".
 */
import type { NoteField, Role } from '../../content/ids.ts';
import { epoch } from '../../machines/time.ts';
import type { History } from './history.ts';
import type { Log } from './log.ts';
import { notApplicable, notRecorded, recorded, type Block, type Value } from './model.ts';
import {
  outLine,
  findingLines,
  problemLines,
  extraLines,
  tissueLines,
  bloodLines,
  doseLines,
  tourniquetLines,
  imageLines,
  implantLines,
} from './items-log.ts';
import { clean, count, num, minutes, percent, roleWord } from './words.ts';

/** What the team wrote for a field: every text in force, in order of time. */
export function written(log: Log, field: NoteField): Value {
  const entries = log.of('note-field').filter((entry) => entry.field === field);
  if (!entries.length) return notRecorded;
  if (entries.every(({ text }) => text === undefined)) return notApplicable;
  if (entries.length === 1) return recorded(clean(entries[0]?.text ?? ''));
  return recorded(
    ...entries.map(
      ({ at, text }) => `${text === undefined ? 'not applicable' : clean(text)} (written at ${log.when(epoch(at))})`,
    ),
  );
}

/** What was written, and below it what the log itself knows. */
function withLog(value: Value, lines: readonly string[]): Value {
  if (!lines.length) return value;
  const own =
    value.state === 'recorded' ? value.lines : value.state === 'not-applicable' ? ['written as not applicable'] : [];
  return recorded(...own, ...lines.map((line) => `from the log: ${line}`));
}

const item = (id: string, label: string, value: Value): Block => ({ kind: 'item', id, label, value });

/** The people of one role. */
export const peopleOf = (log: Log, role: Role): Value =>
  recorded(
    ...[
      ...new Set(
        log
          .of('person-listed')
          .filter((entry) => entry.role === role)
          .map(({ who }) => clean(who)),
      ),
    ],
  );

export const teamItems = (log: Log): Block[] =>
  (['surgeon', 'assistant', 'anaesthetist', 'scrub', 'circulating', 'other'] as const).map((role) => {
    const label = {
      surgeon: 'Operating surgeon',
      assistant: 'Assistant',
      anaesthetist: 'Theatre anaesthetist',
      other: 'Others',
    };
    const words = role === 'scrub' || role === 'circulating' ? roleWord[role] : label[role];
    return item(role, words.charAt(0).toUpperCase() + words.slice(1), peopleOf(log, role));
  });

const timeOf = (log: Log, type: 'case-opened' | 'work-started' | 'work-ended' | 'case-closed'): Value => {
  const entries = log.of(type);
  const entry = type === 'work-ended' ? entries.at(-1) : entries[0];
  return entry ? recorded(log.when(epoch(entry.at))) : notRecorded;
};

export function timeItems(log: Log): Block[] {
  const { caseMinutes } = log.view.clocks;
  const ended = log.of('work-ended').length > 0;
  return [
    item('date', 'Date', log.date === null ? notRecorded : recorded(log.date)),
    item(
      'zone',
      'Time zone of every time below',
      recorded(log.opened ? clean(log.zone) : 'UTC, since no case was opened'),
    ),
    item('case-opened', 'Case opened', timeOf(log, 'case-opened')),
    item('work-started', 'Work started', timeOf(log, 'work-started')),
    item('work-ended', 'Work ended', timeOf(log, 'work-ended')),
    item('case-closed', 'Case closed', timeOf(log, 'case-closed')),
    item(
      'work-minutes',
      'Duration of the work',
      caseMinutes === null ? notRecorded : recorded(`${minutes(caseMinutes)}${ended ? '' : ' up to the last entry'}`),
    ),
  ];
}

export function operationItems(log: Log, history: History): Block[] {
  const { noteFields } = log.content.phrases;
  const field = (id: NoteField, label = noteFields[id], lines: readonly string[] = []) =>
    item(id, label, withLog(written(log, id), lines));
  const { opened } = log;
  return [
    item(
      'urgency',
      'Elective or emergency',
      opened?.urgency === undefined ? notRecorded : recorded(clean(opened.urgency)),
    ),
    field('indication'),
    item('planned', 'Procedure planned', opened?.planned ? recorded(clean(opened.planned)) : notRecorded),
    field('procedure', 'Procedure carried out', outLine(log)),
    field('diagnosis', 'Operative diagnosis (before operation)'),
    field('post-op-diagnosis'),
    field('anaesthesia'),
    field('position'),
    field('incision'),
    field('findings', 'Operative findings', findingLines(log)),
    item('extra', 'Extra procedure and why', withLog(notRecorded, extraLines(log, history))),
    field('complications', noteFields.complications, problemLines(log, history)),
    field('tissue', noteFields.tissue, tissueLines(history)),
    field('implants', `${noteFields.implants}, with serial numbers`, implantLines(log)),
    field('specimens'),
    field('drains'),
    field('closure', 'Closure technique'),
    field('blood-loss', noteFields['blood-loss'], bloodLines(log)),
    field('antibiotic', 'Antibiotic prophylaxis', doseLines(log)),
    field('tourniquet', noteFields.tourniquet, tourniquetLines(log)),
    item('images', 'Images', withLog(notRecorded, imageLines(log))),
    field('dvt-prophylaxis'),
    field('instructions', 'Instructions after operation'),
  ];
}

const placed = { 'same-team': 'the same team', 'other-team': 'another team', unknown: 'not known' } as const;

/** What was known and agreed before: the metal, the consent, the limits in force. */
export function beforeItems(log: Log): Block[] {
  const { opened, content } = log;
  const { consent, room, tourniquetLimit, theatreMinutes } = log.folded.case.context;
  const points = (state: boolean | undefined) =>
    content.consent.filter(({ id }) => consent[id] === state).map(({ id }) => content.phrases.consent[id].label);
  const answered = points(true).length + points(false).length > 0;
  return [
    item('placed-by', 'Metal put in by', opened?.placedBy ? recorded(placed[opened.placedBy]) : notRecorded),
    item(
      'placed-months',
      'In the body for',
      opened?.placedMonthsAgo === undefined
        ? notRecorded
        : recorded(count(Number(num(opened.placedMonthsAgo)), 'month')),
    ),
    item('consent-confirmed', 'Consent points confirmed', recorded(...points(true))),
    item('consent-not-confirmed', 'Consent points entered as not confirmed', recorded(...points(false))),
    ...(answered ? [item('consent-open', 'Consent points nobody entered', recorded(...points(undefined)))] : []),
    item(
      'limits',
      'Limits in force at the end',
      recorded(
        `bone: lower limit ${percent(room.limits.boneConsider)} and upper limit ${percent(room.limits.boneStop)} of the cortical ring at one level${citeOf(log, content.limits.boneStop.source)}`,
        `tourniquet: ${num(tourniquetLimit)} min${citeOf(log, content.limits.tourniquetMinutes.source)}`,
        `theatre time: ${theatreMinutes === null ? 'not recorded' : `${num(theatreMinutes)} min`}`,
      ),
    ),
  ];
}

/** The source of a figure in brackets; empty when the content names none. */
export const citeOf = (log: Log, id: string): string => {
  const cite = log.content.sources.find((source) => source.id === id)?.cite;
  return cite === undefined ? '' : ` (${cite})`;
};
