/** Every output of a case as a file. */
import type { FileToSend } from '../../device/share.ts';
import { recordKinds, type RecordKind } from '../../record/file-name.ts';
import { note, recordFileName, type CaseRecord } from '../../record/index.ts';
import type { OpenCase } from '../../session/session.ts';
import { caseFile } from '../../session/case-file.ts';

export const outputKinds = recordKinds;
export type OutputKind = RecordKind;

const types: Record<OutputKind, string> = {
  text: 'text/plain',
  markdown: 'text/markdown',
  picture: 'image/svg+xml',
  csv: 'text/csv',
  fhir: 'application/fhir+json',
  patient: 'text/plain',
  'still-in': 'text/plain',
  tools: 'text/csv',
  case: 'application/json',
};

function contentOf(kind: OutputKind, open: OpenCase, record: CaseRecord): string {
  const { content } = open.folded;
  if (kind === 'case') return `${JSON.stringify(caseFile(open.meta, open.entries), null, 1)}\n`;
  return note(kind === 'tools' ? 'tools-csv' : kind, record, content);
}

/**
 * One output of the open case, under a name that tells nothing of a patient.
 *
 * @example fileOf('csv', open, record).name // 'counterturn-2026-02-17-3f9a01bc-draft.csv'
 */
export const fileOf = (kind: OutputKind, open: OpenCase, record: CaseRecord) =>
  ({
    name: recordFileName(kind, record.facts),
    type: types[kind],
    content: contentOf(kind, open, record),
  }) satisfies FileToSend;
