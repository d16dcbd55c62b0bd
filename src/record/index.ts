/** The record of a case in every form it leaves the device. */
import type { Content } from '../../content/types.ts';
import { noteCsv } from './csv.ts';
import { noteFhir } from './fhir.ts';
import { pageMarkdown } from './markdown.ts';
import type { CaseRecord } from './model.ts';
import { pageText } from './text.ts';

export { buildRecord } from './build.ts';
export { recordFileName, type RecordKind } from './file-name.ts';
export { fhirBundle } from './fhir.ts';
export {
  linesOf,
  type Block,
  type CaseRecord,
  type Page,
  type Section,
  type TimelineRow,
  type Value,
} from './model.ts';
export { attribution, narrate } from './narrative.ts';
export { buildStillIn } from './still-in.ts';
export { pageMarkdown, pageText };

export const noteForms = ['text', 'markdown', 'csv', 'fhir'] as const;
export type NoteForm = (typeof noteForms)[number];

const forms: Record<NoteForm, (record: CaseRecord, content: Content) => string> = {
  text: pageText,
  markdown: pageMarkdown,
  csv: noteCsv,
  fhir: noteFhir,
};

/**
 * The operative record as a string that ends with a line end.
 *
 * @param content the version that the case names
 * @example note('csv', record, content).startsWith('n,at,logged') // true
 */
export const note = (as: NoteForm, record: CaseRecord, content: Content): string => forms[as](record, content);
