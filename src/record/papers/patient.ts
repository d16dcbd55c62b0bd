/** The page for the patient: what is still in, why, what it means, whom to call. No entry says more than it says. */
import { patientCautions } from '../../../content/patient-cautions.ts';
import type { Content } from '../../../content/types.ts';
import { capital, sentence, some } from '../../format/prose.ts';
import { items, over, text } from '../blocks.ts';
import { isSaidToStay, type Block, type CaseRecord, type Page, type Section, type StillIn } from '../model.ts';
import type { PartFate } from '../part-fate.ts';
import { sideOf, type Locale, type Reading } from './reading.ts';

/** Metal that may be in or out. */
const mayBe = (piece: StillIn): boolean => !isSaidToStay(piece);

function madeOf({ locale }: Reading, { known, tool, material }: StillIn): string {
  const { patient } = locale.papers;
  if (tool !== null || known.form === 'tip' || known.form === 'tool') return patient.madeOfTool;
  if (material === locale.notRecorded) return patient.madeOfSilent;
  return material === locale.materials.unknown ? patient.madeOfUnknown : patient.madeOf(material);
}

/** Its size: of an open account no length follows but what was measured, seen, or listed of one that never broke. */
function sizeOf({ locale }: Reading, { known, length, screw }: StillIn): string {
  const isKnown = !known.isOpen || (known.how !== null && known.how !== 'account');
  const isScrew = screw !== null && known.form !== 'head';
  return locale.papers.patient.size(known.diameter, isKnown ? length : null, isKnown ? known.how : null, isScrew);
}

/** What the X-ray at the count showed; of metal that may be in it is the only thing that says more. */
function countLine({ facts, locale }: Reading): string {
  const { clearBesides, counted, noCount } = locale.papers.patient;
  const { image } = facts.papers;
  if (image === null) return noCount;
  return image === 'clear' && facts.stillIn.some((piece) => !mayBe(piece)) ? clearBesides : counted[image];
}

/** What is told of a piece besides its name. */
function linesOf(reading: Reading, piece: StillIn): string[] {
  const { locale } = reading;
  const { patient } = locale.papers;
  const { known, where, why } = piece;
  const silent = (value: string) => value === locale.notRecorded;
  const size = known.form === 'made-up' ? patient.madeUp : sizeOf(reading, piece);
  // Few lines, so that a usual case is one sheet.
  const line = (...parts: Parameters<typeof some>) => some(...parts).join(' ');
  if (mayBe(piece))
    return some(
      known.form !== 'not-ended' && patient.mayBe,
      line(madeOf(reading, piece), known.form !== 'short' && size),
    );
  return some(
    line(madeOf(reading, piece), size),
    line(
      silent(where) ? patient.whereSilent : patient.where(where),
      known.form !== 'put-in' && (silent(why) ? patient.whySilent : patient.why(why)),
    ),
    known.imageTaken === null ? patient.imageSilent : patient.image[known.imageTaken ? 'yes' : 'no'],
  );
}

/** A part by its name, without the number of an entry. */
function partName({ locale }: Reading, { id, name, what }: PartFate): string {
  const foil = /^foil-(.+)-\d+$/.exec(id)?.[1];
  if (foil !== undefined) return locale.papers.patient.foil(foil);
  // Plate and nail have no other name than what they are.
  return id === 'plate' || id === 'nail' ? name : `${name} (${what})`;
}

/** A part, a tool or a head by its name. */
function nameOf(reading: Reading, { known, tool, part, what }: StillIn): string {
  const { facts, content, locale } = reading;
  const { patient } = locale.papers;
  if (known.form === 'tip' && tool !== null) return patient.tip(locale.tool(content, tool));
  if (known.form === 'tool') return patient.toolPiece(tool === null ? null : locale.tool(content, tool));
  const fate = facts.parts.find(({ id }) => id === part);
  return fate ? partName(reading, fate) : what;
}

/** Of a screw that was said to stay the rest that nobody measured is no second piece: its size is not known. */
const isToldAlready = (pieces: readonly StillIn[], { known, screw }: StillIn): boolean =>
  known.form === 'short' &&
  pieces.some((one) => one.screw === screw && (one.known.form === 'screw' || one.known.form === 'made-up'));

/** Pieces of which the same is told stand together. */
function pieceBlocks(reading: Reading, pieces: readonly StillIn[]): Block[] {
  const groups = new Map<string, { piece: StillIn; ids: string[]; lines: string[] }>();
  pieces.forEach((piece, i) => {
    if (isToldAlready(pieces, piece)) return;
    const lines = linesOf(reading, piece);
    const { form, stage } = piece.known;
    const isAlone = piece.screw === null || form === 'head';
    const key = JSON.stringify([form, stage === 'recess-stripped' ? 'seated' : stage, lines, isAlone ? i : null]);
    const group = groups.get(key) ?? { piece, ids: [], lines };
    if (piece.screw !== null) group.ids.push(piece.screw);
    groups.set(key, group);
  });
  const { patient } = reading.locale.papers;
  return [...groups.values()].flatMap(({ piece, ids, lines }): Block[] => [
    over(capital(patient.piece(piece.known.form, ids, nameOf(reading, piece), piece.known.stage))),
    items(...lines.map(sentence)),
  ]);
}

/** What is said where no piece is listed as in: that all is out only where it is known. */
function noPiece({ facts, locale }: Reading): string {
  const { patient } = locale.papers;
  if (facts.papers.isAllOut) return patient.allOut;
  return facts.screws.length + facts.parts.length ? patient.notSure : patient.noneListed;
}

/** How the count ended, where something is not known: what was said to be missing, and what an X-ray showed. */
function countBlocks(reading: Reading): Block[] {
  const { facts, locale } = reading;
  const { patient } = locale.papers;
  const { discrepancy } = facts.papers;
  return [
    over(patient.count),
    items(...some(discrepancy !== null && patient.discrepancy(discrepancy), countLine(reading))),
  ];
}

/** Of some metal nobody knows whether it is in or out. */
const isUnsure = ({ facts: { stillIn, parts, papers } }: Reading): boolean =>
  stillIn.some(mayBe) || parts.some(({ end }) => end === null) || papers.discrepancy !== null;

function staysSection(reading: Reading): Section {
  const { facts, locale } = reading;
  const { patient } = locale.papers;
  const { stillIn, papers, parts } = facts;
  const place = patient.place(sideOf(reading), facts.bone, papers.bone, facts.side === locale.sides.midline);
  const open = parts.filter(({ end }) => end === null).map((part) => partName(reading, part));
  const isKnown = stillIn.some((piece) => !mayBe(piece));
  return {
    id: 'patient',
    title: patient.titles.stays,
    blocks: [
      ...(stillIn.length
        ? [text(patient.tells(place, isKnown, stillIn.some(mayBe) || open.length > 0)), text(patient.keep)]
        : [text(noPiece(reading))]),
      ...pieceBlocks(reading, stillIn),
      ...(open.length ? [over(patient.partUnknown(open)), items(patient.mayBe)] : []),
      ...(papers.contradicted.length ? [text(patient.contradicted(papers.contradicted))] : []),
      ...(isUnsure(reading) ? countBlocks(reading) : []),
    ],
  };
}

function toldBlocks({ facts, locale }: Reading): Block[] {
  const { patient } = locale.papers;
  const lines = facts.papers.tellings.map(({ state, by, points }) =>
    (state === 'told' ? patient.told : patient.toBeTold)(
      by,
      points.map((point) => patient.points[point]),
    ),
  );
  return lines.length ? [items(...lines)] : [text(patient.toldSilent)];
}

/** What the surgeon accepted for the time after, in plain words; words of the surgeon's own as they are. */
function afterSection({ facts, locale }: Reading): Section[] {
  if (facts.aftercare === null) return [];
  const { patient } = locale.papers;
  const lines = facts.papers.aftercare.map(({ line, text: own, state }) => {
    const plain =
      state === 'accepted' && line !== null && Object.hasOwn(patient.after, line) ? patient.after[line] : null;
    return plain ?? sentence(own === null ? locale.sections.aftercare.unknown(line ?? '') : locale.clean(own));
  });
  return [
    { id: 'aftercare', title: patient.titles.after, blocks: [lines.length ? items(...lines) : text(patient.noAfter)] },
  ];
}

const cautionsOf = ({ locale }: Reading, section: (typeof patientCautions)[number]['section']): string[] =>
  patientCautions.filter((one) => one.section === section).map(({ id }) => locale.papers.patient.cautions[id]);

/**
 * The page for the patient: at a reading age of 11 in whole, one sheet. Its cautions are usual ones and say so; names,
 * numbers and dates for calling are lines that the team fills in by hand.
 *
 * @param content the version that the case names
 * @example patientPage(record, content, locale).title // 'What is still in: RIGHT tibia'
 */
export function patientPage({ facts }: CaseRecord, content: Content, locale: Locale): Page {
  const reading = { facts, content, locale };
  const { patient } = locale.papers;
  const { page } = locale.stillIn;
  const { bone, date, status, label, headSeal, stillIn, papers } = facts;
  const mayHaveMetal = stillIn.length > 0 || !papers.isAllOut;
  const about = [
    ...patient.about(
      label,
      date === null ? null : locale.day(date),
      patient.statuses[status],
      headSeal?.slice(0, 8) ?? null,
    ),
    ...facts.openedAs.map(sentence),
    ...some(facts.signAgain),
    ...some(!facts.isClosed && facts.ended === null && patient.notDone),
    patient.end(facts.contentVersion),
  ];
  return {
    title: page.title(sideOf(reading), bone, status === 'draft', isUnsure(reading)),
    language: locale.language,
    sections: [
      staysSection(reading),
      ...(stillIn.length
        ? [
            {
              id: 'means',
              title: patient.titles.means,
              blocks: [text(patient.usual), items(...cautionsOf(reading, 'means'))],
            },
          ]
        : []),
      ...(mayHaveMetal
        ? [{ id: 'scan', title: patient.titles.scan, blocks: [items(...cautionsOf(reading, 'scan'))] }]
        : []),
      ...afterSection(reading),
      {
        id: 'call',
        title: patient.titles.call,
        blocks: [
          ...(stillIn.length ? [] : [text(patient.usual)]),
          ...cautionsOf(reading, 'call').map(text),
          text(patient.byHand),
          ...patient.fill.map((label): Block => ({ kind: 'fill', text: label })),
        ],
      },
      { id: 'told', title: patient.titles.told, blocks: toldBlocks(reading) },
      { id: 'about', title: patient.titles.about, blocks: [text(about.join(' '))] },
    ],
  };
}
