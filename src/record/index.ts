/** The record of a case in every form it leaves the device. */
import type { Content } from '../../content/types.ts';
import { noteCsv } from './csv.ts';
import { noteFhir } from './fhir.ts';
import { pageMarkdown } from './markdown.ts';
import type { CaseRecord, Page } from './model.ts';
import { buildStillIn } from './still-in.ts';
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
export { annexes, notePage } from './note-page.ts';
export { buildStillIn } from './still-in.ts';
export { pageMarkdown, pageText };

/** `brief`: the page that is signed; `picture`: when everything happened, as SVG; `patient` and `still-in`: the pages for the patient and the next surgeon. */
export const noteForms = ['text', 'markdown', 'picture', 'csv', 'fhir', 'brief', 'patient', 'still-in'] as const;
export type NoteForm = (typeof noteForms)[number];

const forms: Record<NoteForm, (record: CaseRecord, content: Content) => string> = {
  text: pageText,
  markdown: (record) => pageMarkdown({ ...record.first, sections: [...record.first.sections, ...record.sections] }),
  picture: ({ first }) => pictureOf(first),
  csv: noteCsv,
  fhir: noteFhir,
  brief: ({ first }) => pageText(first),
  patient: (record, content) => pageText(partOf(buildStillIn(record, content), forPatient)),
  'still-in': (record, content) => pageText(partOf(buildStillIn(record, content), forSurgeon)),
};

/** The picture of time that stands beside the Markdown; an empty one where nothing has a time. */
function pictureOf({ sections }: Page): string {
  const block = sections.flatMap(({ blocks }) => blocks).find(({ kind }) => kind === 'picture');
  const nothing = { width: 680, height: 1, text: 12, shapes: [], alt: '' };
  return `${svgOf(block?.kind === 'picture' ? block.picture : nothing)}\n`;
}

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
