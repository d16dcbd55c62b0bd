/** Plate, nail and every other part as the record tells of them. */
import { partAccounts } from '../../machines/account.ts';
import { rowOf } from '../../machines/trace.ts';
import type { RecordLog } from './log.ts';
import type { StillIn } from './model.ts';
import type { PartFate } from './part-fate.ts';

/** When an entry says that something happened, in words; null when the log has no such entry. */
function timeOf(log: RecordLog, n: number | null): string | null {
  const entry = n === null ? undefined : log.entries[n - 1];
  return entry ? log.time(entry) : null;
}

/** Each part with what became of it. */
export function partsOf(log: RecordLog): PartFate[] {
  const { parts, putIn } = log.folded.case.context;
  const { entries } = log.locale;
  return partAccounts(log.folded).map((account): PartFate => {
    const put = account.putIn === null ? undefined : putIn.find(({ n }) => n === account.putIn);
    const ends = put?.ends.length ? put.ends : account.end === 'put-in' ? undefined : parts.get(account.id)?.ends;
    const kind = put ? log.locale.clean(put.kind) : entries.parts[account.kind];
    const entry = ends?.at(-1)?.n ?? put?.n ?? null;
    return {
      id: account.id,
      kind: account.kind,
      name: put?.screw !== undefined ? log.locale.screw(put.screw) : entries.partName(put?.part ?? account.id),
      what: account.what === null || put ? kind : `${kind}, ${log.locale.clean(account.what)}`,
      length: account.length,
      end: account.end,
      pieces: account.pieces,
      closes: account.closes,
      byStop: account.end === 'left-in' && !ends?.some(({ end }) => end === 'left-in'),
      off: timeOf(log, account.off),
      entry,
      after: entry !== null && log.isAfterClosing(entry) ? entry : null,
      asked: wasAsked(log),
      where: put && account.end === 'put-in' ? log.locale.clean(put.where) : null,
      screw: put?.screw ?? null,
    };
  });
}

/** Format 1 asked of no part. */
const wasAsked = (log: RecordLog): boolean => log.folded.format > 1;

/** Is what was said of it not said of all of it? */
export const isPartly = ({ closes, end }: PartFate): boolean =>
  closes === 'difference' || (closes === 'open' && end !== null);

/**
 * What stays of parts, and what was not found of them.
 *
 * @param stoppedBecause why work was stopped, in words; null when it was not
 */
export function partsStillIn(log: RecordLog, stoppedBecause: string | null): StillIn[] {
  const { notRecorded, clean, yesNo, stillIn } = log.locale;
  const { parts, stopped } = log.folded.case.context;
  return partsOf(log).flatMap((part): StillIn[] => {
    if (part.end === null || part.end === 'out') return [];
    const told = parts.get(part.id)?.ends.findLast(({ end }) => end === part.end);
    const entry = told?.n ?? part.entry ?? (part.end === 'left-in' ? (stopped?.n ?? null) : null);
    const byStop = told === undefined && part.end === 'left-in' ? stoppedBecause : null;
    const row = entry === null ? undefined : rowOf(log.folded.trace, entry);
    const isSome = part.end !== 'not-found' && isPartly(part);
    return [
      {
        kind: part.end === 'not-found' ? 'unaccounted' : part.end === 'put-in' ? 'put-in' : 'left',
        screw: null,
        tool: null,
        part: part.id,
        entry,
        at: row ? log.at(row.entry) : null,
        length: isSome ? null : part.length,
        measured: false,
        // Foil is named as that already.
        what: stillIn.facts.part(part.kind === 'foil' ? part.name : `${part.name} (${part.what})`, isSome, part.end),
        material: notRecorded,
        size: isSome || part.length === null ? stillIn.facts.notMeasured : stillIn.facts.listedLong(part.length),
        where: part.where ?? (told?.where ? clean(told.where) : notRecorded),
        why: told?.reason ? clean(told.reason) : (byStop ?? notRecorded),
        image: yesNo(told?.image ?? undefined),
        decidedBy: notRecorded,
        told: notRecorded,
        place: null,
        known: {
          ...{ stage: null, diameter: null, isOpen: part.closes === 'open', byStop: byStop !== null },
          form:
            part.end === 'not-found'
              ? 'part-missing'
              : part.end === 'put-in'
                ? 'put-in'
                : isSome
                  ? 'part-some'
                  : 'part',
          how: isSome || part.length === null ? null : 'listed',
          imageTaken: told?.image ?? null,
        },
      },
    ];
  });
}
