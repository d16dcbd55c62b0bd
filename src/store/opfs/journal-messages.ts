/** What the page and the journal's thread say to each other, and the check of each: they may be of two builds. */
import * as v from 'valibot';
import { Failed, type Failure } from '../../failure.ts';
import type { JournalLine } from '../journal-contents.ts';
import type { CopyContents, StoredCase, StoredRow } from '../port.ts';

export type Call =
  | { call: 'read' | 'peek' | 'close' }
  | { call: 'add'; line: JournalLine }
  | { call: 'heal'; stored: StoredCase<StoredRow>; quarantined: readonly StoredRow[] }
  | { call: 'replace'; contents: CopyContents<StoredRow> }
  | { call: 'remove'; caseId: string }
  | { call: 'overwrite'; bytes: Uint8Array };
/**
 * `until`: ms since 1970 after which nobody waits for the answer any more. `holder`: the window for which it is written, as
 * the browser lists it among those that hold locks.
 */
export type Request = Call & { id: number; until: number; folder: string; holder?: string };
/** `contents`: a `CopyContents` as JSON, which is made and read several times faster than so many objects are copied. */
export type Reply = { id: number; contents?: string } | { id: number; reason: Failure };

const replyShape = v.union([
  v.object({ id: v.number(), reason: v.custom<Failure>((value) => v.is(v.object({ code: v.string() }), value)) }),
  // Strict: an answer with a reason that cannot be read is no success.
  v.strictObject({ id: v.number(), contents: v.optional(v.string()) }),
]);

// Of an entry only what the files are kept by: an entry is stored as it is, and checked where it is read.
const row = v.object({ n: v.number() });
const meta = v.object({ caseId: v.string(), contentVersion: v.string(), demo: v.boolean(), created: v.string() });
const stored = v.object({ meta, entries: v.array(row) });
const caseId = v.string();
const line = v.variant('kind', [
  v.object({ kind: v.literal('case'), meta }),
  v.object({ kind: v.picklist(['entry', 'instead', 'quarantined']), caseId, entry: row }),
  v.object({ kind: v.literal('removed'), caseId }),
]);
const contents = v.object({
  cases: v.array(stored),
  removed: v.array(caseId),
  quarantined: v.array(v.object({ caseId, entry: row })),
  damaged: v.array(v.object({ code: v.string() })),
});
const frame = { id: v.number(), until: v.number(), folder: v.string(), holder: v.optional(v.string()) };
const requestShape = v.variant('call', [
  v.object({ ...frame, call: v.picklist(['read', 'peek', 'close']) }),
  v.object({ ...frame, call: v.literal('add'), line }),
  v.object({ ...frame, call: v.literal('heal'), stored, quarantined: v.array(row) }),
  v.object({ ...frame, call: v.literal('replace'), contents }),
  v.object({ ...frame, call: v.literal('remove'), caseId }),
  v.object({ ...frame, call: v.literal('overwrite'), bytes: v.instance(Uint8Array) }),
]);

const failed = (detail: string) => new Failed({ code: 'journal-failed', detail });

/**
 * A message of the page, unchanged, if it is a request; its entries keep fields that nothing here knows. Throws a
 * `Failed` otherwise: what another build of the page means must not be guessed at and written.
 *
 * @example requestOf({ call: 'read', id: 1, until: 0, folder: 'log' }).call // 'read'
 */
export function requestOf(message: unknown): Request {
  if (!v.is(requestShape, message)) throw failed('a request of another form');
  return message as Request;
}

/**
 * The number under which a message waits for its answer, whatever else is wrong with it. NaN when it has none: an answer
 * that bears it is one of another form to the page, which then gives the thread up.
 *
 * @example idOf({ id: 7 }) // 7
 */
export const idOf = (message: unknown): number => (v.is(v.object({ id: v.number() }), message) ? message.id : NaN);

/**
 * A message of the thread, if it is an answer. Throws a `Failed` otherwise.
 *
 * @example replyOf({ id: 1 }) // { id: 1 }
 */
export function replyOf(message: unknown): Reply {
  if (!v.is(replyShape, message)) throw failed('an answer of another form');
  return message;
}
