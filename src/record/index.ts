/** The record of a case in every form it leaves the device. */
import type { Content } from '../../content/types.ts';
import { noteCsv } from './csv.ts';
import { noteFhir } from './fhir.ts';
import { pageMarkdown } from './markdown.ts';
import type { CaseRecord, Page } from './model.ts';
import { buildStillIn } from './still-in.ts';
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

/** `brief`: what was done and what stays; `patient` and `still-in`: the pages for the patient and the next surgeon. */
export const noteForms = ['text', 'markdown', 'csv', 'fhir', 'brief', 'patient', 'still-in'] as const;
export type NoteForm = (typeof noteForms)[number];

const forms: Record<NoteForm, (record: CaseRecord, content: Content) => string> = {
  text: pageText,
  markdown: pageMarkdown,
  csv: noteCsv,
  fhir: noteFhir,
  brief: ({ first }) => pageText(first),
  patient: (record, content) => pageText(partOf(buildStillIn(record, content), forPatient)),
  'still-in': (record, content) => pageText(partOf(buildStillIn(record, content), forSurgeon)),
};

/** Sections of the page on what is still in, by reader. */
const forPatient = ['patient', 'aftercare', 'scan', 'about'];
const forSurgeon = ['surgeon', 'bone', 'aftercare', 'scan', 'about'];

const partOf = (page: Page, ids: readonly string[]): Page => ({
  ...page,
  sections: page.sections.filter(({ id }) => ids.includes(id)),
});

/**
 * The operative record as a string that ends with a line end.
 *
 * @param content the version that the case names
 * @example note('csv', record, content).startsWith('n,at,logged') // true
 */
export const note = (as: NoteForm, record: CaseRecord, content: Content): string => forms[as](record, content);
