/** Names of files that leave the device. Nothing in them tells of a patient. */
import type { CaseRecord } from './model.ts';

export const recordKinds = ['text', 'markdown', 'csv', 'fhir', 'still-in', 'case'] as const;
export type RecordKind = (typeof recordKinds)[number];

const endings: Record<RecordKind, string> = {
  text: '.txt',
  markdown: '.md',
  csv: '.csv',
  fhir: '.fhir.json',
  'still-in': '-still-in.txt',
  case: '.case.json',
};

/**
 * A file name from the date of the case and its last seal: no label, no name, no side.
 *
 * @example recordFileName('text', record) // 'counterturn-2026-02-17-3f9a01bc.txt', with '-draft' until it is signed
 */
export function recordFileName(kind: RecordKind, record: CaseRecord): string {
  const { date, headSeal, status } = record.facts;
  const draft = status === 'draft' && kind !== 'case' ? '-draft' : '';
  return `counterturn-${date ?? 'undated'}-${headSeal?.slice(0, 8) ?? 'unsealed'}${draft}${endings[kind]}`;
}
