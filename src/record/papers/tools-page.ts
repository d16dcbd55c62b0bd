/** The list for sterile services and restock. */
import { csvOf, neutral } from '../csv.ts';
import { items, text } from '../blocks.ts';
import type { Block, CaseRecord, Page, Section } from '../model.ts';
import type { Locale } from './reading.ts';

/** The rows as they are read: instrument, size, what happened, what to do. */
function rowsOf({ facts }: CaseRecord, { papers: { tools } }: Locale): string[][] {
  return facts.papers.tools.map(({ name, size, happened, tasks }) => [
    name,
    size,
    happened.join('; '),
    tasks.map((task) => tools.tasks[task]).join('; '),
  ]);
}

/** The list as a section; it says so where nothing was noted. */
export function toolsSection(record: CaseRecord, words: Locale): Section {
  const { tools } = words.papers;
  const rows = rowsOf(record, words);
  const isJammed = record.facts.papers.tools.some(({ tasks }) => tasks.includes('part'));
  const blocks: Block[] = rows.length
    ? [
        { kind: 'table', head: tools.head, rows },
        ...(isJammed && record.facts.papers.parting.length ? [items(...record.facts.papers.parting)] : []),
        text(tools.basis),
      ]
    : [text(tools.none)];
  return { id: 'sterile', title: words.sections.titles.sterile, blocks };
}

/**
 * The list for sterile services as a page of its own.
 *
 * @example toolsPage(record, locale).sections[0]?.id // 'sterile'
 */
export const toolsPage = (record: CaseRecord, locale: Locale): Page => ({
  title: locale.papers.tools.title,
  language: locale.language,
  sections: [toolsSection(record, locale)],
});

/** The same list as RFC 4180 CSV. */
export const toolsCsvOf = (record: CaseRecord, locale: Locale): string =>
  csvOf([['instrument', 'size', 'happened', 'to_do'], ...rowsOf(record, locale).map((row) => row.map(neutral))]);
