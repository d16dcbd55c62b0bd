/** A page as Markdown (CommonMark, with tables and strike-through). */
import { linesOf, type Block, type CaseRecord, type Page, type TimelineRow } from './model.ts';
import { count } from './words.ts';

/** Text as text: nothing in it is taken for markup. `escape('*a*')` is `'\\*a\\*'`. */
const escape = (text: string): string =>
  text
    .replace(/[\\`*_{}[\]<>#|~&$]/g, '\\$&')
    .replace(/^([-+=])/, '\\$1')
    .replace(/^(\d+)([.)] )/, '$1\\$2');

function timeline(rows: readonly TimelineRow[]): string[] {
  const lines: string[] = [];
  let day = '';
  for (const row of rows) {
    const today = `${row.date} (${row.offset})`;
    if (today !== day) {
      if (day) lines.push('');
      lines.push(`#### ${escape(today)}`, '', '| Time | Entry | What happened |', '| --- | --- | --- |');
    }
    day = today;
    const marks = row.marks.map((mark) => `**${escape(mark)}.**`);
    const said = row.struck ? `~~${escape(row.sentence)}~~` : escape(row.sentence);
    lines.push(`| ${row.time} | ${row.n} | ${[...marks, said].join(' ')} |`);
  }
  return [...lines, '', `${count(rows.length, 'entry', 'entries')} in all.`];
}

function block(item: Block): string[] {
  switch (item.kind) {
    case 'text':
      return [escape(item.text)];
    case 'heading':
      return [`### ${escape(item.text)}`];
    case 'list':
      return item.items.map((line) => `- ${escape(line)}`);
    case 'timeline':
      return timeline(item.rows);
    case 'item': {
      const lines = linesOf(item.value);
      const label = `**${escape(item.label)}:**`;
      return lines.length === 1
        ? [`- ${label} ${escape(lines[0] as string)}`]
        : [`- ${label}`, ...lines.map((line) => `  - ${escape(line)}`)];
    }
  }
}

/** Blocks of a section; lists run together, everything else stands apart. */
function blocks(items: readonly Block[]): string[] {
  return items.flatMap((item, index) => {
    const listed = (other: Block | undefined) => other?.kind === 'item' || other?.kind === 'list';
    return listed(item) && listed(items[index - 1]) ? block(item) : ['', ...block(item)];
  });
}

/** Any page as Markdown; ends with a new line. */
export const pageMarkdown = (page: Page): string =>
  [
    `# ${escape(page.title)}`,
    ...page.sections.flatMap(({ title, blocks: inside }) => ['', `## ${escape(title)}`, ...blocks(inside)]),
    '',
  ].join('\n');

/** The operative note as Markdown, `\n` line ends. */
export const noteMarkdown = (record: CaseRecord): string => pageMarkdown(record);
