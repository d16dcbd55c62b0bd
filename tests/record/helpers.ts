/** What the tests of the record share. */
import type { Entry } from '../../machines/entry.ts';
import { linesOf, note, type CaseRecord } from '../../src/record/index.ts';
import { content, recordOf } from './cases.ts';

export const textOf = (entries: readonly Entry[]) => note('text', recordOf(entries), content);
/** Text without its line breaks. */
export const flat = (text: string) => text.replace(/\s+/g, ' ');
export const valueOf = (record: CaseRecord, section: string, id: string): string => {
  const block = record.sections
    .find((one) => one.id === section)
    ?.blocks.find((one) => one.kind === 'item' && one.id === id);
  return block?.kind === 'item' ? linesOf(block.value).join('; ') : 'no such item';
};
/** Holes in a sentence: what a template leaves when a value is missing. */
export const holes = /undefined|\bnull\b|NaN|\[object|\{|\}|Infinity|: ;|\(\)|, ,|\.\.|about -|(?<=\S) {2}/;
