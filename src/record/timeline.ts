/** The timeline: every entry exactly once, by time, then number, with what must be known of it in words. */
import type { Entry } from '../../machines/entry.ts';
import { isLate } from '../../machines/fold.ts';
import { epoch, inZone } from '../../machines/time.ts';
import { byTime, offsetAt, type RecordLog } from './log.ts';
import type { TimelineRow } from './model.ts';
import { attribution, narrate } from './narrative.ts';
import type { Running } from './locales/telling.ts';

/** The move each `move-ended` belongs to. What is in force goes first; a struck end may belong to a struck start. */
function endedMoves(log: RecordLog): Map<number, Running> {
  const effective = new Set(log.effective.map(({ n }) => n));
  const running = new Map<string, Running>();
  const any = new Map<string, Running>();
  const ended = new Map<number, Running>();
  for (const entry of log.entries) {
    if (entry.type === 'move-started') {
      any.set(entry.screw, entry);
      if (effective.has(entry.n)) running.set(entry.screw, entry);
    } else if (entry.type === 'move-ended') {
      const known = effective.has(entry.n)
        ? running.get(entry.screw)
        : (running.get(entry.screw) ?? any.get(entry.screw));
      if (known) ended.set(entry.n, known);
      if (effective.has(entry.n)) running.delete(entry.screw);
    }
  }
  return ended;
}

/** Marks of an entry. `signedAt`: number of the first signature in force. */
function marksOf(log: RecordLog, entry: Entry, strikes: ReadonlyMap<number, Entry>, signedAt: number | null): string[] {
  const { folded, content } = log;
  const words = log.locale.sections.marks;
  const marks: string[] = [];
  const strike = strikes.get(entry.n);
  if (strike?.type === 'struck') marks.push(words.struck(strike.n, strike.reason));
  if (isLate(entry)) marks.push(words.late(log.when(epoch(entry.logged))));
  if (folded.outOfOrder.includes(entry.n)) marks.push(words.outOfOrder);
  if (folded.unoffered.includes(entry.n)) marks.push(words.notOffered);
  const holds = folded.unanswered.filter(({ entry: n }) => n === entry.n);
  if (holds.length) marks.push(words.unanswered(holds.map(({ hold }) => content.phrases.holds[hold].label)));
  if (signedAt !== null && entry.n > signedAt) marks.push(words.afterSigning);
  return marks;
}

/** Number of the first signature in force, or null. */
export const firstSignature = (log: RecordLog): number | null =>
  log.effective.find(({ type }) => type === 'signed')?.n ?? null;

/** Every entry of the log, by `at`, then `n`. */
export function timelineOf(log: RecordLog): TimelineRow[] {
  const ended = endedMoves(log);
  const strikes = new Map<number, Entry>();
  for (const entry of log.entries)
    if (entry.type === 'struck' && log.folded.struck.includes(entry.entry) && !log.folded.outOfOrder.includes(entry.n))
      if (!strikes.has(entry.entry)) strikes.set(entry.entry, entry);
  const signedAt = firstSignature(log);
  const listed = new Set<string>();
  const again = new Set<number>();
  for (const entry of log.effective)
    if (entry.type === 'screw-listed') {
      if (listed.has(entry.screw)) again.add(entry.n);
      listed.add(entry.screw);
    }
  return [...log.entries].sort(byTime).map((entry) => {
    const at = epoch(entry.at);
    const telling = { content: log.content, running: ended.get(entry.n), again: again.has(entry.n) };
    const marks = marksOf(log, entry, strikes, signedAt);
    return {
      n: entry.n,
      type: entry.type,
      at,
      ...inZone(at, log.zone),
      offset: offsetAt(at, log.zone),
      marks,
      struck: log.folded.struck.includes(entry.n),
      late: isLate(entry),
      screw: 'screw' in entry ? (entry.screw ?? null) : null,
      written: { at: entry.at, logged: entry.logged },
      sentence: [narrate(entry, telling), attribution(entry, log.locale.language)].filter(Boolean).join(' '),
    };
  });
}
