/** Lines for the time after the operation, as the surgeon accepted, changed or dropped them. */
import { lastWords } from '../../machines/aftercare.ts';
import { clean } from '../format/prose.ts';
import type { RecordLog } from './log.ts';
import { recorded, type Section } from './model.ts';

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
