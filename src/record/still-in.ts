/** One page for the patient and the next surgeon: what is still in, why, and what it would take. */
import { items, over, text } from './blocks.ts';
import type { Content } from '../../content/types.ts';
import type { Block, CaseRecord, Page, ScrewFate, Section, StillIn } from './model.ts';
import { inSentence } from '../../content/names.ts';
import { localeOf, type Locale } from './locales/index.ts';
import { capital, sentence, some } from '../format/prose.ts';

/** What the page needs of a record besides its facts. */
interface StillInFacts {
  facts: CaseRecord['facts'];
  content: Content;
  locale: Locale;
}

/** The side as it is read, null when it was not recorded. */
const sideOf = ({ facts, locale }: StillInFacts): string | null =>
  facts.side === locale.notRecorded ? null : facts.side;

/** The side and bone in the words of a patient. */
const placeWords = (reading: StillInFacts): string =>
  reading.locale.stillIn.page.where(
    sideOf(reading),
    reading.facts.bone,
    reading.facts.side === reading.locale.sides.midline,
  );

function plainPiece({ content, locale }: StillInFacts, { screw, tool, part, kind, length, what }: StillIn): string {
  const { page } = locale.stillIn;
  if (part !== null) return capital(what);
  if (tool !== null) return page.toolPiece(content, tool, kind === 'unaccounted');
  if (kind === 'not-ended') return page.screwUnknown(screw ?? '');
  return kind === 'unaccounted' ? page.partOf(screw ?? '', length) : page.metalOf(screw ?? '');
}

function patientSection(reading: StillInFacts): Section {
  const { stillIn, told, screws, parts } = reading.facts;
  const { notRecorded, sections } = reading.locale;
  const { page } = reading.locale.stillIn;
  /** Somebody said of a piece at least that it stays, or was put in. */
  const isKnown = stillIn.some(({ kind }) => kind === 'left' || kind === 'put-in');
  const pieces = stillIn.flatMap((piece): Block[] => [
    over(plainPiece(reading, piece)),
    items(
      sentence(page.madeOf(piece.material)),
      sentence(sections.piece.size(piece.size)),
      sentence(page.place(placeWords(reading), piece.where === notRecorded ? null : piece.where)),
      sentence(page.why(piece.kind, piece.why, piece.decidedBy)),
    ),
  ]);
  return {
    id: 'patient',
    title: page.patient,
    blocks: [
      text(stillIn.length ? page.tells(placeWords(reading), isKnown) : screws.length ? page.noneIn : page.noneListed),
      ...pieces,
      ...parts.filter(({ end }) => end === null).map(({ name }) => text(page.partUnknown(name))),
      text(sentence(page.noted(told.length ? told.join('; ') : notRecorded))),
    ],
  };
}

const cite = ({ content, locale }: StillInFacts, id: string): string => {
  const source = content.sources.find((row) => row.id === id);
  return source ? `${source.what} (${locale.cite(source.cite)})` : '';
};

function scanSection(reading: StillInFacts): Section {
  const { facts, locale } = reading;
  const { page } = locale.stillIn;
  const tool = facts.stillIn.some((piece) => piece.tool !== null);
  return {
    id: 'scan',
    title: page.scan,
    blocks: [
      text(page.tellStaff),
      text(page.untested),
      ...(tool ? [text(page.toolSteel)] : []),
      items(...some(cite(reading, 'fragments-mri-fda-2008'), cite(reading, 'mri-relative-pmc3030159')).map(sentence)),
    ],
  };
}

const tried = ({ content, locale }: StillInFacts, fate: ScrewFate): string[] =>
  fate.attempts.map(({ move, outcome, screw, tool, endedBy, interrupted }) => {
    const { notEnded, unknownEnd, brokenOff } = locale.stillIn.page;
    const how = outcome
      ? locale.entries.outcome(content, screw, outcome, { move, tool })
      : endedBy === null
        ? notEnded
        : interrupted
          ? brokenOff
          : unknownEnd;
    return sentence(`${content.phrases.moves[move].label}: ${how}`);
  });

/** Moves made for the stage a screw was left in, with the tools they need: facts of the content, not advice. */
const neededNext = ({ content, locale }: StillInFacts, stage: ScrewFate['stage']): string[] =>
  content.moves
    .filter(({ id, fits }) => id !== 'leave-in' && (fits as string[]).includes(stage))
    .map((move) => {
      const { matchedDriver, otherDriver } = locale.stillIn.page;
      const needs = move.needs.map((group) =>
        'anyOf' in group
          ? locale.or(group.anyOf.map((tool) => locale.tool(content, tool)))
          : group.driver === 'matched'
            ? locale.or([matchedDriver, ...(group.or ?? []).map((tool) => locale.tool(content, tool))])
            : otherDriver,
      );
      return sentence(`${content.phrases.moves[move.id].label}: ${needs.join('; ')}`);
    });

function surgeonSection(reading: StillInFacts): Section {
  const { facts, content, locale } = reading;
  const { piece: words } = locale.sections;
  const { page } = locale.stillIn;
  const pieces = facts.stillIn.flatMap((piece): Block[] => {
    const fate = facts.screws.find(({ id }) => id === piece.screw);
    const lines = some(
      words.material(piece.material),
      words.size(piece.size),
      words.where(piece.where),
      piece.place !== null && words.place(piece.place),
      words.why(piece.why),
      words.image(piece.image),
      fate && page.screwWas(fate.description),
      fate &&
        bores(fate).length > 0 &&
        page.bores(locale.and(locale.tally(bores(fate).map(locale.bore))), areEntered(fate)),
      fate && fate.slips > 0 && page.slips(fate.slips),
    );
    const stage = stageOf(fate);
    const tries = fate ? tried(reading, fate) : [];
    const next = fate && stage ? neededNext(reading, stage) : [];
    return [
      over(capital(locale.clean(piece.what))),
      items(...lines),
      ...(fate ? [text(tries.length ? page.tried : page.notTried), ...(tries.length ? [items(...tries)] : [])] : []),
      ...(next.length && stage
        ? [text(page.next(inSentence(content, content.phrases.stages[stage].label))), items(...next)]
        : []),
    ];
  });
  return { id: 'surgeon', title: page.surgeon, blocks: pieces.length ? pieces : [text(page.nothing)] };
}

/** What is left of the bone, for whoever opens it next; none by the first ladder. */
function boneSections({ facts, locale }: StillInFacts): Section[] {
  const { whole, levels } = facts.boneTold;
  if (facts.aftercare === null || levels.length === 0) return [];
  const blocks = levels.flatMap(({ screw, lines }) => [over(capital(locale.screw(screw))), items(...lines)]);
  return [
    { id: 'bone', title: locale.sections.titles.bone, blocks: [...(whole.length ? [items(...whole)] : []), ...blocks] },
  ];
}

/** What the surgeon accepted for the time after; none by the first ladder. */
function aftercareSections({ facts, locale }: StillInFacts): Section[] {
  const { aftercare } = facts;
  if (aftercare === null) return [];
  const { page } = locale.stillIn;
  const block = aftercare.length ? items(...aftercare.map(sentence)) : text(page.noAftercare);
  return [{ id: 'aftercare', title: page.aftercare, blocks: [block] }];
}

const bores = ({ attempts }: ScrewFate) => attempts.flatMap((attempt) => attempt.bores);

/** Did somebody enter all of them, so that none is only what was to be expected? */
const areEntered = ({ attempts }: ScrewFate): boolean =>
  attempts.every((attempt) => attempt.bores.length === 0 || attempt.boresEntered);

/** The stage a screw stood in before it was left, or stands in now. */
function stageOf(fate: ScrewFate | undefined): ScrewFate['stage'] | null {
  if (!fate) return null;
  if (fate.stage !== 'left-in' && fate.stage !== 'out') return fate.stage;
  return fate.leftFrom;
}

/**
 * The page on what is still in, for the patient and the next surgeon. `pageText` and `pageMarkdown` print it.
 *
 * @param content the version that the case names
 * @example buildStillIn(record, content).title // 'What is still in: RIGHT tibia'
 */
export function buildStillIn({ facts }: CaseRecord, content: Content): Page {
  const locale = localeOf(content.phrases.language);
  const { page } = locale.stillIn;
  const { bone, date, status, label, headSeal } = facts;
  const reading = { facts, content, locale };
  const about: Section = {
    id: 'about',
    title: page.about,
    blocks: [
      text(
        sentence(
          page.aboutLine(
            label,
            date === null ? null : locale.day(date),
            page.statuses[status],
            headSeal === null ? null : headSeal.slice(0, 8),
          ),
        ),
      ),
      ...some(facts.signAgain).map(text),
      ...facts.openedAs.map((line) => text(sentence(line))),
      text(page.end(facts.contentVersion)),
    ],
  };
  return {
    title: page.title(sideOf(reading), bone, status === 'draft'),
    language: locale.language,
    sections: [
      patientSection(reading),
      ...aftercareSections(reading),
      ...(facts.stillIn.length ? [scanSection(reading), surgeonSection(reading)] : []),
      ...boneSections(reading),
      about,
    ],
  };
}
