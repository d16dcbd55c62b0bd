/** What the log itself knows under the items of the note: lines of words, empty where it knows nothing. */
import { cuffChanges } from '../../machines/cuff.ts';
import { epoch } from '../../machines/time.ts';
import type { History } from './history.ts';
import type { RecordLog } from './log.ts';
import { inSentence } from '../../content/names.ts';
import { some } from '../format/prose.ts';
import { isPartly, partsOf } from './part-facts.ts';

export const outLine = (log: RecordLog): string[] => {
  const screws = Object.entries(log.view.screws);
  if (!screws.length) return [];
  const out = screws.filter(([, { stage }]) => stage === 'out').length;
  const named = (rows: typeof screws) => rows.map(([id]) => log.locale.screw(id));
  const left = named(screws.filter(([, { stage }]) => stage === 'left-in'));
  const open = named(screws.filter(([, { stage }]) => stage !== 'out' && stage !== 'left-in'));
  return log.locale.items.screwsOut(out, screws.length, left, open, partWords(log));
};

/** What was said of each part: nothing where nobody spoke of it. */
const partWords = (log: RecordLog): string[] =>
  partsOf(log).flatMap((part) => {
    const words = part.end === 'put-in' ? null : log.locale.sections.parts.became(part);
    return words === null ? [] : [`${part.name}: ${words}`];
  });

export const findingLines = (log: RecordLog): string[] =>
  log.of('found').map((entry) => log.locale.items.finding(entry, log.when(epoch(entry.at))));

/** Every stop of the work, with the reason that was said last of it. */
function stopLines(log: RecordLog): string[] {
  const { stops } = log.locale.entries;
  const { stopped } = log.folded.case.context;
  return log.of('stopped').flatMap((entry, index, all) => {
    const { at, reason, text } = entry.n === stopped?.n ? { at: entry.at, ...stopped } : entry;
    // A second word adds its reason to the first.
    const adds = stopped !== null && entry.n > stopped.n && index > 0 && all.some(({ n }) => n === stopped.n);
    return adds
      ? []
      : [
          log.locale.items.problems.stopped(
            log.when(epoch(at)),
            reason === undefined ? null : stops[reason],
            text === undefined ? null : log.locale.clean(text),
          ),
        ];
  });
}

/** Slips, breakages, jammed and damaged tools, as the log counts them. */
export function problemLines(log: RecordLog, { attempts }: History): string[] {
  const { and, screw, items } = log.locale;
  const ends = (outcome: string) => attempts.filter((attempt) => attempt.outcome === outcome);
  const told = (outcome: string, words: (n: number, screws: string) => string) => {
    const found = ends(outcome);
    return found.length > 0 && words(found.length, and([...new Set(found.map((attempt) => screw(attempt.screw)))]));
  };
  const unplanned = ends('head-sheared').filter(({ gained }) => !gained);
  const damaged = log.of('tool-damaged').length;
  const outOfOrder = log.folded.outOfOrder.length;
  return some(
    told('slipped', items.problems.slips),
    unplanned.length > 0 &&
      items.problems.heads(unplanned.length, and(unplanned.map((attempt) => screw(attempt.screw)))),
    told('shank-broke', items.problems.shanks),
    told('tool-broke', items.problems.brokenTools),
    told('tool-jammed', items.problems.jammedTools),
    damaged > 0 && items.problems.damaged(damaged),
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
  log.of('blood-loss').map(({ ml, at }) => log.locale.items.blood(ml, log.when(epoch(at))));
export const doseLines = (log: RecordLog) =>
  log.of('antibiotic').map(({ drug, dose, at }) => log.locale.items.dose(drug, dose, log.when(epoch(at))));

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
  entries.forEach((up, index) => {
    if (up.to !== 'up') return;
    const down = entries[index + 1];
    const pressure = tourniquet.pressure(up.pressure);
    const from = log.when(epoch(up.at));
    if (down) {
      const lasted = log.minutes(up, down);
      lines.push(
        tourniquet.down(
          from,
          log.when(epoch(down.at)),
          lasted,
          limit !== null && lasted >= limit ? limit : null,
          pressure,
        ),
      );
    } else {
      lines.push(tourniquet.up(from, log.view.clocks.tourniquetMinutes, pressure));
    }
  });
  if (lines.length > 1) lines.push(tourniquet.total(log.view.clocks.tourniquetTotalMinutes, limit));
  return lines;
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

export const implantLines = (log: RecordLog): string[] => {
  const of = (stage: string) =>
    Object.entries(log.view.screws)
      .filter(([, screw]) => screw.stage === stage)
      .map(([id]) => log.locale.screw(id));
  const { part: partWords } = log.locale.stillIn.facts;
  const parts = (end: 'out' | 'left-in') =>
    partsOf(log).flatMap((part) => {
      const { name, what, closes } = part;
      if (part.end !== end && closes !== 'difference') return [];
      return [isPartly(part) ? partWords(name, what, true, 'left-in') : name];
    });
  const put = partsOf(log).flatMap(({ end, what, name }) => (end === 'put-in' ? [`${what} (${name})`] : []));
  return log.locale.items.implants([...of('out'), ...parts('out')], [...of('left-in'), ...parts('left-in')], put);
};
