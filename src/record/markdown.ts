/** A page as Markdown (CommonMark, with tables and strike-through). */
import { linesIn, type Block, type Page, type TimelineRow } from './model.ts';
import { localeOf } from './locales/index.ts';

/** Text as text: nothing in it is taken for markup. `escape('*a*')` is `'\\*a\\*'`. */
const escape = (text: string): string =>
  text
    .replace(/[\\`*_{}[\]<>#|~&$]/g, '\\$&')
    .replace(/^([-+=])/, '\\$1')
    .replace(/^(\d+)([.)] )/, '$1\\$2');

function timeline(rows: readonly TimelineRow[], language?: string): string[] {
  const { day: dayOf, forms } = localeOf(language ?? 'en');
  const { time, entry, happened } = forms.columns;
  const lines: string[] = [];
  let day = '';
  for (const row of rows) {
    const today = `${dayOf(row.date)} (${row.offset})`;
    if (today !== day) {
      if (day) lines.push('');
      lines.push(`#### ${escape(today)}`, '', `| ${time} | ${entry} | ${happened} |`, '| --- | --- | --- |');
    }
    day = today;
    const marks = row.marks.map((mark) => `**${escape(mark)}.**`);
    const said = row.struck ? `~~${escape(row.sentence)}~~` : escape(row.sentence);
    lines.push(`| ${row.time} | ${row.n} | ${[...marks, said].join(' ')} |`);
  }
  return [...lines, '', forms.inAll(rows.length)];
}

function block(item: Block, language?: string): string[] {
  switch (item.kind) {
    case 'text':
      return [escape(item.text)];
    case 'heading':
      return [`### ${escape(item.text)}`];
    case 'list':
      return item.items.map((line) => `- ${escape(line)}`);
    case 'timeline':
      return timeline(item.rows, language);
    case 'picture':
      return [`![${escape(item.picture.alt)}](${item.file})`];
    case 'fill':
      return [`- **${escape(item.text)}:** ${escape('_'.repeat(40))}`];
    case 'frame':
      return [escape(`[ ${item.text} ]`)];
    case 'table':
      return [item.head, item.head.map(() => '---'), ...item.rows].map(
        (cells, i) => `| ${cells.map((cell) => (i === 1 ? cell : escape(cell))).join(' | ')} |`,
      );
    case 'item': {
      const lines = linesIn(language, item.value);
      const label = `**${escape(item.label)}:**`;
      return lines.length === 1
        ? [`- ${label} ${escape(lines[0] as string)}`]
        : [`- ${label}`, ...lines.map((line) => `  - ${escape(line)}`)];
    }
  }
}

/** Blocks of a section; lists run together, everything else stands apart. */
function blocks(items: readonly Block[], language?: string): string[] {
  return items.flatMap((item, index) => {
    const listed = (other: Block | undefined) =>
      other?.kind === 'item' || other?.kind === 'list' || other?.kind === 'fill';
    return listed(item) && listed(items[index - 1]) ? block(item, language) : ['', ...block(item, language)];
  });
}

/** Any page as Markdown, `\n` line ends; ends with a new line. */
export const pageMarkdown = (page: Page): string =>
  [
    `# ${escape(page.title)}`,
    ...page.sections.flatMap(({ title, blocks: inside }) => [
      '',
      `## ${escape(title)}`,
      ...blocks(inside, page.language),
    ]),
    '',
  ].join('\n');
