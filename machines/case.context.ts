/** What is remembered of the whole case besides its phase. */
import type { ConsentId, HoldId, PartKind, ToolId } from '../content/ids.ts';
import type { Content } from '../content/types.ts';
import type { CuffChange, Inflation } from './cuff.ts';
import type { EntryOf } from './entry.ts';

export type RoomTool = Pick<EntryOf<'tool-in-room'>, 'tool' | 'fits' | 'size' | 'outer' | 'inner'>;
export type BoneMeasure = Pick<EntryOf<'bone-measured'>, 'outer' | 'cortex' | 'source'> & {
  /** Left out: not said. */
  place?: EntryOf<'bone-measured'>['place'];
};
export type Opening = EntryOf<'case-opened'>;

/** All that an offer depends on besides the screw itself. Replaced as a whole, so that it can key a memo. */
export interface Room {
  /** As it was opened, with what was corrected since. */
  opened: Opening | null;
  plateOff: boolean;
  tools: readonly RoomTool[];
  bone: BoneMeasure | null;
  boneAt: Readonly<Record<string, BoneMeasure>>;
  limits: { boneConsider: number; boneStop: number };
  said: BoneSaid;
}

/** Is there a plate in the case, and nobody has said that it is off? */
export const isPlateOn = ({ opened, plateOff }: Pick<Room, 'opened' | 'plateOff'>): boolean =>
  opened?.construct === 'plate' && !plateOff;

/** What was said of the bone of the case besides its measures. */
export interface BoneSaid {
  /** It broke today: no section of it can be reckoned. */
  broke: boolean;
  /** Asked because its wall is thin by measure, somebody said yes. */
  thin: boolean;
  /** It was said to go on without a measure. */
  unmeasured: boolean;
}

/** A part that is about to be lifted or driven out: whether all that holds it was counted. */
export interface Lifting {
  part: string;
  n: number;
  /** Screws of it that an image shows, and that are out; null: not counted. */
  seen: number | null;
  out: number | null;
  /** Somebody said to go on all the same. */
  passed: boolean;
  /** It is being lifted, and whether it is off is asked; false where only its screws were counted before another move. */
  asks: boolean;
}

/** A broken tip of a tool. */
export interface Tip {
  tool: ToolId;
  entry: number;
  listed: number | null;
  /** Known only from the outcome `tool-broke`: the next word on damage takes its place. */
  presumed: boolean;
  /** The tool itself is only the likely one: nobody had named it. */
  guessed: boolean;
  /** The entries that told of the breaking, `entry` among them: an answer names the tip by any of them. */
  told: readonly number[];
  /** When it broke, corrected time in ms; left out where only its damage was described. */
  brokeAt?: number | undefined;
}

/** A piece of a tool's tip that came out. `length`: mm, null when nobody measured it. */
export interface TipPiece {
  tool: ToolId;
  length: number | null;
  /** Known from an image, not measured. */
  image: boolean;
  tip: number | null;
  /** It was called all of it. */
  complete: boolean;
  /** When it was told to be out, corrected time in ms: it is of no tip that broke after that. */
  at?: number | undefined;
}

/** What was said to stay of a tool's tip. */
export interface TipLeft {
  tool: ToolId;
  length: number | null;
  image: boolean;
  tip: number | null;
}

/** What was said of where one piece of a part is. */
export interface PartEnd {
  n: number;
  piece: number;
  end: EntryOf<'part-ended'>['end'];
  /** That is all of it. */
  complete: boolean;
  where: string | null;
  reason: string | null;
  image: boolean | null;
}

/** Metal of the case besides screws and broken tips: a plate, a washer, a foil. */
export interface Part {
  id: string;
  kind: PartKind;
  what: string | null;
  length: number | null;
  /** Pieces that it is in. */
  pieces: number;
  /** The entry that listed it; null for the plate or nail that the case itself is about. */
  listed: number | null;
  ends: readonly PartEnd[];
  /** Taken off the bone: not yet said to be out. */
  off: number | null;
}

/** Metal put in today, which stays unless it was said to be out again. */
export type PutIn = Pick<EntryOf<'put-in'>, 'n' | 'part' | 'screw' | 'kind' | 'length' | 'where'> & {
  /** What was said of its pieces, where another part had borne its name before. */
  ends: readonly PartEnd[];
  /** A screw of its name was listed before: another one. */
  again: boolean;
};

export interface CaseContext {
  room: Room;
  people: readonly EntryOf<'person-listed'>[];
  consent: Readonly<Partial<Record<ConsentId, boolean>>>;
  called: string | null;
  /** Screws that were put off and to which nobody has come back. */
  waiting: readonly string[];
  /** Null: none is set. */
  tourniquetLimit: number | null;
  theatreMinutes: number | null;
  /** Corrected times, ms. */
  workStarted: number | null;
  workEnded: number | null;
  closedAt: number | null;
  /** When the last move began that was not told late. */
  movedAt: number | null;
  /** All that was told of the cuff, and the inflations it makes. */
  cuff: readonly CuffChange[];
  inflations: readonly Inflation[];
  lastDose: { drug: string; corrected: number } | null;
  shots: number;
  answered: { 'hard-metal': boolean; time: boolean; shavings: boolean };
  /** Metal was cut since the last wash-out. */
  shavings: boolean;
  /** Corrected times of the last cut and of the last wash-out, ms; null before any. */
  cutAt: number | null;
  washedAt: number | null;
  /** What was told late counts at its own time; under rules 1 it counted as if it had just happened. */
  byTime: boolean;
  tips: readonly Tip[];
  tipPieces: readonly TipPiece[];
  tipsLeft: readonly TipLeft[];
  /** By id, in the order in which they were first spoken of. */
  parts: ReadonlyMap<string, Part>;
  putIn: readonly PutIn[];
  /** Number of the entry that stopped the work, and why; null once a move was begun after it. */
  stopped: Pick<EntryOf<'stopped'>, 'n' | 'reason' | 'text'> | null;
  /** What was open when the metal was last counted; null before. */
  counted: readonly string[] | null;
  /** Number of the entry that gives reason to stop and think, until somebody answers. */
  pause: number | null;
  /** Tips that somebody was asked to find and that were answered for, by the entry that told of the breaking. */
  tipsAnswered: readonly number[];
  lifting: Lifting | null;
  /** A colleague was called. */
  colleague: boolean;
  /** What was looked at before a first turn or a first cut, as `what` and size. */
  checked: readonly string[];
  /** Rules of the ladder of its content. */
  ladder: Content['ladder'];
}

export interface CaseInput {
  content: Content;
  byTime: boolean;
}

/** An empty case under one content version's limits. */
export const emptyCase = ({ content, byTime }: CaseInput): CaseContext => ({
  room: {
    opened: null,
    plateOff: false,
    tools: [],
    bone: null,
    boneAt: {},
    limits: { boneConsider: content.limits.boneConsider.value, boneStop: content.limits.boneStop.value },
    said: { broke: false, thin: false, unmeasured: false },
  },
  people: [],
  consent: {},
  called: null,
  waiting: [],
  tourniquetLimit: content.limits.tourniquetMinutes?.value ?? null,
  theatreMinutes: null,
  workStarted: null,
  workEnded: null,
  closedAt: null,
  movedAt: null,
  cuff: [],
  inflations: [],
  lastDose: null,
  shots: 0,
  answered: { 'hard-metal': false, time: false, shavings: false },
  shavings: false,
  cutAt: null,
  washedAt: null,
  byTime,
  tips: [],
  tipPieces: [],
  tipsLeft: [],
  parts: new Map(),
  putIn: [],
  stopped: null,
  counted: null,
  pause: null,
  tipsAnswered: [],
  lifting: null,
  colleague: false,
  checked: [],
  ladder: content.ladder,
});

const sameTool = (a: RoomTool, b: RoomTool) =>
  a.tool === b.tool &&
  a.size === b.size &&
  a.outer === b.outer &&
  a.inner === b.inner &&
  [...(a.fits ?? [])].sort().join() === [...(b.fits ?? [])].sort().join() &&
  (a.fits === undefined) === (b.fits === undefined);

/** The tools in the room once one was brought in or taken away. Taken away without measures: all of that kind. */
export function withTool(tools: readonly RoomTool[], entry: EntryOf<'tool-in-room'>): readonly RoomTool[] {
  const { tool, fits, size, outer, inner } = entry;
  const named: RoomTool = { tool, fits, size, outer, inner };
  const unmeasured = [fits, size, outer, inner].every((measure) => measure === undefined);
  const others = tools.filter(
    (other) => !(sameTool(other, named) || (!entry.present && unmeasured && other.tool === tool)),
  );
  return entry.present ? [...others, named] : others;
}

/** Tips once a tool broke under a move. */
export const withBroken = (
  tips: readonly Tip[],
  { tool, named }: { tool: ToolId; named: boolean },
  entry: number,
  brokeAt?: number,
): readonly Tip[] => [
  ...tips,
  {
    ...{ tool, entry, listed: null, presumed: true, guessed: !named, told: [entry] },
    ...(brokeAt !== undefined && { brokeAt }),
  },
];

/** Tips once a tool's damage was described: it replaces what was presumed of that tool, or of one nobody had named. */
export function withDamage(tips: readonly Tip[], entry: EntryOf<'tool-damaged'>): readonly Tip[] {
  const same = tips.findIndex((tip) => tip.presumed && tip.tool === entry.tool);
  const presumed = same < 0 ? tips.findIndex((tip) => tip.presumed && tip.guessed) : same;
  const others = presumed < 0 ? tips : tips.toSpliced(presumed, 1);
  const told = [...(tips[presumed]?.told ?? []), entry.n];
  const listed = entry.length ?? null;
  const { brokeAt } = tips[presumed] ?? {};
  const described = {
    ...{ tool: entry.tool, entry: entry.n, listed, presumed: false, guessed: false, told },
    ...(brokeAt !== undefined && { brokeAt }),
  };
  return entry.tipMissing ? [...others, described] : others;
}

const untold = { what: null, length: null, pieces: 1, listed: null, ends: [], off: null } as const;

/** A part that nobody listed: the plate or nail of the case by its construct, anything else by its name alone. */
const unlisted = (id: string): Part => ({ ...untold, id, kind: id === 'plate' || id === 'nail' ? id : 'other' });

const changed = (parts: CaseContext['parts'], id: string, change: (part: Part) => Part): CaseContext['parts'] =>
  new Map(parts).set(id, change(parts.get(id) ?? unlisted(id)));

/** Parts once one was listed, or listed again: what was said of its pieces stays. */
export const withPart = (parts: CaseContext['parts'], entry: EntryOf<'part-listed'>): CaseContext['parts'] =>
  changed(parts, entry.part, (part) => ({
    ...part,
    kind: entry.kind,
    what: entry.what ?? part.what,
    length: entry.length ?? part.length,
    pieces: entry.pieces ?? part.pieces,
    listed: part.listed ?? entry.n,
  }));

const partEnd = (entry: EntryOf<'part-ended'>): PartEnd => ({
  n: entry.n,
  piece: entry.piece ?? 1,
  end: entry.end,
  complete: entry.complete === true,
  where: entry.where ?? null,
  reason: entry.reason ?? null,
  image: entry.imageTaken ?? null,
});

/** The last word on the same piece counts. */
const withEnd = <P extends { ends: readonly PartEnd[] }>(part: P, end: PartEnd): P => ({
  ...part,
  ends: [...part.ends.filter(({ piece }) => piece !== end.piece), end],
});

/** Was all of this part out before that entry? Then what was put in by it bears its name now. */
const wasOutBefore = ({ ends, pieces }: Part, n: number): boolean =>
  ends.every((one) => one.n < n && one.end === 'out') &&
  (ends.length >= pieces || ends.some(({ complete }) => complete));

/** Parts, and what was put in, once it was said where a piece of one is. */
export function withPartEnd(
  { parts, putIn }: Pick<CaseContext, 'parts' | 'putIn'>,
  entry: EntryOf<'part-ended'>,
): Pick<CaseContext, 'parts' | 'putIn'> {
  const end = partEnd(entry);
  const before = parts.get(entry.part);
  const put = putIn.findLast(({ part }) => part === entry.part);
  return put && before && wasOutBefore(before, put.n)
    ? { parts, putIn: putIn.map((one) => (one === put ? withEnd(one, end) : one)) }
    : { parts: changed(parts, entry.part, (part) => withEnd(part, end)), putIn };
}

/** Parts once one was taken off the bone. `out`: format 1 told of no other end, so it is taken to be out with it. */
export const withPartOff = (parts: CaseContext['parts'], id: string, n: number, out: boolean): CaseContext['parts'] =>
  changed(parts, id, (part) => ({
    ...part,
    off: part.off ?? n,
    ends:
      out && part.ends.length === 0
        ? [{ n, piece: 1, end: 'out', complete: true, where: null, reason: null, image: null }]
        : part.ends,
  }));

/** Parts once a recess was packed with foil: each pack is a piece of metal of its own. */
export const withFoil = (parts: CaseContext['parts'], screw: string, n: number): CaseContext['parts'] =>
  changed(parts, `foil-${screw}-${n}`, (part) => ({ ...part, kind: 'foil', listed: n }));

/** The tip that an answer speaks of: the one that it names, else the first of its tool, else the first, of those not answered for. */
export function tipMeant(
  { tips, tipsAnswered }: Pick<CaseContext, 'tips' | 'tipsAnswered'>,
  { tip, tool }: Pick<EntryOf<'hold-answered'>, 'tip' | 'tool'>,
): Tip | undefined {
  if (tip !== undefined) return tips.find(({ told }) => told.includes(tip));
  const open = tips.filter(({ told }) => !tipsAnswered.some((n) => told.includes(n)));
  return open.find((one) => one.tool === tool) ?? open[0];
}

/** What an answer says of a tip: that it was answered for, and what was found of it. */
export function withTipAnswer(
  context: CaseContext,
  answer: EntryOf<'hold-answered'>,
): Partial<Pick<CaseContext, 'tips' | 'tipsAnswered' | 'tipPieces'>> {
  const meant = tipMeant(context, answer);
  if (!meant) return {};
  // Who answers names the tool; until then it was only the likely one.
  const named = meant.guessed && answer.tool !== undefined ? { ...meant, tool: answer.tool, guessed: false } : meant;
  const tips = context.tips.map((tip) => (tip === meant ? named : tip));
  const tipsAnswered = [...context.tipsAnswered, meant.entry];
  if (answer.answer !== 'found') return { tips, tipsAnswered };
  const { length, lengthHow } = answer;
  // What was only reckoned was measured by nobody.
  const known = lengthHow === 'difference' ? null : (length ?? null);
  const image = lengthHow === 'image';
  const piece: TipPiece = { tool: named.tool, length: known, image, tip: meant.entry, complete: false };
  return { tips, tipsAnswered, tipPieces: [...context.tipPieces, piece] };
}

/** The opening as it reads with a correction. */
export function corrected(opened: Opening, correction: EntryOf<'case-corrected'>): Opening {
  const { side, bone, construct, zone, label, placedBy, placedMonthsAgo, limb, patient, fragile } = correction;
  const told = { side, bone, construct, zone, label, placedBy, placedMonthsAgo, limb, patient, fragile };
  return { ...opened, ...Object.fromEntries(Object.entries(told).filter(([, value]) => value !== undefined)) };
}

/** Screws that wait, once somebody has come back to one. */
export const cameBack = ({ waiting }: Pick<CaseContext, 'waiting'>, screw: string): Pick<CaseContext, 'waiting'> => ({
  waiting: waiting.includes(screw) ? waiting.filter((id) => id !== screw) : waiting,
});

/** Holds on the case that an answer closes: for good, or, for shavings, until metal is cut again. */
export const isCaseAnswer = (hold: HoldId): hold is keyof CaseContext['answered'] =>
  hold === 'hard-metal' || hold === 'time' || hold === 'shavings';
