/** The department's content in use as it stands over a later release: carried over, or kept back with the reasons. */
import { carryOver, type Carried } from '../../content/carry.ts';
import { contentVersions } from '../../content/catalog.ts';
import { fetchReleases, laterVersions } from '../../content/later.ts';
import type { OverlayFile } from '../../content/overlay.types.ts';
import type { Pin } from './department.ts';

/** The newest release that a department's content can be carried over to; drafts are for invented cases. */
export const carriedTo = laterVersions[0] as string;

export type Standing =
  /** It lies over that release already. */
  | { state: 'there'; overlay: OverlayFile }
  | { state: 'carried'; overlay: OverlayFile; step: string }
  | { state: 'refused'; faults: Extract<Carried, { faults: unknown }>['faults'] }
  /** The release cannot be had now, without a network. */
  | { state: 'not-here' };

/**
 * How a department's content stands to a later release. Nothing is kept by it.
 *
 * @example (await standingOver(ward3)).state // 'carried'
 */
export async function standingOver(
  overlay: OverlayFile,
  version = carriedTo,
  fetch: (versions: Iterable<string>) => Promise<void> = fetchReleases,
): Promise<Standing> {
  if (overlay.base === version) return { state: 'there', overlay };
  await fetch([version]).catch(() => undefined);
  if (!contentVersions().includes(version)) return { state: 'not-here' };
  const carried = carryOver(overlay, version);
  if ('faults' in carried) return { state: 'refused', faults: carried.faults };
  return { state: 'carried', overlay: carried.overlay, step: carried.step.name };
}

/**
 * With which content a case over a later release is opened where a department's content is in use: with that content
 * carried over, else with the release alone, and why.
 *
 * @param inUse the department's content in use; null: none
 * @returns no pin where the release cannot be had
 * @example await pinOver(null, '2026.2-draft') // { pin: { contentVersion: '2026.2-draft' }, refused: [] }
 */
export async function pinOver(
  inUse: OverlayFile | null,
  version = carriedTo,
  fetch: (versions: Iterable<string>) => Promise<void> = fetchReleases,
): Promise<{ pin: Pin | null; refused: readonly { path: string; message: string }[] }> {
  const release = { contentVersion: version };
  if (!inUse) {
    await fetch([version]).catch(() => undefined);
    return { pin: contentVersions().includes(version) ? release : null, refused: [] };
  }
  const stands = await standingOver(inUse, version, fetch);
  if (stands.state === 'not-here') return { pin: null, refused: [] };
  if (stands.state === 'refused') return { pin: release, refused: stands.faults };
  return { pin: { contentVersion: stands.overlay.version, overlay: stands.overlay }, refused: [] };
}
