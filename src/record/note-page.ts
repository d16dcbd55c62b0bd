/** The note as it is printed: the page that is signed, then the annexes, told once each and alike things together. */
import { items, over, text } from './blocks.ts';
import { heading, ranges, sentence } from '../format/prose.ts';
import { inZone } from '../../machines/time.ts';
import { localeOf } from './locales/index.ts';
import { toolsSection } from './papers/tools-page.ts';
import { recorded, type Block, type CaseRecord, type Page, type ScrewFate, type Section } from './model.ts';

/** Annexes in their order: what is read first stands first, the seal last. */
const order = [
  ...['times', 'team', 'operation', 'before', 'screws', 'tools', 'bone', 'holds', 'metal', 'told', 'aftercare'],
  ...['clocks', 'changes', 'sterile', 'timeline', 'cautions', 'head'],
];
/** Words that were signed under older rules, and what is reckoned otherwise since: before anything that was not signed. */
const signedBefore = ['as-signed', 'reckoned'];
/** What of the record is told on the page that is signed. */
const onFirst = ['stays-in', 'signature'];
/** In these an item that nobody entered is named with the others, in one line. */
const asItems = ['times', 'team', 'operation', 'before', 'tools', 'holds', 'told', 'clocks'];

type Words = ReturnType<typeof localeOf>;

/** What nobody entered as one line, after what somebody did. */
function silentTogether(blocks: readonly Block[], { firstPage }: Words): Block[] {
  const isSilent = (block: Block) => block.kind === 'item' && block.value.state === 'not-recorded';
  const labels = blocks.flatMap((block) => (block.kind === 'item' && isSilent(block) ? [block.label] : []));
  if (labels.length < 2) return [...blocks];
  return [
    ...blocks.filter((block) => !isSilent(block)),
    { kind: 'item', id: 'silent', label: firstPage.titles.missing, value: recorded(labels.join('; ')) },
  ];
}

/** Names of several screws, as they stand over what they have in common. */
const named = (ids: readonly string[], { firstPage, screw, clean }: Words): string =>
  heading(ids.length === 1 ? screw(ids[0] as string) : firstPage.screws(ranges(ids.map(clean))));

/** The bone level by level; levels of which the same is told stand together. */
function boneBlocks(blocks: readonly Block[], { boneTold: { levels } }: CaseRecord['facts'], words: Words): Block[] {
  const groups = new Map<string, string[]>();
  for (const { screw, lines } of levels) {
    const key = lines.join('\n');
    groups.set(key, [...(groups.get(key) ?? []), screw]);
  }
  const own = levels.map(({ screw }) => heading(words.screw(screw)));
  // What is told of no level: of the whole first, how it is reckoned last.
  const isOwn = (i: number): boolean => {
    const block = blocks[i];
    if (block?.kind === 'heading') return own.includes(block.text);
    return block?.kind === 'list' && i > 0 && isOwn(i - 1) && blocks[i - 1]?.kind === 'heading';
  };
  const first = blocks.findIndex((_, i) => isOwn(i));
  if (first < 0) return [...blocks];
  const grouped = [...groups].flatMap(([lines, ids]) => [over(named(ids, words)), items(...lines.split('\n'))]);
  return [...blocks.slice(0, first), ...grouped, ...blocks.slice(first).filter((_, i) => !isOwn(first + i))];
}

/** It came out at the first go with the matched driver. */
const isSimple = ({ stage, attempts, foundAfter }: ScrewFate): boolean =>
  stage === 'out' && foundAfter === null && attempts.length === 1 && attempts[0]?.move === 'turn-out';

/** Screw by screw; those that came out at the first go and have the same facts are one line. */
function screwBlocks(blocks: readonly Block[], { screws, zone }: CaseRecord['facts'], words: Words): Block[] {
  const told: Block[] = [];
  const alike = new Map<string, ScrewFate[]>();
  let i = 0;
  for (const fate of screws) {
    const end = blocks.findIndex((block, at) => at > i && block.kind === 'heading');
    const own = blocks.slice(i, end < 0 ? undefined : end);
    i += own.length;
    if (isSimple(fate) && own.length === 3) alike.set(fate.description, [...(alike.get(fate.description) ?? []), fate]);
    else told.push(...own);
  }
  const lines = [...alike].map(([facts, fates]) => {
    const times = fates.flatMap(({ attempts }) => attempts.map(({ to, from }) => inZone(to ?? from, zone).time));
    const ids = fates.map(({ id }) => id);
    return sentence(`${named(ids, words)}: ${facts}; ${words.firstPage.turnedOut(times)}`);
  });
  return [...(lines.length ? [items(...lines)] : []), ...told, ...(screws.length ? [] : blocks)];
}

/** Of the head of the record what the page that is signed does not say. */
const ofSeal = ['patient', 'planned', 'entries', 'content', 'seal', 'head-seal'];

function annex(section: Section, record: CaseRecord, words: Words): Section {
  const { facts } = record;
  const { id, blocks } = section;
  if (asItems.includes(id)) return { ...section, blocks: silentTogether(blocks, words) };
  if (id === 'bone') return { ...section, blocks: boneBlocks(blocks, facts, words) };
  if (id === 'screws') return { ...section, blocks: screwBlocks(blocks, facts, words) };
  if (id === 'cautions')
    return {
      ...section,
      blocks: blocks.map((block) => (block.kind === 'list' ? text(block.items.join(' ')) : block)),
    };
  if (id === 'head') {
    const own = blocks.filter((block) => block.kind === 'item' && ofSeal.includes(block.id));
    return { id: 'seal', title: words.firstPage.titles.seal, blocks: silentTogether(own, words) };
  }
  if (id === 'sterile') return toolsSection(record, words);
  // The account itself stands on the page that is signed: here how it is reckoned.
  if (id === 'metal') return { ...section, blocks: blocks.filter(({ kind }) => kind === 'text') };
  return section;
}

/** The annexes of a record: all of its sections that stand nowhere before. Each begins on the sheet where the last ends. */
export function annexes(record: CaseRecord): Section[] {
  const words = localeOf(record.language ?? 'en');
  const places = new Map(order.map((id, index) => [id, index]));
  return record.sections
    .filter(({ id }) => !signedBefore.includes(id) && !onFirst.includes(id))
    .sort((a, b) => (places.get(a.id) ?? 0) - (places.get(b.id) ?? 0))
    .map((section) => annex(section, record, words));
}

/**
 * The note as it is printed and shown: the page that is signed, then the annexes. Words signed under older rules, and
 * what is reckoned otherwise since, stand before both.
 *
 * @example notePage(record).sections[0]?.id // 'head'
 */
export function notePage(record: CaseRecord): Page {
  const words = localeOf(record.language ?? 'en');
  return {
    ...record.first,
    sections: [
      ...record.sections.filter(({ id }) => signedBefore.includes(id)),
      ...record.first.sections,
      { id: 'annexes', title: words.firstPage.titles.annexes, blocks: [text(words.firstPage.annexes)] },
      ...annexes(record),
    ],
  };
}
