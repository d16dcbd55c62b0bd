/** The account of plate, nail and every other part: where each of its pieces is, as far as anybody said. */
import type { CaseContext, Part, PutIn } from '../case.context.ts';
import type { Closes } from '../view.types.ts';

export interface PartAccount {
  id: string;
  kind: Part['kind'];
  what: string | null;
  length: number | null;
  /** `left-in` as soon as a piece of it stays; null while nobody spoke of it. */
  end: 'out' | 'left-in' | 'not-found' | 'put-in' | null;
  pieces: number;
  /** Null until the work has ended or the case was closed, while nobody spoke of it. */
  closes: Closes | null;
  /** The entry that told that it was taken off the bone. */
  off: number | null;
  /** The entry that told that it was put in today. */
  putIn: number | null;
}

type Told = Pick<CaseContext, 'parts' | 'putIn' | 'room' | 'stopped' | 'workEnded' | 'closedAt'>;

/** Put in today to turn a screw: whether it is still there is for somebody to say. */
const ofToday: readonly Part['kind'][] = ['foil', 'guide-wire'];

/** What is in when work is stopped stays where it is, unless it was moved before, or was found only after. */
const staysByStop = ({ ends, off, kind, listed }: Part, { stopped }: Told) =>
  ends.length === 0 && stopped !== null && off === null && !ofToday.includes(kind) && (listed ?? 0) < stopped.n;

function endOf(part: Part, told: Told): PartAccount['end'] {
  const { ends } = part;
  const has = (end: string) => ends.some((one) => one.end === end);
  if (has('not-found')) return 'not-found';
  if (has('left-in') || staysByStop(part, told)) return 'left-in';
  return has('out') ? 'out' : null;
}

function closesOf(part: Part, told: Told): Closes | null {
  const { ends, pieces } = part;
  if (staysByStop(part, told)) return 'assumed';
  if (ends.length === 0) return told.workEnded === null && told.closedAt === null ? null : 'open';
  const isAll = ends.length >= pieces || ends.some(({ complete }) => complete);
  if (!isAll || ends.some(({ end }) => end === 'not-found')) return 'open';
  return new Set(ends.map(({ end }) => end)).size > 1 ? 'difference' : 'assumed';
}

/** The entry that spoke of it first; Infinity where none did. */
const firstWord = ({ listed, off, ends }: Part): number =>
  Math.min(listed ?? Infinity, off ?? Infinity, ...ends.map(({ n }) => n));

/** What was put in, with what was said of it since under its name: it stays until it was said to be elsewhere. */
function putInAccount(put: PutIn, id: string, since: Part | undefined, told: Told): PartAccount {
  const unlisted = { id, kind: 'other' as const, what: null, length: null, pieces: 1, listed: put.n, off: null };
  const part = since ?? { ...unlisted, ends: put.ends };
  const isTold = part.ends.length > 0;
  return {
    ...{ id, kind: part.kind, what: put.kind, length: put.length ?? part.length, off: part.off, putIn: put.n },
    end: isTold ? endOf(part, told) : 'put-in',
    pieces: Math.max(part.pieces, part.ends.length),
    closes: isTold ? closesOf(part, told) : 'assumed',
  };
}

/**
 * The accounts of all parts, in the order in which they were first spoken of: the plate or nail of the case first, what
 * was put in today last.
 *
 * @example partAccounts(plateCaseBeforeAnyWord)[0] // { id: 'plate', kind: 'plate', …, end: null, closes: null }
 */
export function partAccounts(told: Told): PartAccount[] {
  const { parts, putIn, room } = told;
  const construct = room.opened?.construct;
  const own = construct === 'plate' || construct === 'nail' ? construct : null;
  const first: Part[] =
    own && !parts.has(own)
      ? [{ id: own, kind: own, what: null, length: null, pieces: 1, listed: null, ends: [], off: null }]
      : [];
  const puts = new Map<string, PutIn>();
  for (const put of putIn) {
    const part = put.part === undefined || put.part === own ? undefined : parts.get(put.part);
    if (part && firstWord(part) > put.n) puts.set(part.id, put);
  }
  const listed = [...first, ...parts.values()].flatMap((part): PartAccount[] => {
    const { id, kind, what, length, off } = part;
    if (puts.has(id)) return [];
    const pieces = Math.max(part.pieces, part.ends.length);
    return [{ id, kind, what, length, end: endOf(part, told), pieces, closes: closesOf(part, told), off, putIn: null }];
  });
  const ownFirst = [...listed.filter(({ id }) => id === own), ...listed.filter(({ id }) => id !== own)];
  const taken = new Set(ownFirst.map(({ id }) => id));
  const put = putIn.map((one): PartAccount => {
    const name = one.part ?? one.screw ?? '';
    // What was there before is not hidden behind what bears its name.
    const id = name === '' || taken.has(name) ? `put-in-${one.n}` : name;
    taken.add(id);
    return putInAccount(one, id, puts.get(name) === one ? parts.get(name) : undefined, told);
  });
  return [...ownFirst, ...put];
}
