/** What the papers for the patient and the next surgeon need of a log besides the facts of the note. */
import { lastWords } from '../../../machines/aftercare.ts';
import { openKeys } from '../../../machines/account.ts';
import { neededFor } from '../../../machines/readiness.ts';
import { isWorking } from '../../../machines/screw.context.ts';
import type { EntryType } from '../../../machines/entry.ts';
import type { History } from '../history.ts';
import type { RecordLog } from '../log.ts';
import type { ScrewFate, StillIn } from '../model.ts';
import type { PartFate } from '../part-fate.ts';
import type { CountImage, NeededNext, PaperFacts } from './shapes.ts';
import { partingSteps } from '../tool-wear.ts';
import { toolRows } from './tools.ts';

/** The last count by its number: a later one stands for the one before it. */
const lastCount = (log: RecordLog) => log.effective.findLast((entry) => entry.type === 'count-answered');

/** Entries that account for metal. */
const accounting: readonly EntryType[] = ['piece-recovered', 'destroyed', 'part-ended', 'head-seen', 'length-answered'];

/** Was metal accounted for after the last count? */
const isFoundSince = (log: RecordLog): boolean => {
  const count = lastCount(log);
  return count !== undefined && log.effective.some(({ n, type }) => n > count.n && accounting.includes(type));
};

function imageOf(log: RecordLog): CountImage | null {
  const count = lastCount(log);
  if (count === undefined) return null;
  if (count.image !== undefined) return count.image;
  if (count.imageTaken === undefined) return 'not-told';
  return count.imageTaken ? 'taken' : 'not-taken';
}

/** The stage from which another operation would begin; null where the screw is out or nobody knows. */
export function stageNow({ stage, leftFrom }: ScrewFate): ScrewFate['stage'] | null {
  return stage === 'left-in' || stage === 'out' ? leftFrom : stage;
}

function neededOf(
  log: RecordLog,
  screws: readonly ScrewFate[],
  pieces: readonly StillIn[],
): Record<string, NeededNext> {
  const entries = screws.flatMap((fate): [string, NeededNext][] => {
    const stage = stageNow(fate);
    if (stage === null || !isWorking(stage) || !pieces.some(({ screw }) => screw === fate.id)) return [];
    const needed = neededFor(log.folded, fate.id, stage);
    return needed ? [[fate.id, { stage, ...needed }]] : [];
  });
  return Object.fromEntries(entries);
}

/** The facts of the papers. */
export function paperFacts(
  log: RecordLog,
  history: History,
  known: { screws: readonly ScrewFate[]; parts: readonly PartFate[]; stillIn: readonly StillIn[] },
): PaperFacts {
  const { content, effective, folded, opened, view } = log;
  const { screws, parts, stillIn } = known;
  const discrepancy = lastCount(log)?.discrepancy;
  const contradicted = [...new Set(folded.conflicts.map(({ screw }) => screw))];
  return {
    bone: opened ? log.locale.clean(opened.bone).toLowerCase() : null,
    tellings: log
      .of('patient-told')
      .map(({ state, by, points }) => ({ state, by: log.locale.clean(by), points: [...new Set(points)] })),
    image: imageOf(log),
    isAllOut:
      screws.length + parts.length > 0 &&
      stillIn.length === 0 &&
      parts.every(({ end }) => end !== null) &&
      openKeys(folded).length === 0 &&
      (discrepancy === undefined || isFoundSince(log)) &&
      contradicted.length === 0 &&
      view.conflicts.length === 0,
    discrepancy: discrepancy === undefined ? null : log.locale.clean(discrepancy),
    contradicted,
    aftercare:
      content.ladder === 2
        ? lastWords(
            effective.filter((entry) => entry.type === 'aftercare'),
            content,
          ).filter(({ state }) => state !== 'dropped')
        : [],
    needed: neededOf(log, screws, stillIn),
    tools: toolRows(log, history),
    parting: partingSteps(content),
  };
}
