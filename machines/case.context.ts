/** What is remembered of the whole case besides its phase. */
import type { ConsentId, HoldId, ToolId } from '../content/ids.ts';
import type { Content } from '../content/types.ts';
import type { CuffChange, Inflation } from './cuff.ts';
import type { EntryOf } from './entry.ts';

export type RoomTool = Pick<EntryOf<'tool-in-room'>, 'tool' | 'fits' | 'size' | 'outer' | 'inner'>;
export type BoneMeasure = Pick<EntryOf<'bone-measured'>, 'outer' | 'cortex' | 'source'>;

/** All that an offer depends on besides the screw itself. Replaced as a whole, so that it can key a memo. */
export interface Room {
  opened: EntryOf<'case-opened'> | null;
  plateOff: boolean;
  tools: readonly RoomTool[];
  bone: BoneMeasure | null;
  boneAt: Readonly<Record<string, BoneMeasure>>;
  limits: { boneConsider: number; boneStop: number };
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
}

export interface CaseContext {
  room: Room;
  people: readonly EntryOf<'person-listed'>[];
  consent: Readonly<Partial<Record<ConsentId, boolean>>>;
  called: string | null;
  tourniquetLimit: number;
  theatreMinutes: number | null;
  /** Corrected times, ms. */
  workStarted: number | null;
  workEnded: number | null;
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
  tipPieces: readonly { tool: ToolId; length: number }[];
  tipsLeft: readonly { tool: ToolId; length: number | null; image: boolean }[];
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
  },
  people: [],
  consent: {},
  called: null,
  tourniquetLimit: content.limits.tourniquetMinutes.value,
  theatreMinutes: null,
  workStarted: null,
  workEnded: null,
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
): readonly Tip[] => [...tips, { tool, entry, listed: null, presumed: true, guessed: !named }];

/** Tips once a tool's damage was described: it replaces what was presumed of that tool, or of one nobody had named. */
export function withDamage(tips: readonly Tip[], entry: EntryOf<'tool-damaged'>): readonly Tip[] {
  const same = tips.findIndex((tip) => tip.presumed && tip.tool === entry.tool);
  const presumed = same < 0 ? tips.findIndex((tip) => tip.presumed && tip.guessed) : same;
  const others = presumed < 0 ? tips : tips.toSpliced(presumed, 1);
  const described = { tool: entry.tool, entry: entry.n, listed: entry.length ?? null, presumed: false, guessed: false };
  return entry.tipMissing ? [...others, described] : others;
}

/** Holds on the case that an answer closes: for good, or, for shavings, until metal is cut again. */
export const isCaseAnswer = (hold: HoldId): hold is keyof CaseContext['answered'] =>
  hold === 'hard-metal' || hold === 'time' || hold === 'shavings';
