/** A stored case as the file that other programs read. */
import type { CaseFile } from '../../machines/case-file.ts';
import { caseFormat, formatOfLog } from '../../machines/conversions.ts';
import type { Entry } from '../../machines/entry.ts';
import { download } from '../device/share.ts';
import type { CaseMeta } from '../store/port.ts';

/**
 * The case file of a case, with `head`, so that a dropped tail is found.
 *
 * @example caseFile(meta, entries).head?.n === entries.length // true
 */
export function caseFile(
  { contentVersion, format: begins = 1 }: Pick<CaseMeta, 'contentVersion' | 'format'>,
  entries: readonly Entry[],
): CaseFile {
  const last = entries.at(-1);
  const head = last?.seal === undefined ? {} : { head: { n: last.n, seal: last.seal } };
  const rules = entries.findLast((entry) => entry.type === 'case-opened' || entry.type === 'format-raised');
  return {
    ...{ format: caseFormat, formatVersion: Math.max(begins, formatOfLog(entries)), contentVersion },
    ...(rules && 'rules' in rules && rules.rules !== undefined && { rules: rules.rules }),
    ...{ entries: [...entries], ...head },
  };
}

/** Name without anything that identifies a patient: the day and the first of the last seal. */
export const caseFileName = (entries: readonly Entry[]): string =>
  `counterturn-${entries[0]?.at.slice(0, 10) ?? 'empty'}-${entries.at(-1)?.seal?.slice(0, 8) ?? 'unsealed'}.case.json`;

export function downloadCase({ meta }: { meta: CaseMeta }, entries: readonly Entry[]): void {
  download({
    name: caseFileName(entries),
    type: 'application/json',
    content: `${JSON.stringify(caseFile(meta, entries), null, 1)}\n`,
  });
}
