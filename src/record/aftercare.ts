/** Lines for the time after the operation, as the surgeon accepted, changed or dropped them. */
import type { Content } from '../../content/types.ts';
import type { EntryOf } from '../../machines/entry.ts';
import { clean } from '../format/prose.ts';
import type { RecordLog } from './log.ts';
import { recorded, type Section } from './model.ts';

/** The last word on one line. */
export interface AftercareLine {
  /** Id in the content; null for a line in the surgeon's own words. */
  line: string | null;
  /** What it says now; null for a line of a content that is not this one. */
  text: string | null;
  state: EntryOf<'aftercare'>['state'];
}

/**
 * The last word on every line that somebody spoke of, in the order in which they were first spoken of. A line in own
 * words is known by what it says.
 *
 * @param entries in force, in order of `n`
 * @example lastWords([{ line: 'new-pain', state: 'accepted', … }], content)[0].state // 'accepted'
 */
export function lastWords(entries: readonly EntryOf<'aftercare'>[], content: Content): AftercareLine[] {
  const said = new Map<string, AftercareLine>();
  for (const { line, text, state } of entries) {
    const key = line === undefined ? `text ${text}` : `line ${line}`;
    const listed = content.aftercare.find(({ id }) => id === line)?.text ?? null;
    said.set(key, { line: line ?? null, text: text ?? listed, state });
  }
  return [...said.values()];
}

/** Lines to print: what was accepted or changed and nothing else; null where the content has no such lines. */
export function aftercareOf({ content, effective, locale }: RecordLog): string[] | null {
  if (content.ladder !== 2) return null;
  const entries = effective.filter((entry) => entry.type === 'aftercare');
  return lastWords(entries, content)
    .filter(({ state }) => state !== 'dropped')
    .map(({ line, text }) => (text === null ? locale.sections.aftercare.unknown(line ?? '') : clean(text)));
}

/** The section of the record; none where the content asks for no such lines. */
export function aftercareSection({ locale }: RecordLog, lines: readonly string[] | null): Section[] {
  if (lines === null) return [];
  const { titles, aftercare } = locale.sections;
  const value = recorded(...lines);
  return [
    {
      id: 'aftercare',
      title: titles.aftercare,
      blocks: [{ kind: 'item', id: 'aftercare', label: aftercare.label, value }],
    },
  ];
}
