/** The papers of a record in the language of its content: for the patient, the next surgeon and sterile services. */
import type { Content } from '../../content/types.ts';
import { localeOf } from './locales/index.ts';
import type { CaseRecord, Page } from './model.ts';
import { patientPage } from './papers/patient.ts';
import { surgeonPage } from './papers/surgeon.ts';
import { toolsCsvOf, toolsPage } from './papers/tools-page.ts';

/**
 * The page for the patient.
 *
 * @param content the version that the case names
 * @example buildPatient(record, content).title // 'What is still in: RIGHT tibia'
 */
export const buildPatient = (record: CaseRecord, content: Content): Page =>
  patientPage(record, content, localeOf(content.phrases.language));

/**
 * The page for the next surgeon.
 *
 * @param content the version that the case names
 * @example buildSurgeon(record, content).title // 'For the next surgeon: RIGHT tibia'
 */
export const buildSurgeon = (record: CaseRecord, content: Content): Page =>
  surgeonPage(record, content, localeOf(content.phrases.language));

/**
 * The list for sterile services and restock.
 *
 * @example buildTools(record).sections[0]?.id // 'sterile'
 */
export const buildTools = (record: CaseRecord): Page => toolsPage(record, localeOf(record.language ?? 'en'));

/** The same list as RFC 4180 CSV. */
export const toolsCsv = (record: CaseRecord): string => toolsCsvOf(record, localeOf(record.language ?? 'en'));
