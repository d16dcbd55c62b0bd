/** The record of a case in every form it leaves the device. */
import type { Content } from '../../content/types.ts';
import { noteCsv } from './csv.ts';
import { noteFhir } from './fhir.ts';
import { pageMarkdown } from './markdown.ts';
import type { CaseRecord, Page, Section } from './model.ts';
import { annexes, notePage } from './note-page.ts';
import { buildPatient, buildSurgeon, buildTools, toolsCsv } from './papers-of.ts';
import { pageText } from './text.ts';
import { svgOf } from './when/svg.ts';

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
export { annexes, buildPatient, buildSurgeon, buildTools, notePage };
export { pageMarkdown, pageText };

/**
 * `brief`: the page that is signed; `picture`: when everything happened, as SVG; `patient` and `still-in`: the
 * pages for the patient and the next surgeon; `tools` and `tools-csv`: the list for sterile services and restock.
 */
export const noteForms = [
  ...(['text', 'markdown', 'picture', 'csv', 'fhir', 'brief', 'patient', 'still-in'] as const),
  ...(['tools', 'tools-csv'] as const),
] as const;
export type NoteForm = (typeof noteForms)[number];

const forms: Record<NoteForm, (record: CaseRecord, content: Content) => string> = {
  text: pageText,
  markdown: (record) =>
    pageMarkdown({ ...record.first, sections: [...record.first.sections, ...record.sections.map(withTools(record))] }),
  picture: ({ first }) => pictureOf(first),
  csv: noteCsv,
  fhir: noteFhir,
  brief: ({ first }) => pageText(first),
  patient: (record, content) => pageText(buildPatient(record, content)),
  'still-in': (record, content) => pageText(buildSurgeon(record, content)),
  tools: (record) => pageText(buildTools(record)),
  'tools-csv': toolsCsv,
};

/** What goes to sterile services as one list, in the forms of which no signature depends on the words. */
const withTools =
  (record: CaseRecord) =>
  (section: Section): Section =>
    section.id === 'sterile' ? (buildTools(record).sections[0] as Section) : section;

/** The picture of time that stands beside the Markdown; an empty one where nothing has a time. */
function pictureOf({ sections }: Page): string {
  const block = sections.flatMap(({ blocks }) => blocks).find(({ kind }) => kind === 'picture');
  const nothing = { width: 680, height: 1, text: 12, shapes: [], alt: '' };
  return `${svgOf(block?.kind === 'picture' ? block.picture : nothing)}\n`;
}

/**
 * The operative record as a string that ends with a line end.
 *
 * @param content the version that the case names
 * @example note('csv', record, content).startsWith('n,at,logged') // true
 */
export const note = (as: NoteForm, record: CaseRecord, content: Content): string => forms[as](record, content);
