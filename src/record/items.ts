/**
 * The items of an operative note. The eighteen of the surgical college's list (RCS England, Good Surgical Practice,
 * 2014), those of the Joint Commission (RC.02.01.03: specimens, diagnosis after operation, findings) and those that
 * orthopaedic notes add. Each is a value, "not applicable" or "not recorded".
 */
import type { NoteField, Role } from '../../content/ids.ts';
import type { EntryOf } from '../../machines/entry.ts';
import type { History } from './history.ts';
import { offsetAt, type RecordLog } from './log.ts';
import { notApplicable, notRecorded, recorded, type Block, type RecordFacts, type Value } from './model.ts';
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
  incisionLines,
  specimenLines,
} from './items-log.ts';

/** What the team wrote for a field: every text in force, in order of time. */
export function written(log: RecordLog, field: NoteField): Value {
  const entries = log.of('note-field').filter((entry) => entry.field === field);
  if (!entries.length) return notRecorded;
  if (entries.every(({ text }) => text === undefined)) return notApplicable;
  const { clean, notApplicable: none, items } = log.locale;
  if (entries.length === 1) return recorded(clean(entries[0]?.text ?? ''));
  return recorded(
    ...entries.map((entry) => items.writtenAt(entry.text === undefined ? none : clean(entry.text), log.time(entry))),
  );
}

/** What was written, and below it what the log itself knows. */
function withLog({ locale }: RecordLog, value: Value, lines: readonly string[]): Value {
  if (!lines.length) return value;
  const own =
    value.state === 'recorded'
      ? value.lines
      : value.state === 'not-applicable'
        ? [locale.items.notApplicableWritten]
        : [];
  return recorded(...own, ...lines.map(locale.items.fromTheLog));
}

const item = (id: string, label: string, value: Value): Block => ({ kind: 'item', id, label, value });

/** The people of one role. */
export const peopleOf = (log: RecordLog, role: Role): Value =>
  recorded(
    ...[
      ...new Set(
        log
          .of('person-listed')
          .filter((entry) => entry.role === role)
          .map(({ who }) => log.locale.clean(who)),
      ),
    ],
  );

export const teamItems = (log: RecordLog): Block[] => [
  ...(['surgeon', 'assistant', 'anaesthetist', 'scrub', 'circulating', 'other'] as const).map((role) =>
    item(role, log.locale.items.team[role], peopleOf(log, role)),
  ),
  // Format 1 did not ask.
  ...(log.folded.format > 1 ? [item('at-tablet', log.locale.items.atTablet, recorded(...tabletLines(log)))] : []),
];

/** Who drove the tablet from when on. */
const tabletLines = (log: RecordLog): string[] =>
  log
    .of('at-tablet')
    .map((entry) =>
      log.locale.items.tabletSince(
        log.time(entry),
        entry.who === undefined ? null : log.locale.clean(entry.who),
        entry.role,
      ),
    );

const timeOf = (log: RecordLog, type: 'case-opened' | 'work-started' | 'work-ended' | 'case-closed'): Value => {
  const entries = log.of(type);
  const entry = type === 'work-ended' ? entries.at(-1) : entries[0];
  if (!entry) return notRecorded;
  const at = log.at(entry);
  const device = log.deviceTime(entry);
  // An hour that comes twice is told apart by its offset.
  return recorded(
    `${log.when(at)} ${offsetAt(at, log.zone)}${device === null ? '' : log.locale.items.times.device(device)}`,
  );
};

export function timeItems(log: RecordLog): Block[] {
  const { clean, day, minutes, items } = log.locale;
  const { times } = items;
  const { caseMinutes } = log.view.clocks;
  const started = log.of('work-started')[0];
  const end = log.of('work-ended').at(-1);
  const last = end ?? log.entries.at(-1);
  const duration =
    caseMinutes === null ? null : started && last ? log.lasted(caseMinutes, started, last) : minutes(caseMinutes);
  return [
    item('date', times.date, log.date === null ? notRecorded : recorded(day(log.date))),
    item('zone', times.zone, recorded(log.opened ? clean(log.zone) : times.noZone)),
    item(
      'clock',
      times.clock,
      recorded(
        log.wall ? times.byWall(log.wall.n) : times.byDevice,
        ...log
          .of('resumed')
          .filter(({ gap, n }) => gap === 'not-known' && (log.wall === null || n > log.wall.n))
          .map(({ n, device }) => times.takenOver(n, clean(device))),
      ),
    ),
    item('case-opened', times.opened, timeOf(log, 'case-opened')),
    item('work-started', times.started, timeOf(log, 'work-started')),
    item('work-ended', times.ended, timeOf(log, 'work-ended')),
    item('case-closed', times.closed, timeOf(log, 'case-closed')),
    item(
      'work-minutes',
      times.duration,
      duration === null ? notRecorded : recorded(end ? duration : times.upToLast(duration)),
    ),
  ];
}

export function operationItems(log: RecordLog, history: History, facts: RecordFacts): Block[] {
  const { noteFields } = log.content.phrases;
  const { clean } = log.locale;
  const { labels } = log.locale.items;
  const asked = new Set<NoteField>();
  const field = (id: NoteField, label = noteFields[id], lines: readonly string[] = []): Block | null => {
    asked.add(id);
    return log.content.ids.noteFields.includes(id) ? item(id, label, withLog(log, written(log, id), lines)) : null;
  };
  const { opened } = log;
  const blocks = [
    item('urgency', labels.urgency, opened?.urgency === undefined ? notRecorded : recorded(clean(opened.urgency))),
    field('indication'),
    item('planned', labels.planned, opened?.planned ? recorded(clean(opened.planned)) : notRecorded),
    field('procedure', labels.procedure, outLine(log)),
    field('diagnosis', labels.diagnosis),
    field('post-op-diagnosis'),
    field('anaesthesia'),
    field('position'),
    field('incision', noteFields.incision, incisionLines(log)),
    field('findings', labels.findings, findingLines(log)),
    item('extra', labels.extra, withLog(log, notRecorded, extraLines(log, history))),
    field('complications', noteFields.complications, problemLines(log, history)),
    field('tissue', noteFields.tissue, tissueLines(log, history)),
    field('implants', labels.implants(log.content), implantLines(log, facts)),
    field('specimens', noteFields.specimens, specimenLines(log)),
    field('drains'),
    field('closure', labels.closure),
    field('blood-loss', noteFields['blood-loss'], bloodLines(log)),
    field('antibiotic', labels.antibiotic, doseLines(log)),
    field('tourniquet', noteFields.tourniquet, tourniquetLines(log)),
    item('images', labels.images, withLog(log, notRecorded, imageLines(log))),
    field('dvt-prophylaxis'),
    field('instructions', labels.instructions),
  ];
  // What a release asks for besides stands after what all of them ask for.
  const more = log.content.ids.noteFields.filter((id) => !asked.has(id)).map((id) => field(id));
  return [...blocks, ...more].filter((block) => block !== null);
}

/** What was known and agreed before: the metal, the consent, the limits in force. */
export function beforeItems(log: RecordLog): Block[] {
  const { opened, content } = log;
  const { before } = log.locale.items;
  const { consent, room, tourniquetLimit, theatreMinutes } = log.folded.case.context;
  const points = (state: boolean | undefined) =>
    content.consent.filter(({ id }) => consent[id] === state).map(({ id }) => content.phrases.consent[id].label);
  const answered = points(true).length + points(false).length > 0;
  const { boneConsider, boneStop } = room.limits;
  return [
    item('placed-by', before.placedBy, opened?.placedBy ? recorded(before.placed[opened.placedBy]) : notRecorded),
    item(
      'placed-months',
      before.placedMonths,
      opened?.placedMonthsAgo === undefined ? notRecorded : recorded(before.months(opened.placedMonthsAgo)),
    ),
    item('consent-confirmed', before.confirmed, recorded(...points(true))),
    item('consent-not-confirmed', before.notConfirmed, recorded(...points(false))),
    ...(answered ? [item('consent-open', before.open, recorded(...points(undefined)))] : []),
    item(
      'limits',
      before.limits,
      recorded(
        before.bone(
          boneConsider,
          boneStop,
          limitSource(log, ['boneConsider', 'boneStop'], content.limits.boneStop.source),
        ),
        before.tourniquet(
          tourniquetLimit,
          limitSource(log, ['tourniquetMinutes'], content.limits.tourniquetMinutes?.source),
        ),
        before.theatre(theatreMinutes),
      ),
    ),
  ];
}

/** Where a limit in force comes from, in brackets: the entry that set it for this case, else the release's source. */
function limitSource(log: RecordLog, names: readonly (keyof EntryOf<'limits-set'>)[], id?: string): string {
  const set = log.of('limits-set').findLast((entry) => names.some((name) => entry[name] !== undefined));
  if (set) return ` (${log.locale.items.before.setForCase(set.n)})`;
  return id === undefined ? '' : citeOf(log, id);
}

/** The source of a figure in brackets; empty when the content names none. */
export const citeOf = (log: RecordLog, id: string): string => {
  const cite = log.content.sources.find((source) => source.id === id)?.cite;
  return cite === undefined ? '' : ` (${log.locale.cite(cite)})`;
};
