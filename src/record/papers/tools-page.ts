/** The list for sterile services and restock. */
import { csvOf, neutral } from '../csv.ts';
import { items, text } from '../blocks.ts';
import { localeOf } from '../locales/index.ts';
import type { Block, CaseRecord, Page, Section } from '../model.ts';

/** The rows as they are read: instrument, size, what happened, what to do. */
function rowsOf({ facts, language }: CaseRecord): string[][] {
  const { tools } = localeOf(language ?? 'en').papers;
  return facts.papers.tools.map(({ name, size, happened, tasks }) => [
    name,
    size,
    happened.join('; '),
    tasks.map((task) => tools.tasks[task]).join('; '),
  ]);
}

/** The list as a section; it says so where nothing was noted. */
export function toolsSection(record: CaseRecord): Section {
  const words = localeOf(record.language ?? 'en');
  const { tools } = words.papers;
  const rows = rowsOf(record);
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
 * @example buildTools(record).sections[0]?.id // 'sterile'
 */
export const buildTools = (record: CaseRecord): Page => ({
  title: localeOf(record.language ?? 'en').papers.tools.title,
  ...(record.language !== undefined && { language: record.language }),
  sections: [toolsSection(record)],
});

/** The same list as RFC 4180 CSV. */
export const toolsCsv = (record: CaseRecord): string =>
  csvOf([['instrument', 'size', 'happened', 'to_do'], ...rowsOf(record).map((row) => row.map(neutral))]);
