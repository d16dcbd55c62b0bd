/** The page for the next surgeon: what is in, what was tried, what would be needed, the bone then and as reckoned now. */
import { inSentence } from '../../../content/names.ts';
import type { ToolId } from '../../../content/ids.ts';
import type { Content, ToolGroup } from '../../../content/types.ts';
import { capital, heading, sentence, some } from '../../format/prose.ts';
import { items, over, text } from '../blocks.ts';
import {
  isSaidToStay,
  type Attempt,
  type Block,
  type CaseRecord,
  type Page,
  type ScrewFate,
  type Section,
  type StillIn,
} from '../model.ts';
import { sideOf, type Locale, type Reading } from './reading.ts';
import type { NeededNext } from './shapes.ts';

/** Room for the code of a passport, mm: the largest that a passport needs is 47. */
const codeRoom = 50;

const labelOf = ({ content }: Reading, { move, what }: Attempt): string => {
  const { label } = content.phrases.moves[move];
  return what === null ? label : `${label} (${what})`;
};

function howOf({ content, locale }: Reading, { move, outcome, screw, tool, endedBy, interrupted }: Attempt): string {
  const { notEnded, unknownEnd, brokenOff } = locale.stillIn.page;
  if (outcome) return locale.entries.outcome(content, screw, outcome, { move, tool });
  if (endedBy === null) return notEnded;
  return interrupted ? brokenOff : unknownEnd;
}

/** What was tried and how it ended, in order; the same several times running is one line. */
function tried(reading: Reading, { attempts }: ScrewFate): string[] {
  const runs: { line: string; times: number }[] = [];
  for (const attempt of attempts) {
    const line = `${labelOf(reading, attempt)}: ${howOf(reading, attempt)}`;
    const last = runs.at(-1);
    if (last?.line === line) last.times += 1;
    else runs.push({ line, times: 1 });
  }
  const { tally } = reading.locale;
  return runs.map(({ line, times }) => sentence(tally(Array.from({ length: times }, () => line))[0] as string));
}

/** A tool with what of its size the rules ask for. */
function sized({ content, locale }: Reading, { diameter }: ScrewFate, tool: ToolId): string {
  const { surgeon } = locale.papers;
  const name = locale.tool(content, tool);
  if (diameter === null) return name;
  if (tool === 'hollow-reamer') return surgeon.wider(name, diameter);
  const bySize = tool === 'hard-metal-drill' || tool === 'reverse-tap' || tool === 'extraction-sleeve';
  return bySize ? surgeon.forScrews(name, diameter) : name;
}

function groupWords(reading: Reading, fate: ScrewFate, group: ToolGroup): string {
  const { surgeon } = reading.locale.papers;
  const named = (tools: readonly ToolId[]) => tools.map((tool) => sized(reading, fate, tool));
  if ('anyOf' in group) return reading.locale.or(named(group.anyOf));
  if (group.driver !== 'matched') return surgeon.otherDriver;
  return reading.locale.or([surgeon.matchedDriver(fate.recess), ...named(group.or ?? [])]);
}

/** What would be needed by readiness: moves that a way out can begin with, and the fewest tools for one of the ways. */
function neededBlocks(reading: Reading, fate: ScrewFate, { stage, moves, opensWith }: NeededNext): Block[] {
  const { content, locale } = reading;
  const { surgeon } = locale.papers;
  const state = inSentence(content, content.phrases.stages[stage].label);
  if (moves.length === 0) return [text(surgeon.noWay(state))];
  const lines = moves.map(({ id, needs }) =>
    sentence(
      `${content.phrases.moves[id].label}: ${needs.map((group) => groupWords(reading, fate, group)).join('; ')}`,
    ),
  );
  const fewest = locale.and(opensWith.map((tool) => sized(reading, fate, tool)));
  // One move with one need says it already.
  const isPlain = moves.length === 1 && moves[0]?.needs.length === 1;
  return [text(surgeon.next(state)), items(...lines), ...(fewest && !isPlain ? [text(surgeon.fewest(fewest))] : [])];
}

const bores = ({ attempts }: ScrewFate) => attempts.flatMap((attempt) => attempt.bores);

/** Did somebody enter all of them, so that none is only what was to be expected? */
const areEntered = ({ attempts }: ScrewFate): boolean =>
  attempts.every((attempt) => attempt.bores.length === 0 || attempt.boresEntered);

/** What is told of a piece under its name. */
function pieceBlocks(reading: Reading, piece: StillIn): Block[] {
  const { facts, locale } = reading;
  const { surgeon } = locale.papers;
  const { piece: words } = locale.sections;
  const { page } = locale.stillIn;
  const fate = facts.screws.find(({ id }) => id === piece.screw);
  // What was tried on a screw stands once, under its first piece.
  const isFirst = facts.stillIn.find(({ screw }) => screw === piece.screw) === piece;
  const needed = fate && Object.hasOwn(facts.papers.needed, fate.id) ? facts.papers.needed[fate.id] : undefined;
  const tries = fate ? tried(reading, fate) : [];
  const isSaid = isSaidToStay(piece);
  return [
    items(
      ...some(
        words.material(piece.material),
        words.size(piece.size),
        words.where(piece.where),
        piece.place !== null && words.place(piece.place),
        // Of what may be out nobody decided anything.
        isSaid && words.why(piece.why),
        isSaid && words.decidedBy(piece.decidedBy),
        words.image(piece.image),
        fate && page.screwWas(fate.description),
        fate &&
          bores(fate).length > 0 &&
          page.bores(locale.and(locale.tally(bores(fate).map(locale.bore))), areEntered(fate)),
        fate && fate.slips > 0 && page.slips(fate.slips),
      ),
    ),
    ...(fate && isFirst ? (tries.length ? [text(surgeon.tried), items(...tries)] : [text(surgeon.notTried)]) : []),
    ...(fate && needed && isFirst ? neededBlocks(reading, fate, needed) : []),
  ];
}

/** Pieces of which the same is told stand together. */
function groupedPieces(reading: Reading): Block[] {
  const { facts, locale } = reading;
  const groups = new Map<string, { ids: string[]; rest: string; blocks: Block[] }>();
  facts.stillIn.forEach((piece, i) => {
    const { screw } = piece;
    const what = locale.clean(piece.what);
    const name = screw === null ? '' : locale.screw(screw);
    const isNamed = screw !== null && what.startsWith(name);
    const rest = isNamed ? what.slice(name.length) : what;
    const blocks = pieceBlocks(reading, piece);
    const key = JSON.stringify([isNamed ? null : i, rest, blocks]);
    const group = groups.get(key) ?? { ids: [], rest, blocks };
    if (isNamed) group.ids.push(screw);
    groups.set(key, group);
  });
  return [...groups.values()].flatMap(({ ids, rest, blocks }): Block[] => [
    over(capital(ids.length ? `${locale.papers.surgeon.each(ids)}${rest}` : rest)),
    ...blocks,
  ]);
}

function staysSection(reading: Reading): Section {
  const { facts, locale } = reading;
  const { surgeon } = locale.papers;
  const pieces = groupedPieces(reading);
  const open = facts.parts.filter(({ end }) => end === null).map(({ name }) => name);
  return {
    id: 'surgeon',
    title: surgeon.titles.stays,
    blocks: [
      ...(pieces.length ? pieces : [text(surgeon.nothing)]),
      ...(Object.values(facts.papers.needed).some(({ stage }) => stage !== 'seated') ? [text(surgeon.unseen)] : []),
      ...(open.length ? [text(sentence(surgeon.unknownPart(open)))] : []),
    ],
  };
}

/** Screws of which nothing is in: by what they came out, those alike together. */
function outSection(reading: Reading): Section[] {
  const { facts, locale } = reading;
  const { surgeon } = locale.papers;
  const groups = new Map<string, string[]>();
  for (const fate of facts.screws) {
    if (facts.stillIn.some(({ screw }) => screw === fate.id)) continue;
    const last = fate.attempts.findLast(({ outcome }) => outcome === 'out') ?? fate.attempts.at(-1);
    const how = last
      ? surgeon.lastBy(inSentence(reading.content, labelOf(reading, last)), fate.attempts.length)
      : surgeon.noMove;
    const key = `${fate.description}; ${how}`;
    groups.set(key, [...(groups.get(key) ?? []), fate.id]);
  }
  if (groups.size === 0) return [];
  const lines = [...groups].map(([how, ids]) => sentence(surgeon.out(capital(surgeon.screws(ids)), how)));
  return [{ id: 'out', title: surgeon.titles.out, blocks: [items(...lines)] }];
}

/** What is left of the bone, for whoever opens it next: as it was measured, and what the making of holes leaves of it. */
function boneSections({ facts, locale }: Reading): Section[] {
  const { whole, levels, basis } = facts.boneTold;
  if (levels.length === 0) return [];
  const { surgeon } = locale.papers;
  const groups = new Map<string, { ids: string[]; size: string | null; now: string[] }>();
  for (const { screw, size, lines } of levels) {
    const now = size === null ? lines : lines.filter((line) => line !== size);
    const key = JSON.stringify([size, now]);
    const group = groups.get(key) ?? { ids: [], size, now };
    group.ids.push(screw);
    groups.set(key, group);
  }
  const blocks = [...groups.values()].flatMap(({ ids, size, now }): Block[] => [
    over(heading(surgeon.screws(ids))),
    {
      kind: 'item',
      id: 'bone-then',
      label: surgeon.boneThen,
      value: size === null ? { state: 'not-recorded' } : { state: 'recorded', lines: [size] },
    },
    { kind: 'item', id: 'bone-now', label: surgeon.boneNow, value: { state: 'recorded', lines: now } },
  ]);
  return [
    {
      id: 'bone',
      title: locale.sections.titles.bone,
      blocks: [...(whole.length ? [items(...whole)] : []), ...blocks, text(basis)],
    },
  ];
}

/** What the surgeon accepted for the time after; none by the first ladder. */
function aftercareSections({ facts, locale }: Reading): Section[] {
  const { aftercare } = facts;
  if (aftercare === null) return [];
  const { papers } = locale;
  const block = aftercare.length ? items(...aftercare.map(sentence)) : text(papers.patient.noAfter);
  return [{ id: 'aftercare', title: papers.surgeon.titles.after, blocks: [block] }];
}

const cite = ({ content, locale }: Reading, id: string): string => {
  const source = content.sources.find((row) => row.id === id);
  return source ? `${source.what} (${locale.cite(source.cite)})` : '';
};

function scanSection(reading: Reading): Section {
  const { facts, locale } = reading;
  const { page } = locale.stillIn;
  const tool = facts.stillIn.some((piece) => piece.tool !== null);
  return {
    id: 'scan',
    title: locale.papers.surgeon.titles.scan,
    blocks: [
      text(page.untested),
      ...(tool ? [text(page.toolSteel)] : []),
      items(...some(cite(reading, 'fragments-mri-fda-2008'), cite(reading, 'mri-relative-pmc3030159')).map(sentence)),
    ],
  };
}

/**
 * The page for the next surgeon.
 *
 * @param content the version that the case names
 * @example surgeonPage(record, content, locale).title // 'For the next surgeon: RIGHT tibia'
 */
export function surgeonPage({ facts }: CaseRecord, content: Content, locale: Locale): Page {
  const reading = { facts, content, locale };
  const { surgeon } = locale.papers;
  const { page } = locale.stillIn;
  const { bone, date, status, label, headSeal } = facts;
  return {
    title: surgeon.title(sideOf(reading), bone, status === 'draft'),
    language: locale.language,
    sections: [
      staysSection(reading),
      ...outSection(reading),
      ...boneSections(reading),
      ...aftercareSections(reading),
      ...(facts.stillIn.length ? [scanSection(reading)] : []),
      { id: 'code', title: surgeon.titles.code, blocks: [{ kind: 'frame', text: surgeon.code, mm: codeRoom }] },
      {
        id: 'about',
        title: surgeon.titles.about,
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
      },
    ],
  };
}
