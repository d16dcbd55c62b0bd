/** Sections on the screws and the account of the metal. */
import { items, over, text } from './blocks.ts';
import { headStays, screwAccount } from '../../machines/account.ts';
import type { EntryOf } from '../../machines/entry.ts';
import { isWorking, type ScrewContext } from '../../machines/screw.context.ts';
import { rowOf } from '../../machines/trace.ts';
import { citeOf } from './items.ts';
import type { RecordLog } from './log.ts';
import {
  notRecorded,
  recorded,
  type Block,
  type RecordFacts,
  type ScrewFate,
  type Section,
  type StillIn,
} from './model.ts';
import { inSentence } from '../../content/names.ts';
import { capital, heading, sentence, some } from '../format/prose.ts';
import { partsOf } from './part-facts.ts';

/** One still-in piece as labelled lines. */
function pieceLines({ locale }: RecordLog, piece: StillIn): string[] {
  const words = locale.sections.piece;
  return some(
    words.material(piece.material),
    words.size(piece.size),
    words.where(piece.where),
    piece.place !== null && words.place(piece.place),
    words.whyStays(piece.why),
    words.image(piece.image),
    words.decidedBy(piece.decidedBy),
    words.told(piece.told),
  );
}

export function staysInSection(log: RecordLog, { stillIn: pieces, parts }: RecordFacts): Section {
  const { titles, staysIn } = log.locale.sections;
  const blocks: Block[] = pieces.flatMap((piece) => [
    over(staysIn.entry(piece.what, piece.entry)),
    items(...pieceLines(log, piece)),
  ]);
  if (pieces.length) blocks.push(text(staysIn.scan));
  else blocks.push(text(log.folded.screws.size ? staysIn.none : staysIn.noneListed));
  for (const part of parts) {
    const words = log.locale.sections.parts.became(part);
    blocks.push({
      kind: 'item',
      id: `part-${part.id}`,
      label: capital(part.name),
      value: words === null ? notRecorded : recorded(words),
    });
  }
  return { id: 'stays-in', title: titles.staysIn, blocks };
}

/** A move by its label, with what was said of one that no release lists. */
function whatOf({ content, entries, locale }: RecordLog, { move, n }: ScrewFate['attempts'][number]): string {
  const { label } = content.phrases.moves[move];
  const entry = entries[n - 1];
  return entry?.type === 'move-started' && entry.what !== undefined ? `${label} (${locale.clean(entry.what)})` : label;
}

/** Why what came out was short, where somebody said so before the next move. */
function shortWords(log: RecordLog, { id, attempts }: ScrewFate, { endedBy, outcome }: ScrewFate['attempts'][number]) {
  if (outcome !== 'out' || endedBy === null) return '';
  const next = Math.min(...attempts.map(({ n }) => n).filter((n) => n > endedBy), Infinity);
  const answer = log.of('length-answered').findLast(({ screw, n }) => screw === id && n > endedBy && n < next);
  return answer ? `; ${log.locale.sections.screws.short[answer.answer]}` : '';
}

export function screwsSection(log: RecordLog, fates: readonly ScrewFate[]): Section {
  const { phrases } = log.content;
  const { titles, screws, noScrew } = log.locale.sections;
  const stageWord = (stage: ScrewFate['stage']) => inSentence(log.content, phrases.stages[stage].label);
  const blocks = fates.flatMap((fate): Block[] => {
    const tries = fate.attempts.map((attempt) => {
      const how = attempt.outcome
        ? log.locale.entries.outcome(log.content, fate.id, attempt.outcome, attempt)
        : attempt.endedBy === null
          ? screws.notEnded
          : attempt.interrupted
            ? screws.interrupted(attempt.endedBy)
            : screws.endedBy(attempt.endedBy);
      const took = attempt.to === null ? '' : screws.took(log.when(attempt.to), attempt.lasted);
      const fell = attempt.stageAfter === attempt.stageBefore ? '' : screws.then(stageWord(attempt.stageAfter));
      const short = shortWords(log, fate, attempt);
      const told = log.isAfterClosing(attempt.n) ? screws.toldAfter(attempt.n) : '';
      return `${log.when(attempt.from)} ${whatOf(log, attempt)}${took}: ${how}${short}${fell}${told}`;
    });
    return [
      over(heading(screws.fate(fate.id, stageWord(fate.stage)))),
      text(sentence(some(fate.description, fate.slips > 0 && screws.slips(fate.slips)).join('; '))),
      ...(fate.foundAfter ? [text(sentence(screws.after[fate.foundAfter.what](fate.foundAfter.n)))] : []),
      tries.length ? items(...tries) : text(screws.noMove),
    ];
  });
  return { id: 'screws', title: titles.screws, blocks: blocks.length ? blocks : [text(noScrew)] };
}

/** What an account rests on, for the words about how it closes. */
export const plainly = {
  ...{ isIn: false, complete: false, whole: false, stopped: false, asked: false, lost: false, wrong: false },
  ...{ inPlate: false, headStays: false, image: false, besides: false },
};

export const howClosed = (log: RecordLog, screw: ScrewContext) => ({
  isIn: isWorking(screw.stage) && screw.lengthAsked === null && screw.foundAfter === null,
  complete: screw.complete,
  whole: screw.whole,
  stopped: log.folded.case.context.stopped !== null && isWorking(screw.stage),
  asked: screw.lengthAsked !== null,
  lost: screw.restLost,
  wrong: screw.listedWrong,
  inPlate: screw.head?.place === 'in-plate',
  headStays: headStays(log.folded, screw),
  image: screw.imagePieces.length > 0,
  // A screw that was seen whole leaves no piece: what was told as one of it is of something else, or it was not whole.
  besides: screw.whole && screw.pieces.length + screw.imagePieces.length > 1,
});

export const isComplete = ({ folded }: RecordLog, entry: number): boolean => {
  const { tips, tipPieces: pieces } = folded.case.context;
  const tip = tips.find((one) => one.entry === entry);
  return pieces.some(
    ({ tip: of, tool, complete }) =>
      complete && tip !== undefined && (of === null ? tool === tip.tool : tip.told.includes(of)),
  );
};

/** How much of a length a head that is gone may explain; nothing where the content does not say. */
const headsOf = ({ content, locale }: RecordLog): string[] =>
  content.headHeights.slice(0, 1).map(({ source }) => {
    const row = content.sources.find(({ id }) => id === source);
    return locale.sections.metal.heads(row?.what ?? source, row === undefined ? '' : locale.cite(row.cite));
  });

/** Who decided to end the count with something missing; format 1 did not ask. */
export const countDecidedBy = (
  { folded, locale }: RecordLog,
  { n, discrepancy, decidedBy }: EntryOf<'count-answered'>,
): string | null => {
  if (discrepancy === undefined && decidedBy === undefined) return null;
  return rowOf(folded.trace, n)?.format === 1 ? locale.notAsked : locale.said(decidedBy);
};

export function metalSection(log: RecordLog): Section {
  const { titles, metal, noScrew } = log.locale.sections;
  const tolerance = log.content.limits.pieceTolerance;
  const screws = [...log.folded.screws.values()].map(({ context }) => {
    const account = screwAccount(log.folded, context);
    return metal.screw(context.id, account, metal.closes(account, howClosed(log, context)));
  });
  const parts = partsOf(log).map((part) => log.locale.sections.parts.account(part));
  const tips = log.view.toolTips.map((tip) =>
    metal.tip(
      log.content,
      tip.tool,
      tip.entry,
      tip,
      metal.closes(tip, { ...plainly, complete: isComplete(log, tip.entry) }),
    ),
  );
  const counts = log
    .of('count-answered')
    .map((entry) => sentence(metal.count(log.time(entry), entry, countDecidedBy(log, entry))));
  return {
    id: 'metal',
    title: titles.metal,
    blocks: [
      screws.length ? items(...screws) : text(noScrew),
      tips.length ? items(...tips) : text(metal.noTip),
      ...(parts.length ? [items(...parts)] : []),
      text(metal.tolerance(tolerance.value, citeOf(log, tolerance.source))),
      ...headsOf(log).map(text),
      { kind: 'item', id: 'counts', label: metal.counts, value: recorded(...counts) },
    ],
  };
}
