/** A page as plain text, 80 columns. */
import type { Block, Page, Section, TimelineRow } from './model.ts';
import { linesIn } from './model.ts';
import { localeOf } from './locales/index.ts';

const columns = 80;

/** What is filled in by hand stands on it. */
const blank = '_'.repeat(40);

/** A number stays with its unit on one line. */
const bind = (text: string) =>
  text.replace(
    /(\d) (?=(?:mm|cm|%|min|s|h|ml|mg|g|mGy|mmHg|months?|weeks?|years?|Monate?n?|Wochen?|Jahre?n?)(?![\w]))/g,
    '$1\u00A0',
  );

/** Columns a character takes at most: wide scripts and pictures two. */
const widthOf = (character: string): number => {
  const code = character.codePointAt(0) ?? 0;
  return code >= 0x1100 &&
    (code > 0xffff ||
      /[\u1100-\u115F\u2E80-\uA4CF\uAC00-\uD7A3\uF900-\uFAFF\uFE30-\uFE6F\uFF00-\uFFE6]/.test(character))
    ? 2
    : 1;
};
const width = (text: string) => [...text].reduce((sum, character) => sum + widthOf(character), 0);

/** A word cut into parts no wider than `room`. */
function cut(word: string, room: number): string[] {
  if (width(word) <= room) return [word];
  const parts = [''];
  for (const character of word) {
    if (width(parts.at(-1) as string) + widthOf(character) > room) parts.push('');
    parts[parts.length - 1] += character;
  }
  return parts;
}

/**
 * Lines of at most 80 columns: words wrapped, what is too long for a line broken.
 *
 * @param first what the first line starts with, @param rest what the others start with
 * @example wrap('one two', '- ', '  ') // ['- one two']
 */
export function wrap(text: string, first = '', rest = first): string[] {
  const lines: string[] = [];
  let line = first;
  let empty = true;
  for (const word of bind(text)
    .split(' ')
    .flatMap((token) => cut(token, columns - Math.max(width(first), width(rest))))) {
    if (!empty && width(line) + 1 + width(word) > columns) {
      lines.push(line);
      line = rest + word;
    } else {
      line += empty ? word : ` ${word}`;
    }
    empty = false;
  }
  return [...lines, line].map((done) => done.replaceAll('\u00A0', ' '));
}

function timeline(rows: readonly TimelineRow[], language?: string): string[] {
  const { day: dayOf, forms } = localeOf(language ?? 'en');
  const lines: string[] = [];
  let day = '';
  for (const row of rows) {
    const today = `${dayOf(row.date)} (${row.offset})`;
    if (today !== day) lines.push(...wrap(today, '', ''));
    day = today;
    const marks = row.marks.map((mark) => `[${mark}]`);
    lines.push(...wrap([`${row.time} (${row.n})`, ...marks, row.sentence].join(' '), '  ', '    '));
  }
  return [...lines, ...wrap(forms.inAll(rows.length))];
}

function block(item: Block, language?: string): string[] {
  switch (item.kind) {
    case 'text':
      return wrap(item.text);
    case 'heading':
      return wrap(item.text);
    case 'list':
      return item.items.flatMap((line) => wrap(line, '  - ', '    '));
    case 'timeline':
      return timeline(item.rows, language);
    case 'picture':
      // It stands in print and beside the Markdown; here the sentences and the timeline tell it.
      return wrap(item.picture.alt);
    case 'fill':
      return wrap(`${item.text}: ${blank}`);
    case 'frame':
      return wrap(`[ ${item.text} ]`);
    case 'table':
      return item.rows.flatMap(([name, ...cells]) =>
        wrap(`${name}: ${cells.map((cell, i) => `${item.head[i + 1]}: ${cell}`).join('; ')}`, '  - ', '    '),
      );
    case 'item': {
      const lines = linesIn(language, item.value);
      if (lines.length === 1) return wrap(`${item.label}: ${lines[0]}`, '', '  ');
      return [...wrap(`${item.label}:`), ...lines.flatMap((line) => wrap(line, '  - ', '    '))];
    }
  }
}

const section = ({ title, blocks }: Section, language?: string): string[] => [
  '',
  ...wrap(title.toUpperCase()),
  ...blocks.flatMap((one) => block(one, language)),
];

/**
 * Any page as plain text, `\n` line ends; ends with a new line.
 *
 * @example pageText(record).split('\n').every((line) => line.length <= 80) // true
 */
export const pageText = (page: Page): string =>
  [
    ...wrap(page.title.toUpperCase()),
    '='.repeat(Math.min(columns, width(page.title))),
    ...page.sections.flatMap((one) => section(one, page.language)),
    '',
  ].join('\n');
