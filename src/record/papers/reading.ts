/** What a paper is written from. */
import type { Content } from '../../../content/types.ts';
import type { RecordLog } from '../log.ts';
import type { RecordFacts } from '../model.ts';

export type Locale = RecordLog['locale'];

/** The facts of a record, with the content and the language they are told in. */
export interface Reading {
  facts: RecordFacts;
  content: Content;
  locale: Locale;
}

/** The side in words; null where nobody recorded it. */
export const sideOf = ({ facts: { side }, locale }: Reading): string | null =>
  side === locale.notRecorded ? null : side;
