/** A department's content as a file, read and written, and the version that it is saved as. */
import { readOverlay, versionOf } from '../../content/overlay.ts';
import { versionPattern, type OverlayFile } from '../../content/overlay.types.ts';
import type { Fault } from '../../machines/entry.ts';
import { readJson } from '../read-json.ts';
import type { OverlayDraft } from './department.ts';

/** What a file of a department's content says, or every fault of it with its path. */
export function readDepartmentFile(bytes: Uint8Array): { overlay: OverlayFile } | { faults: readonly Fault[] } {
  const json = readJson(bytes);
  return 'faults' in json ? json : readOverlay(json.value);
}

/** A version as the file that other devices and the commands take in. */
export const departmentFile = (overlay: OverlayFile) => ({
  name: `counterturn-${overlay.version.replace('+', '-')}.content.json`,
  type: 'application/json',
  content: `${JSON.stringify(overlay, null, 1)}\n`,
});

/**
 * The short name that a version carries.
 *
 * @example shortName('Theatre 2, trauma') // 'theatre-2-trauma'
 */
export function shortName(name: string): string {
  const letters = name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/\p{M}/gu, '')
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, 20)
    .replace(/^[^a-z]+|-+$/g, '');
  return letters || 'department';
}

/**
 * A draft under the version that it would be saved as: one more than the highest of that short name.
 *
 * @example withVersion(draft, []).version // '2026.1+ward-1.4f9a1c20'
 */
export function withVersion(draft: OverlayDraft, versions: readonly { version: string }[]): OverlayFile {
  const short = shortName(draft.name);
  const numbers = versions.flatMap(({ version }) => {
    const [, , name, number] = versionPattern.exec(version) ?? [];
    return name === short ? [Number(number)] : [];
  });
  const file = { ...draft, version: '' };
  return { ...file, version: versionOf(file, short, Math.max(0, ...numbers) + 1) };
}
