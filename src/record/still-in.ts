/** One page for the patient and the next surgeon: what is still in, why, and what it would take. */
import type { Content } from '../../content/types.ts';
import type { Block, CaseRecord, Page, ScrewFate, Section, StillIn } from './model.ts';
import { outcomeWords, screwName } from './narrative-moves.ts';
import { bore, clean, count, list, sentence, some, tally, toolLabel } from './words.ts';

const text = (line: string): Block => ({ kind: 'text', text: line });
const items = (...lines: string[]): Block => ({ kind: 'list', items: lines });
const heading = (line: string): Block => ({ kind: 'heading', text: line });
const capital = (line: string) => line.charAt(0).toUpperCase() + line.slice(1);

/** The side and bone in the words of a patient. */
const placeWords = ({ side, bone }: CaseRecord['facts']): string => {
  if (side === 'not recorded') return 'in the bone (which bone was not recorded)';
  return side === 'MIDLINE' ? `in the ${bone}, in the MIDLINE` : `in the ${side} ${bone}`;
};

const plainPiece = (content: Content, { screw, tool, kind }: StillIn): string => {
  if (tool !== null)
    return `A piece of a tool (${toolLabel(content, tool)})${kind === 'unaccounted' ? ' that was not found' : ''}`;
  if (kind === 'unaccounted') return `Part of ${screwName(screw ?? '')}: the lengths do not add up`;
  return `Metal of ${screwName(screw ?? '')}`;
};

const plainWhy: Record<StillIn['kind'], (piece: StillIn) => string> = {
  left: ({ why, decidedBy }) => `It stayed because: ${why}. Decided by: ${decidedBy}`,
  'not-ended': () => 'Why it is still in was not recorded',
  unaccounted: () => 'It may still be in the body, or it may have gone with the swabs or the suction: not known',
};

function patientSection(record: CaseRecord, content: Content): Section {
  const { stillIn, told } = record.facts;
  const pieces = stillIn.flatMap((piece): Block[] => [
    heading(plainPiece(content, piece)),
    items(
      sentence(`Made of: ${piece.material}`),
      sentence(`Size: ${piece.size}`),
      sentence(
        `Place: ${piece.where === 'not recorded' ? placeWords(record.facts) : `${placeWords(record.facts)}; ${piece.where}`}`,
      ),
      sentence(plainWhy[piece.kind](piece)),
    ),
  ]);
  const none = record.facts.screws.length
    ? 'By this record, no metal of the screws that were listed is still in.'
    : 'This record lists no metal. What is still in was not recorded.';
  return {
    id: 'patient',
    title: 'For the patient',
    blocks: [
      text(
        stillIn.length
          ? `This page tells you about metal that is still ${placeWords(record.facts)}. Keep it. Show it to any doctor who treats you.`
          : none,
      ),
      ...pieces,
      ...(record.facts.holder?.off === null
        ? [text(`Whether the ${record.facts.holder.what} came out was not recorded.`)]
        : []),
      text(sentence(`Noted about telling you: ${told.length ? told.join('; ') : 'not recorded'}`)),
    ],
  };
}

const cite = (content: Content, id: string): string => {
  const source = content.sources.find((row) => row.id === id);
  return source ? `${source.what} (${source.cite})` : '';
};

function scanSection({ facts }: CaseRecord, content: Content): Section {
  const tool = facts.stillIn.some((piece) => piece.tool !== null);
  return {
    id: 'scan',
    title: 'Before an MRI scan',
    blocks: [
      text('Tell the staff about this metal before any MRI scan. Give them this page.'),
      text('Nobody has tested here how this metal acts in a scanner: MR status not assessed.'),
      ...(tool
        ? [
            text(
              'A piece of a tool is not made like an implant. Tool steel may be pulled by the magnet (from memory, not from a source).',
            ),
          ]
        : []),
      items(...some(cite(content, 'fragments-mri-fda-2008'), cite(content, 'mri-relative-pmc3030159')).map(sentence)),
    ],
  };
}

function tried(content: Content, fate: ScrewFate): string[] {
  return fate.attempts.map(({ move, outcome, screw, tool, endedBy }) => {
    const how = outcome
      ? outcomeWords(content, screw, outcome, { move, tool })
      : endedBy === null
        ? 'not ended in the log'
        : 'how it ended was not recorded';
    return sentence(`${content.phrases.moves[move].label}: ${how}`);
  });
}

/** Moves made for the stage a screw was left in, with the tools they need: facts of the content, not advice. */
function neededNext(content: Content, stage: ScrewFate['stage']): string[] {
  return content.moves
    .filter(({ id, fits }) => id !== 'leave-in' && (fits as string[]).includes(stage))
    .map((move) => {
      const needs = move.needs.map((group) =>
        'anyOf' in group
          ? list(
              group.anyOf.map((tool) => toolLabel(content, tool)),
              'or',
            )
          : group.driver === 'matched'
            ? 'matched driver'
            : 'larger or other driver',
      );
      return sentence(`${content.phrases.moves[move.id].label}: ${needs.join('; ')}`);
    });
}

function surgeonSection(record: CaseRecord, content: Content): Section {
  const { facts } = record;
  const pieces = facts.stillIn.flatMap((piece): Block[] => {
    const fate = facts.screws.find(({ id }) => id === piece.screw);
    const lines = some(
      `Material: ${piece.material}`,
      `Size: ${piece.size}`,
      `Where: ${piece.where}`,
      piece.place !== null && `Lies by estimate: ${piece.place}`,
      `Why: ${piece.why}`,
      `Image: ${piece.image}`,
      fate && `The screw was: ${fate.description}`,
      fate && bores(fate).length > 0 && `Bores made beside its own hole: ${list(tally(bores(fate).map(bore)))}`,
      fate && fate.slips > 0 && `${count(fate.slips, 'slip')} in the recess`,
    );
    const stage = stageOf(fate);
    const tries = fate ? tried(content, fate) : [];
    const next = fate && stage ? neededNext(content, stage) : [];
    return [
      heading(capital(clean(piece.what))),
      items(...lines),
      ...(fate
        ? [
            text(tries.length ? 'What was tried, in order:' : 'What was tried: no move was entered.'),
            ...(tries.length ? [items(...tries)] : []),
          ]
        : []),
      ...(next.length && stage
        ? [
            text(
              `Moves made for this state (${content.phrases.stages[stage].label.toLowerCase()}) and what they need:`,
            ),
            items(...next),
          ]
        : []),
    ];
  });
  return {
    id: 'surgeon',
    title: 'For the next surgeon',
    blocks: pieces.length ? pieces : [text('Nothing is entered as still in.')],
  };
}

const bores = ({ attempts }: ScrewFate) => attempts.flatMap((attempt) => attempt.bores);

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
export function buildStillIn(record: CaseRecord, content: Content): Page {
  const { side, bone, date, status, label, headSeal } = record.facts;
  const sections: Section[] = [patientSection(record, content)];
  if (record.facts.stillIn.length) sections.push(scanSection(record, content), surgeonSection(record, content));
  sections.push({
    id: 'about',
    title: 'About this page',
    blocks: [
      text(
        sentence(
          some(
            `Case: ${label}`,
            `operation on ${date ?? 'a date not recorded'}`,
            status === 'draft' ? 'DRAFT, not signed' : status,
            headSeal !== null && `last seal ${headSeal.slice(0, 8)}`,
          ).join('; '),
        ),
      ),
      text(
        `This page tells what was noted in theatre. It gives no advice. Not a certified medical device. Content version ${record.facts.contentVersion}.`,
      ),
    ],
  });
  return {
    title: `What is still in: ${side === 'not recorded' ? 'side not recorded' : `${side} ${bone}`}${status === 'draft' ? ' (DRAFT)' : ''}`,
    sections,
  };
}
