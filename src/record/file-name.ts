/** Names of files that leave the device. Nothing in them tells of a patient. */
import type { RecordFacts } from './model.ts';

/** What a name is made of. */
type Named = Pick<RecordFacts, 'date' | 'headSeal' | 'status'>;

export const recordKinds = [
  'text',
  'markdown',
  'picture',
  'csv',
  'fhir',
  'patient',
  'still-in',
  'tools',
  'case',
] as const;
export type RecordKind = (typeof recordKinds)[number];

const endings: Record<RecordKind, string> = {
  text: '.txt',
  markdown: '.md',
  picture: '-time.svg',
  csv: '.csv',
  fhir: '.fhir.json',
  patient: '-patient.txt',
  'still-in': '-still-in.txt',
  tools: '-tools.csv',
  case: '.case.json',
};

/**
 * A file name from the date of the case and its last seal: no label, no name, no side.
 *
 * @example recordFileName('text', record.facts) // 'counterturn-2026-02-17-3f9a01bc.txt', with '-draft' until it is signed
 */
export function recordFileName(kind: RecordKind, { date, headSeal, status }: Named): string {
  const draft = status === 'draft' && kind !== 'case' ? '-draft' : '';
  return `counterturn-${date ?? 'undated'}-${headSeal?.slice(0, 8) ?? 'unsealed'}${draft}${endings[kind]}`;
}
