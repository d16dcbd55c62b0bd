/** What the log itself knows under the items of the note: lines of words, empty where it knows nothing. */
import { cuffChanges } from '../../machines/cuff.ts';
import type { Entry, EntryOf } from '../../machines/entry.ts';
import { isWorking } from '../../machines/screw.context.ts';
import { rowsOf } from '../../machines/trace.ts';
import type { History } from './history.ts';
import type { RecordLog } from './log.ts';
import { inSentence } from '../../content/names.ts';
import type { Attempt, RecordFacts } from './model.ts';
import { some } from '../format/prose.ts';
import { isPartly, partsOf } from './part-facts.ts';

/** Every listed screw, and each part that somebody spoke of: out or in. */
export const outLine = (log: RecordLog): string[] => {
  const screws = Object.entries(log.view.screws);
  if (!screws.length) return [];
  const out = screws.filter(([, { stage }]) => stage === 'out').length;
  const named = (rows: typeof screws) => rows.map(([id]) => log.locale.screw(id));
  const left = named(screws.filter(([, { stage }]) => stage === 'left-in'));
  const open = named(screws.filter(([, { stage }]) => stage !== 'out' && stage !== 'left-in'));
  const isStopped = log.folded.case.context.stopped !== null;
  const by = { stop: isStopped ? open : [], nobody: isStopped ? [] : open };
  return log.locale.items.screwsOut(out, screws.length, left, by, partWords(log));
};

/** What was said of each part: nothing where nobody spoke of it. */
const partWords = (log: RecordLog): string[] =>
  partsOf(log).flatMap((part) => {
    const words = part.end === 'put-in' ? null : log.locale.sections.parts.became(part);
    return words === null ? [] : [`${part.name}: ${words}`];
  });

export const findingLines = (log: RecordLog): string[] =>
  log.of('found').map((entry) => log.locale.items.finding(entry, log.time(entry)));

/** Every stop of the work, with the reason that was said last of it. */
function stopLines(log: RecordLog): string[] {
  const { stops } = log.locale.entries;
  const { stopped } = log.folded.case.context;
  return log.of('stopped').flatMap((entry, index, all) => {
    const { reason, text } = entry.n === stopped?.n ? stopped : entry;
    // A second word adds its reason to the first.
    const adds = stopped !== null && entry.n > stopped.n && index > 0 && all.some(({ n }) => n === stopped.n);
    return adds
      ? []
      : [
          log.locale.items.problems.stopped(
            log.time(entry),
            reason === undefined ? null : stops[reason],
            text === undefined ? null : log.locale.clean(text),
          ),
        ];
  });
}

/** What was told of the course of the work besides the metal. */
const eventLines = (log: RecordLog, kinds: readonly EntryOf<'event'>['kind'][]): string[] =>
  log
    .of('event')
    .filter(({ kind }) => kinds.includes(kind))
    .map((entry) => log.locale.items.event(entry, log.time(entry)));
const problems = ['bleeding', 'bone-broke', 'not-healed', 'infection-found', 'piece-dropped'] as const;
export const incisionLines = (log: RecordLog): string[] => eventLines(log, ['incision-extended']);
export const specimenLines = (log: RecordLog): string[] => eventLines(log, ['samples-sent']);

/** How often attempts ended so, and on which screws; false where none did. */
function ended({ locale }: RecordLog, attempts: readonly Attempt[], outcome: 'slipped' | keyof typeof mishaps) {
  const { and, screw, items } = locale;
  const found = attempts.filter((attempt) => attempt.outcome === outcome);
  const words = items.problems[outcome === 'slipped' ? 'slips' : mishaps[outcome]];
  return found.length > 0 && words(found.length, and([...new Set(found.map((attempt) => screw(attempt.screw)))]));
}
const mishaps = { 'shank-broke': 'shanks', 'tool-broke': 'brokenTools', 'tool-jammed': 'jammedTools' } as const;

/** Heads that came off unmeant, screws and tools that broke or jammed. */
function mishapLines(log: RecordLog, { attempts }: History): string[] {
  const { and, screw, items } = log.locale;
  const unplanned = attempts.filter(({ outcome, gained }) => outcome === 'head-sheared' && !gained);
  return some(
    unplanned.length > 0 &&
      items.problems.heads(unplanned.length, and(unplanned.map((attempt) => screw(attempt.screw)))),
    ended(log, attempts, 'shank-broke'),
    ended(log, attempts, 'tool-broke'),
    ended(log, attempts, 'tool-jammed'),
  );
}

/**
 * What went wrong for the patient or with the metal, by what was entered: no slip, which the move answers, nothing that
 * was found to be so before, and nothing of the log itself.
 */
export const complicationLines = (log: RecordLog, history: History): string[] => [
  ...mishapLines(log, history),
  ...eventLines(log, ['bleeding', 'bone-broke', 'piece-dropped']),
];

/** Slips, breakages, jammed and damaged tools, as the log counts them. */
export function problemLines(log: RecordLog, history: History): string[] {
  const { items } = log.locale;
  const damaged = log.of('tool-damaged').length;
  const outOfOrder = log.folded.outOfOrder.length;
  return some(
    ended(log, history.attempts, 'slipped'),
    ...mishapLines(log, history),
    damaged > 0 && items.problems.damaged(damaged),
    ...eventLines(log, problems),
    ...stopLines(log),
    outOfOrder > 0 && items.problems.outOfOrder(outOfOrder),
    ...log.folded.impossibleTimes.map(items.problems.impossible),
    ...log.view.conflicts.map(([a, b]) => items.problems.conflict(a, b)),
  );
}

/** Moves beyond turning out with the matched driver, and the state of the screw that they answered. */
export function extraLines(log: RecordLog, { attempts }: History): string[] {
  const { phrases } = log.content;
  const extra = attempts.filter(({ move }) => move !== 'turn-out');
  if (!extra.length) return attempts.length ? [log.locale.items.noExtra] : [];
  return extra.map(({ screw, move, from, stageBefore }) =>
    log.locale.items.extra(
      screw,
      log.when(from),
      phrases.moves[move].label,
      inSentence(log.content, phrases.stages[stageBefore].label),
    ),
  );
}

/** Bores move by move; the same bore made again by further moves is one line. */
export const tissueLines = ({ locale }: RecordLog, { attempts }: History): string[] =>
  locale.tally(
    attempts
      .filter(({ bores }) => bores.length > 0)
      .map(({ screw, bores, boresEntered }) => locale.items.bored(screw, bores.map(locale.bore), boresEntered)),
  );

export const bloodLines = (log: RecordLog) =>
  log.of('blood-loss').map((entry) => log.locale.items.blood(entry.ml, log.time(entry)));
export const doseLines = (log: RecordLog) =>
  log.of('antibiotic').map((entry) => log.locale.items.dose(entry.drug, entry.dose, log.time(entry)));

/** Spans of the tourniquet with their minutes. */
export function tourniquetLines(log: RecordLog): string[] {
  const { tourniquet } = log.locale.items;
  const limit = log.folded.case.context.tourniquetLimit;
  const lines: string[] = [];
  const { rules, case: snapshot } = log.folded;
  const { cuff } = snapshot.context;
  const told = log.of('tourniquet');
  const entries = (rules.number > 1 ? cuffChanges(cuff) : cuff).flatMap(
    ({ n }) => told.find((one) => one.n === n) ?? [],
  );
  const last = log.entries.at(-1) as Entry;
  entries.forEach((up, index) => {
    if (up.to !== 'up') return;
    const down = entries[index + 1];
    const pressure = tourniquet.pressure(up.pressure);
    const from = log.time(up);
    if (down) {
      const minutes = log.minutes(up, down);
      // How long it was up nobody knows, so nobody knows whether that was too long.
      const isPast = limit !== null && minutes >= limit && !log.isGapBetween(up, down);
      lines.push(tourniquet.down(from, log.time(down), log.lasted(minutes, up, down), isPast ? limit : null, pressure));
    } else {
      lines.push(tourniquet.up(from, log.lasted(log.view.clocks.tourniquetMinutes, up, last), pressure));
    }
  });
  if (lines.length > 1) {
    const isKnown = !entries.some((one, i) => one.to === 'up' && log.isGapBetween(one, entries[i + 1] ?? last));
    lines.push(tourniquet.total(log.locale.lasted(log.view.clocks.tourniquetTotalMinutes, isKnown), limit));
  }
  const alone = rowsOf(log.folded.trace).flatMap(({ entry, heard, struck }) =>
    entry.type === 'tourniquet' && entry.to === 'down' && !heard && !struck
      ? [tourniquet.onlyDown(log.time(entry), entry.n)]
      : [],
  );
  return [...alone, ...lines];
}

/** Images and dose, added by unit. */
export function imageLines(log: RecordLog): string[] {
  const { num, clean, items } = log.locale;
  const entries = log.of('images');
  if (!entries.length) return [];
  const doses = new Map<string, number>();
  for (const { dose, doseUnit } of entries)
    if (dose !== undefined) {
      const unit = doseUnit === undefined ? items.noUnit : clean(doseUnit);
      doses.set(unit, (doses.get(unit) ?? 0) + dose);
    }
  const shots = entries.reduce((sum, entry) => sum + entry.shots, 0);
  return [
    items.images(
      shots,
      [...doses].map(([unit, sum]) => `${num(sum)} ${unit}`),
    ),
  ];
}

export const implantLines = (
  log: RecordLog,
  { screws, parts: all }: Pick<RecordFacts, 'screws' | 'parts'>,
): string[] => {
  const { items } = log.locale;
  const of = (stage: string) =>
    screws.filter((fate) => fate.stage === stage && fate.foundAfter === null).map(({ id }) => log.locale.screw(id));
  // Nobody said of these that they stay: the work was stopped while they were in.
  const isStopped = log.folded.case.context.stopped !== null;
  const stopped = !isStopped
    ? []
    : screws.flatMap(({ id, stage, foundAfter }) =>
        isWorking(stage) && foundAfter === null ? [log.locale.screw(id)] : [],
      );
  const during = all.filter(({ after }) => after === null);
  const { part: partWords } = log.locale.stillIn.facts;
  const byStop = during.filter((part) => part.byStop).map(({ name }) => name);
  const parts = (end: 'out' | 'left-in') =>
    during.flatMap((part) => {
      if (part.byStop) return [];
      const { name, kind, what, closes } = part;
      if (part.end !== end && closes !== 'difference') return [];
      return [isPartly(part) ? partWords(kind === 'foil' ? name : `${name} (${what})`, true, 'left-in') : name];
    });
  const put = during.flatMap(({ end, what, name }) => (end === 'put-in' ? [`${what} (${name})`] : []));
  const after = [
    ...screws.flatMap(({ id, foundAfter }) =>
      foundAfter ? [items.found[foundAfter.what](log.locale.screw(id), foundAfter.n)] : [],
    ),
    ...all.flatMap((part) => {
      const words = log.locale.sections.parts.ended(part);
      return words === null || part.after === null ? [] : [items.found.part(part.name, words, part.after)];
    }),
  ];
  return [
    ...items.implants([...of('out'), ...parts('out')], [...of('left-in'), ...parts('left-in')], put, [
      ...stopped,
      ...byStop,
    ]),
    ...(after.length ? [items.foundAfter(after)] : []),
  ];
};
