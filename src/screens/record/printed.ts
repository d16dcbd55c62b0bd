/** What is printed of a record, each on sheets of its own. */
import { buildPatient, buildSurgeon, buildTools, notePage, type CaseRecord, type Page } from '../../record/index.ts';
import type { Content } from '../../../content/types.ts';

export type Printed = 'note' | 'patient' | 'still-in' | 'lists';

/** One page by its name. */
export function pageOf(printed: Printed, record: CaseRecord, content: Content): Page {
  if (printed === 'note') return notePage(record);
  if (printed === 'lists') return buildTools(record);
  return printed === 'patient' ? buildPatient(record, content) : buildSurgeon(record, content);
}
