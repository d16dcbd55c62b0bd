/** The timeline: every entry exactly once, by time, then number, with what must be known of it in words. */
import type { Entry } from '../../machines/entry.ts';
import { inZone } from '../../machines/time.ts';
import { rowsOf, type TraceRow } from '../../machines/trace.ts';
import { offsetAt, type RecordLog } from './log.ts';
import type { TimelineRow } from './model.ts';
import { sentence } from '../format/prose.ts';
import { attribution, tell } from './narrative.ts';

/** Marks of an entry. `signedAt`: number of the first signature in force. */
function marksOf(
  log: RecordLog,
  row: TraceRow,
  strikes: ReadonlyMap<number, Entry>,
  signedAt: number | null,
): string[] {
  const { entry } = row;
  const words = log.locale.sections.marks;
  const marks: string[] = [];
  const device = log.deviceTime(entry);
  if (device !== null) marks.push(words.device(device));
  else if (log.isDeviceAlone(entry)) marks.push(words.deviceAlone);
  const strike = strikes.get(entry.n);
  if (strike?.type === 'struck') marks.push(words.struck(strike.n, strike.reason));
  if (row.late) marks.push(words.late(log.time(entry, 'logged'), isLateMove(log, row)));
  if (row.movedFrom !== null) marks.push(words.moved(row.movedFrom, movedBy(log, entry.n)));
  if (!row.heard && !row.struck) marks.push(words.outOfOrder);
  if (log.folded.impossibleTimes.includes(entry.n)) marks.push(words.impossible);
  for (const [a, b] of log.view.conflicts)
    if (entry.n === a || entry.n === b) marks.push(words.conflict(entry.n === a ? b : a));
  if (row.unoffered) marks.push(words.notOffered);
  if (row.unanswered.length)
    marks.push(words.unanswered(row.unanswered.map((hold) => log.content.phrases.holds[hold].label)));
  if (signedAt !== null && entry.n > signedAt) marks.push(words.afterSigning);
  if (changesAfterClosing(log, row)) marks.push(words.afterClosing);
  return marks;
}

/** A move that was told late: nothing could be asked before it. Rules 1 asked it all the same. */
export const isLateMove = ({ folded }: RecordLog, { entry, late, heard }: TraceRow): boolean =>
  folded.rules.number > 1 && entry.type === 'move-started' && late && heard;

/** Entries that say of which screw an entry was. */
const movedBy = (log: RecordLog, n: number): number[] =>
  log
    .of('reassigned')
    .filter(({ entries, from, n: by }) => (entries ? entries.includes(n) : n >= (from ?? n)) && n < by)
    .map(({ n: by }) => by);

/** Papers that follow a closing by themselves change nothing of what was told before. */
const papers = ['note-field', 'patient-told', 'signed', 'remark', 'struck', 'aftercare'];

/** Was it told after the case was closed, and does it change account or papers? */
const changesAfterClosing = (log: RecordLog, { entry, heard }: TraceRow): boolean =>
  heard && log.isAfterClosing(entry.n) && !papers.includes(entry.type);

/** Number of the first signature in force, or null. */
export const firstSignature = (log: RecordLog): number | null =>
  log.effective.find(({ type }) => type === 'signed')?.n ?? null;

/** Who called it and who entered it; format 1 had constants there, which nobody had said. */
function attributed(log: RecordLog, written: Entry, { format }: TraceRow): string[] {
  if (format > 1) return [attribution(written, log.locale.language)];
  const { calledBy, loggedBy } = written;
  return calledBy === undefined && loggedBy === undefined ? [] : [sentence(log.locale.sections.marks.version1)];
}

/** Words on a stop of the work that stood already: they add their reason to it. The next move takes a stop back. */
function addingToStops(rows: readonly TraceRow[]): ReadonlySet<number> {
  const adding = new Set<number>();
  let isStopped = false;
  for (const { heard, late, entry } of rows) {
    if (!heard) continue;
    if (entry.type === 'stopped') {
      if (isStopped) adding.add(entry.n);
      isStopped = true;
    } else if (entry.type === 'move-started' && !late) isStopped = false;
  }
  return adding;
}

/** Every entry of the log, by `at`, then `n`. */
export function timelineOf(log: RecordLog): TimelineRow[] {
  const rows = rowsOf(log.folded.trace);
  const strikes = new Map<number, Entry>();
  for (const { entry, heard } of rows)
    if (heard && entry.type === 'struck' && !strikes.has(entry.entry)) strikes.set(entry.entry, entry);
  const signedAt = firstSignature(log);
  const adding = addingToStops(rows);
  // By their place in the log, whatever number they bear.
  const rowOf = new Map(log.entries.map((entry, i) => [entry, rows[i] as TraceRow]));
  return log.inOrder(log.entries).map((entry) => {
    const row = rowOf.get(entry) as TraceRow;
    const at = log.at(entry);
    return {
      n: entry.n,
      type: entry.type,
      at,
      ...inZone(at, log.zone),
      offset: offsetAt(at, log.zone),
      marks: marksOf(log, row, strikes, signedAt),
      struck: row.struck,
      late: row.late,
      screw: 'screw' in entry ? (entry.screw ?? null) : null,
      written: { at: entry.at, logged: entry.logged },
      logged: log.at(entry, 'logged'),
      // Format 1 had constants there.
      by:
        row.format > 1
          ? { called: entry.calledBy ?? null, entered: entry.loggedBy ?? null }
          : { called: null, entered: null },
      sentence: [
        tell({ ...row, again: row.again || adding.has(entry.n) }, log.content, log.zone),
        ...attributed(log, entry, row),
      ]
        .filter(Boolean)
        .join(' '),
    };
  });
}
