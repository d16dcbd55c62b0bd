/**
 * The department's own content on this device: every version that was ever saved or brought in, none of them ever
 * changed, and which one new cases are opened with. A case carries its own copy, so nothing here is needed to read it.
 */
import { createSignal, type Accessor } from 'solid-js';
import * as v from 'valibot';
import { loadContent } from '../../content/catalog.ts';
import { contentOf } from '../../content/overlay.ts';
import type { OverlayFile } from '../../content/overlay.types.ts';
import { currentVersion } from '../../content/releases/index.ts';
import type { Content } from '../../content/types.ts';
import { failureOf } from '../failure.ts';
import type { Sent } from '../device/share.ts';
import type { CaseMeta } from '../store/port.ts';

/** What of a case's opening says with which content it is read. */
export type Pin = Pick<CaseMeta, 'contentVersion' | 'overlay'>;

/** A department's content as it is worked on: without a version. */
export type OverlayDraft = Omit<OverlayFile, 'version'>;

export interface Department {
  /** Oldest first. */
  versions: Accessor<readonly OverlayFile[]>;
  /** What new cases are opened with; null for the release. */
  inUse: Accessor<OverlayFile | null>;
  /** The version that is to be used and cannot be read any more: new cases get the release. */
  unreadable: Accessor<string | null>;
  content: Accessor<Content>;
  pin: () => Pin;
  /** Keeps a version that was read without a fault; the same again is kept once. */
  keep: (overlay: OverlayFile) => Sent;
  /** Puts a kept version in use for new cases, or the release. */
  use: (version: string | null) => Sent;
}

const KEY = 'counterturn.department';
/** What is not there, or makes no sense, counts as never kept; whether a version can be read is asked of each in turn. */
const keptShape = v.object({
  versions: v.fallback(v.array(v.custom<OverlayFile>(() => true)), []),
  inUse: v.fallback(v.nullable(v.string()), null),
});
type Kept = v.InferOutput<typeof keptShape>;

type Box = Pick<Storage, 'getItem' | 'setItem'>;
// Kept where a start reads it at once: no case may be opened before it is known. Reading the property alone may throw.
const ownBox = (): Box => localStorage;

function readKept(box: () => Box): Kept {
  try {
    return v.parse(keptShape, JSON.parse(box().getItem(KEY) ?? '{}'));
  } catch {
    // Storage that is not allowed or was damaged: new cases get the release, and each case carries its own content.
    return { versions: [], inUse: null };
  }
}

const isReadable = (overlay: OverlayFile): boolean => contentOf(overlay?.version, overlay) !== undefined;

/**
 * The kept versions of this device.
 *
 * @param box where they are kept
 * @example createDepartment().pin().contentVersion // '2026.1' while nothing is in use
 */
export function createDepartment(box: () => Box = ownBox): Department {
  const [kept, setKept] = createSignal(readKept(box));
  const write = (next: Kept): Sent => {
    try {
      box().setItem(KEY, JSON.stringify(next));
    } catch (error) {
      return { ok: false, reason: failureOf(error) };
    }
    setKept(next);
    return { ok: true };
  };
  const versions = () => kept().versions.filter(isReadable);
  const inUse = () => versions().find(({ version }) => version === kept().inUse) ?? null;
  return {
    versions,
    inUse,
    unreadable: () => (inUse() ? null : kept().inUse),
    content: () => {
      const overlay = inUse();
      return (overlay ? contentOf(overlay.version, overlay) : loadContent(currentVersion)) as Content;
    },
    pin: () => {
      const overlay = inUse();
      return overlay ? { contentVersion: overlay.version, overlay } : { contentVersion: currentVersion };
    },
    keep: (overlay) => {
      const now = kept();
      if (now.versions.some(({ version }) => version === overlay.version)) return { ok: true };
      return write({ ...now, versions: [...now.versions, overlay] });
    },
    use: (version) => write({ ...kept(), inUse: version }),
  };
}

let own: Department | undefined;
/** The versions of this device. */
export const department = (): Department => (own ??= createDepartment());

/**
 * Finds the content of any case that this device can read: released, kept here, or carried by a case that is stored.
 *
 * @param stored every case on this device
 */
export function pinOf(version: string, stored: readonly { meta: CaseMeta }[]): Pin | undefined {
  if (loadContent(version)) return { contentVersion: version };
  const beside = stored.find(({ meta }) => meta.contentVersion === version && meta.overlay !== undefined);
  const overlay =
    department()
      .versions()
      .find((one) => one.version === version) ?? beside?.meta.overlay;
  return overlay && contentOf(version, overlay) ? { contentVersion: version, overlay } : undefined;
}
