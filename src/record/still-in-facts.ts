/** What is still in the body by the log, piece by piece. */
import { headStays, isOpen, screwAccount, staysAsPutIn, tipAccounts } from '../../machines/account.ts';
import { boneAt } from '../../machines/compute/bone-cost.ts';
import { fragmentPlace } from '../../machines/compute/fragment.ts';
import type { Entry, EntryOf } from '../../machines/entry.ts';
import { isWorking, type ScrewContext } from '../../machines/screw.context.ts';
import { rowOf } from '../../machines/trace.ts';
import type { MetalAccount } from '../../machines/view.types.ts';
import type { History } from './history.ts';
import type { RecordLog } from './log.ts';
import type { StillIn } from './model.ts';
import type { PieceKnown } from './papers/shapes.ts';
import { partsStillIn } from './part-facts.ts';

/** What stands where nobody decided anything. */
const nobody = ({ notRecorded }: RecordLog['locale']) => ({
  where: notRecorded,
  why: notRecorded,
  image: notRecorded,
  decidedBy: notRecorded,
  told: notRecorded,
});

/** What is known of a piece where nothing else is said of it. */
const barely: Omit<PieceKnown, 'form'> = {
  ...{ stage: null, diameter: null, how: null, isOpen: true, imageTaken: null, byStop: false },
};

/** Pieces that make up the length within so many mm leave no length to tell of; whether they are all of it is asked. */
const madeUpWithin = 2;

/** Something came off it, and nobody measured anything of it: how long the rest is, nobody knows. */
const isLengthLost = ({ breaks, destroyed, pieces, imagePieces }: ScrewContext): boolean =>
  breaks.length + destroyed.length > 0 && pieces.length + imagePieces.length === 0;

/** Nothing came off it, by any entry: it is as long as it was listed, if that was right. */
const isUntouched = ({ breaks, destroyed, pieces, imagePieces }: ScrewContext): boolean =>
  breaks.length + destroyed.length + pieces.length + imagePieces.length === 0;

/** Somebody said how it ended, at the table or after closing. */
const isEnded = ({ stage, foundAfter }: ScrewContext): boolean => !isWorking(stage) || foundAfter !== null;

/** How much of a screw is in by the account, mm; null where the account cannot say. */
function lengthIn(context: ScrewContext, account: MetalAccount): number | null {
  if (account.closes === 'assumed') return account.listed;
  const rest = account.closes === 'difference' ? account.left : account.unaccounted;
  return isLengthLost(context) || rest === null || rest <= madeUpWithin ? null : rest;
}

/** Where a broken screw is reckoned to lie, from lengths alone; null when a figure is missing. */
function placeOf(log: RecordLog, context: ScrewContext): string | null {
  if (isLengthLost(context)) return null;
  const bone = boneAt(log.content, log.folded.case.context.room, context.id);
  const place = fragmentPlace({
    length: context.facts.length,
    nearSurface: context.found.nearSurface ?? null,
    recovered: context.pieces.reduce((sum, piece) => sum + piece, 0),
    outer: bone?.outer ?? null,
    cortex: bone?.cortex ?? null,
  });
  if (!place || place.left <= 0) return null;
  // An estimate says nothing against what was seen.
  if (context.found.tipProud === false && place.proudBeyond > 0) return null;
  const { places, place: told } = log.locale.stillIn.facts;
  const parts = [place.proudNear, place.inNearWall, place.inCanal, place.inFarWall, place.proudBeyond].flatMap(
    (length, index) => (length > 0.005 ? [`${log.locale.mm(length)} ${places[index]}`] : []),
  );
  return parts.length && bone ? told(parts, bone.source) : null;
}

/** Did somebody measure what stays? Format 1 did not ask: what it gives of a screw was found by difference. */
const isMeasured = ({ folded }: RecordLog, { n, length, lengthHow, screw }: EntryOf<'left-in'>): boolean =>
  length !== null && (lengthHow === 'measured' || (screw === undefined && rowOf(folded.trace, n)?.format === 1));

/** Where the length of what stays comes from, as its words say it. */
function originOf(log: RecordLog, entry: EntryOf<'left-in'>): 'measured' | 'image' | 'account' {
  if (isMeasured(log, entry)) return 'measured';
  return entry.lengthHow === 'image' ? 'image' : 'account';
}

/** Who decided; format 1 had a constant there, which nobody had said. */
function decidedBy({ folded, locale }: RecordLog, { n, decidedBy: who }: EntryOf<'left-in'>): string {
  if (rowOf(folded.trace, n)?.format === 1) return locale.notAsked;
  return locale.said(who);
}

/** Was all of the screw that was left in seen to be out since? */
function isOutSince({ folded }: RecordLog, { screw }: EntryOf<'left-in'>): boolean {
  const context = screw === undefined ? undefined : folded.screws.get(screw)?.context;
  return context?.foundAfter ? context.foundAfter === 'out' : context?.stage === 'out';
}

function leftPiece(log: RecordLog, history: History, entry: EntryOf<'left-in'>): StillIn {
  const { said, yesNo, materials, stillIn } = log.locale;
  const words = stillIn.facts;
  const common = {
    kind: 'left' as const,
    entry: entry.n,
    at: log.at(entry),
    measured: isMeasured(log, entry),
    where: said(entry.where),
    why: said(entry.reason),
    image: yesNo(entry.imageTaken),
    decidedBy: decidedBy(log, entry),
    part: null,
    told: said(entry.toldTo),
  };
  if (entry.screw === undefined) {
    const tool = entry.tool ?? null;
    return {
      ...common,
      screw: null,
      tool,
      length: entry.length,
      what: words.toolPiece(log.content, tool),
      material: words.toolMetal,
      size: entry.length === null ? words.notMeasured : words.long(entry.length, originOf(log, entry)),
      place: null,
      known: {
        ...barely,
        ...{ form: 'tool', isOpen: false, how: entry.length === null ? null : originOf(log, entry) },
        imageTaken: entry.imageTaken ?? null,
      },
    };
  }
  const context = log.folded.screws.get(entry.screw)?.context as ScrewContext;
  const account = screwAccount(log.folded, context);
  // One that stays whole is as long as it was listed; of one that broke only the difference is known, if that.
  const whole = account.closes === 'assumed' ? account.listed : null;
  const rest = account.left === null || account.left <= madeUpWithin ? null : account.left;
  const length = entry.length ?? rest ?? whole;
  const stage = history.leftFrom.get(entry.screw) ?? 'seated';
  const isMadeUp = account.closes === 'measured' && entry.length === null;
  return {
    ...common,
    screw: entry.screw,
    tool: null,
    length,
    what: words.left(entry.screw, stage),
    material: materials[context.facts.material],
    size: isMadeUp
      ? words.madeUp(context.facts.diameter)
      : words.size(context.facts.diameter, length, entry.length === null ? 'account' : originOf(log, entry)),
    place: stage === 'seated' || stage === 'recess-stripped' ? null : placeOf(log, context),
    known: {
      ...{ form: isMadeUp ? 'made-up' : 'screw', stage, diameter: context.facts.diameter, byStop: false },
      how:
        length === null
          ? null
          : entry.length !== null
            ? originOf(log, entry)
            : account.closes === 'assumed'
              ? 'listed'
              : 'account',
      isOpen: isOpen(account),
      imageTaken: entry.imageTaken ?? null,
    },
  };
}

/** Why a screw stays that was in when the work was stopped. */
export function stopWords({ folded, locale }: RecordLog): string | null {
  const { stopped } = folded.case.context;
  if (stopped === null) return null;
  return locale.stillIn.facts.byStop(stopped.reason === undefined ? null : locale.entries.stops[stopped.reason]);
}

function openScrew(log: RecordLog, context: ScrewContext): StillIn {
  const account = log.view.screws[context.id]?.metal;
  const why = stopWords(log);
  if (why !== null && isWorking(context.stage) && account) return stoppedScrew(log, context, why, account);
  const ended = isEnded(context);
  const open = account?.unaccounted ?? null;
  const length = ended || !account ? open : lengthIn(context, account);
  const words = log.locale.stillIn.facts;
  const { id, stage, facts } = context;
  return {
    ...nobody(log.locale),
    kind: ended ? 'unaccounted' : 'not-ended',
    screw: id,
    tool: null,
    part: null,
    entry: null,
    at: null,
    length,
    measured: false,
    what: ended ? words.unbalanced(id, length) : words.notEnded(id, stage),
    material: log.locale.materials[facts.material],
    size:
      ended && length !== null
        ? words.missingSize(facts.diameter, length)
        : words.size(facts.diameter, length, 'account'),
    place: stage === 'head-sheared' || stage === 'fragment-retained' ? placeOf(log, context) : null,
    known: {
      ...barely,
      ...{ form: ended ? 'short' : 'not-ended', stage, diameter: facts.diameter },
      how: length === null ? null : isUntouched(context) ? 'listed' : 'account',
    },
  };
}

/** A screw that was in when the work was stopped: it stays, whole as long as it was listed. */
function stoppedScrew(log: RecordLog, context: ScrewContext, why: string, account: MetalAccount): StillIn {
  const { id, stage, facts } = context;
  const isWhole = account.closes === 'assumed';
  const length = isWhole ? facts.length : lengthIn(context, account);
  const { n } = log.folded.case.context.stopped as { n: number };
  const words = log.locale.stillIn.facts;
  return {
    ...nobody(log.locale),
    ...{ kind: 'left', screw: id, tool: null, part: null, entry: n },
    at: log.at(log.entries[n - 1] as Entry),
    length,
    measured: false,
    what: words.stays(id, stage),
    material: log.locale.materials[facts.material],
    size: isWhole ? words.asListed(facts.diameter, length) : words.size(facts.diameter, length, 'account'),
    why,
    place: stage === 'head-sheared' || stage === 'fragment-retained' ? placeOf(log, context) : null,
    known: {
      ...barely,
      ...{ form: 'screw', stage, diameter: facts.diameter, isOpen: isOpen(account), byStop: true },
      how: length === null ? null : isWhole ? 'listed' : 'account',
    },
  };
}

/** The head of a screw that is out, in a plate or part that stays: it stays as long and for the reason that that does. */
function headIn(log: RecordLog, context: ScrewContext, parts: readonly StillIn[]): StillIn[] {
  const account = screwAccount(log.folded, context);
  if (context.stage !== 'out' || isOpen(account) || !headStays(log.folded, context)) return [];
  const words = log.locale.stillIn.facts;
  const id = context.head?.part ?? 'plate';
  const holder = parts.find(({ part }) => part === id);
  const length = account.left === null || account.left <= 0 ? null : account.left;
  return [
    {
      ...nobody(log.locale),
      ...{ at: null, entry: null, ...holder },
      ...{ kind: 'left', screw: context.id, tool: null, part: null, length, measured: false, place: null },
      what: words.headIn(context.id, log.locale.entries.partName(id)),
      material: log.locale.materials[context.facts.material],
      size: length === null ? words.notMeasured : words.byAccount(length),
      known: {
        ...(holder?.known ?? barely),
        ...{ form: 'head', how: length === null ? null : 'account', diameter: null, isOpen: false },
      },
    },
  ];
}

/** Tools of which a broken tip is not accounted for. */
export const openTips = ({ folded }: RecordLog) => [
  ...new Set(
    tipAccounts(folded)
      .filter(isOpen)
      .map(({ tool }) => tool),
  ),
];

/** Left on purpose first, in order of time; then what nobody decided on; then what does not add up. */
export function stillInOf(log: RecordLog, history: History): StillIn[] {
  const contexts = [...log.folded.screws.values()].map(({ context }) => context);
  const words = log.locale.stillIn.facts;
  const working = contexts.filter(
    // One that was put in today stands among the parts, one said to stay after closing among those.
    (context) => isWorking(context.stage) && context.foundAfter === null && !staysAsPutIn(log.folded, context),
  );
  const unbalanced = contexts.filter((context) => isEnded(context) && isOpen(screwAccount(log.folded, context)));
  const tips = openTips(log).map((tool): StillIn => {
    const account = log.view.toolTips.filter((tip) => tip.tool === tool && isOpen(tip));
    const length = account.some(({ unaccounted }) => unaccounted === null)
      ? null
      : account.reduce((sum, { unaccounted }) => sum + (unaccounted ?? 0), 0);
    return {
      ...nobody(log.locale),
      kind: 'unaccounted',
      screw: null,
      tool,
      part: null,
      entry: account[0]?.entry ?? null,
      at: null,
      length,
      measured: false,
      what: words.tip(log.content, tool),
      material: words.toolMetal,
      size: words.tipSize(length),
      place: null,
      known: { ...barely, form: 'tip' },
    };
  });
  const parts = partsStillIn(log, stopWords(log));
  return [
    ...log.of('left-in').flatMap((entry) => (isOutSince(log, entry) ? [] : [leftPiece(log, history, entry)])),
    ...working.map((context) => openScrew(log, context)),
    ...unbalanced.map((context) => openScrew(log, context)),
    ...tips,
    ...parts,
    ...contexts.flatMap((context) => headIn(log, context, parts)),
  ];
}
