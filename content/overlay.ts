/**
 * A department's own content over a released version: checked, merged, checked again as a whole. What comes out is
 * content like any other, under a version of its own that nothing but this very file bears.
 */
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import canonicalize from 'canonicalize';
import * as v from 'valibot';
import { loadContent } from './catalog.ts';
import { checkContent } from './check.ts';
import { moveOf } from './moves.ts';
import { overlaySchema, versionPattern, type Overlay, type OverlayFile, type OverlayPhrases } from './overlay.types.ts';
import { currentVersion } from './releases/index.ts';
import { fault, type FaultCode, type FaultValues } from './fault.ts';
import { faultsOf, laidOver, type Fault } from './shape.ts';
import { fillTemplate } from './template.ts';
import type { Content, Move, Phrases } from './types.ts';

/** Row of the sources that everything points at which the department set. */
export const departmentSource = 'set-by-the-department';

/** `overlay` is the file as it was given: its checksum is over that. */
export type Applied = { overlay: OverlayFile; content: Content } | { faults: Fault[] };

/**
 * The whole version of an overlay: base, short name and number, then the first 8 hex digits of the SHA-256 over the
 * RFC 8785 form of the file with all but these digits in `version`. A changed file under an old version is found out;
 * it does not stop somebody who recomputes it.
 *
 * @param overlay whatever its `version` says
 * @param name lower-case letters, digits and single hyphens
 * @returns such as `2026.1+ward-3.4f9a1c20`
 */
export function versionOf(overlay: OverlayFile, name: string, number: number): string {
  const version = `${overlay.base}+${name}-${number}`;
  const digest = bytesToHex(sha256(utf8ToBytes(canonicalize({ ...overlay, version }) as string)));
  return `${version}.${digest.slice(0, 8)}`;
}

/**
 * Lays an overlay over a released version.
 *
 * @param release the version that it names as its base, in its own language: what is refused is so in every language
 * @param value what a JSON reader gave
 * @param shown the same release in the language that is to be read
 * @returns content that passes the same checks as a release, or every fault with its path into the overlay; never throws
 * @example applyOverlay(release, { format: 'other' }) // { faults: [{ path: 'format', … }, …] }
 */
export function applyOverlay(release: Content, value: unknown, shown = release): Applied {
  const read = v.safeParse(overlaySchema(release.ids), value);
  if (!read.success) return { faults: faultsOf(read.issues) };
  const overlay = read.output;
  const faults = [...ownFaults(release, overlay), ...versionFaults(value as OverlayFile)];
  if (faults.length > 0) return { faults };
  const checked = checkContent(merged(release, overlay));
  if ('content' in checked)
    return { overlay: value as OverlayFile, content: shown === release ? checked.content : merged(shown, overlay) };
  return { faults: checked.faults.map((fault) => ({ ...fault, path: pathInto(fault.path, release, overlay) })) };
}

/**
 * Reads an overlay over the release that it names.
 *
 * @example readOverlay({ base: '1999.1' }) // { faults: [{ path: 'format', … }, …] }
 */
export function readOverlay(value: unknown): Applied {
  const base = (value as { base?: unknown } | null)?.base;
  const release = typeof base === 'string' ? loadContent(base, 'en') : undefined;
  if (release) return applyOverlay(release, value, loadContent(release.version));
  // Nothing tells which ids a release has that this build lacks: those of the present one say what else is wrong.
  const read = v.safeParse(overlaySchema((loadContent(currentVersion) as Content).ids), value);
  const shape = read.success ? [] : faultsOf(read.issues);
  return shape.length > 0
    ? { faults: shape }
    : { faults: [fault('base', 'no-content', { version: JSON.stringify(base) })] };
}

/** By language and the text of the overlay. */
const applied = new Map<string, Applied>();

/**
 * The content that a case was written with.
 *
 * @param version as the case names it
 * @param overlay what is laid over the release, as it was kept beside the case; left out for a released version
 * @returns undefined when the two do not belong together, or this build lacks the release
 * @example contentOf('2026.1')?.version // '2026.1'
 */
export function contentOf(version: string, overlay?: unknown): Content | undefined {
  if (overlay === undefined || overlay === null) return loadContent(version);
  if ((overlay as { version?: unknown }).version !== version) return undefined;
  // The language belongs to the key: the words of the release lie beneath.
  const key = `${loadContent(currentVersion)?.phrases.language} ${JSON.stringify(overlay)}`;
  const read = applied.get(key) ?? readOverlay(overlay);
  applied.set(key, read);
  return 'content' in read ? read.content : undefined;
}

function versionFaults(file: OverlayFile): Fault[] {
  const [, base, name, number] = versionPattern.exec(file.version) as unknown as [string, string, string, string];
  if (base !== file.base) return [fault('version', 'other-version', { base: file.base })];
  const expected = versionOf(file, name, Number(number));
  return expected === file.version ? [] : [fault('version', 'checksum', { digits: expected.slice(-8) })];
}

/** Faults that show in the overlay alone, or only against the release. */
function ownFaults(release: Content, overlay: Overlay): Fault[] {
  const { order, notUsed, antibiotics } = overlay;
  const faults: Fault[] = [];
  const found = (path: string, code: FaultCode, values?: FaultValues) => void faults.push(fault(path, code, values));
  if (overlay.base !== release.version) found('base', 'other-base', { version: release.version });
  if (order) {
    for (const id of release.ids.moves) if (!order.includes(id)) found('order', 'lacks', { id });
    order.forEach((id, i) => order.indexOf(id) < i && found(`order[${i}]`, 'repeats', { id }));
    if (order.at(-1) !== 'leave-in') found('order', 'leave-in-last');
  }
  notUsed.forEach((id, i) => {
    if (id === 'leave-in') found(`notUsed[${i}]`, 'leave-in-used');
    if (notUsed.indexOf(id) < i) found(`notUsed[${i}]`, 'repeats', { id });
  });
  antibiotics.forEach(({ id, dose }, i) => {
    const known = release.antibiotics.some((drug) => drug.id === id);
    if (known && dose !== undefined) found(`antibiotics[${i}].dose`, 'dose-released');
    if (!known && dose === undefined) found(`antibiotics[${i}].dose`, 'missing');
    if (antibiotics.findIndex((drug) => drug.id === id) < i) found(`antibiotics[${i}].id`, 'repeats', { id });
  });
  overlay.consent.forEach(({ id }, i) => {
    if (overlay.consent.findIndex((point) => point.id === id) < i) found(`consent[${i}].id`, 'repeats', { id });
  });
  overlay.sources.forEach(({ id, status }, i) => {
    if (id === departmentSource) found(`sources[${i}].id`, 'repeats', { id });
    if (status === 'department') found(`sources[${i}].status`, 'status-own');
  });
  const words = overlay.phrases[release.phrases.language] ?? {};
  for (const group of ['stages', 'moves', 'holds', 'outcomes'] as const) {
    const own = glances(words[group]);
    const all = { ...glances(release.phrases[group]), ...own };
    for (const id of Object.keys(own))
      if (Object.keys(all).some((other) => other !== id && all[other] === own[id]))
        found(`phrases.${release.phrases.language}.${group}.${id}.glance`, 'glance-taken');
  }
  return faults;
}

/** Glance labels by id, of those that have one. */
const glances = (
  group: Readonly<Record<string, { glance?: string | undefined } | undefined>> = {},
): Record<string, string> =>
  Object.fromEntries(
    Object.entries(group).flatMap(([id, row]) => (row?.glance === undefined ? [] : [[id, row.glance]])),
  );

/** A released row with its own source kept, or the new value with the department as its source. */
const set = <R extends { value: number; source: string } | null>(row: R, value: number | undefined) =>
  value === undefined || value === row?.value ? row : { value, source: departmentSource };

/** The words with those of the consent points that the department adds. */
const withPoints = (phrases: Phrases, { consent }: Overlay): Phrases => ({
  ...phrases,
  consent: { ...phrases.consent, ...Object.fromEntries(consent.map(({ id, label, help }) => [id, { label, help }])) },
});

function merged(release: Content, overlay: Overlay): Content {
  const { limits } = overlay;
  const words: OverlayPhrases = overlay.phrases[release.phrases.language] ?? {};
  const { changedOn, name } = overlay;
  const say = (key: string, fill: Record<string, string>) =>
    fillTemplate(release.phrases.words[key] ?? key, (place) => fill[place] ?? place);
  const points = overlay.consent as unknown as readonly (Content['consent'][number] & {
    label: string;
    help: string;
  })[];
  const isReordered = overlay.order !== undefined && overlay.order.some((id, i) => id !== release.moves[i]?.id);
  return {
    ...release,
    version: overlay.version,
    orderStatus: isReordered ? say('department.order-status', { date: changedOn, name }) : release.orderStatus,
    moves: (overlay.order ?? release.moves.map(({ id }) => id)).map((id) => {
      const move = moveOf(release, id);
      const added = (overlay.cautions.moves?.[id] ?? []).map(({ text, source = departmentSource }) => ({
        text,
        source,
      }));
      return {
        ...move,
        id,
        // A department that orders the list orders every stage.
        order: isReordered ? {} : move.order,
        notUsedHere: overlay.notUsed.includes(id),
        cautions: [...move.cautions, ...added],
        source: isReordered ? departmentSource : move.source,
      };
    }),
    limits: {
      ...release.limits,
      boneConsider: set(release.limits.boneConsider, limits.boneConsider),
      boneStop: set(release.limits.boneStop, limits.boneStop),
      tourniquetMinutes: set(release.limits.tourniquetMinutes, limits.tourniquetMinutes),
      tourniquetNoticeMinutes: set(release.limits.tourniquetNoticeMinutes, limits.tourniquetNoticeMinutes),
    },
    antibiotics: [
      ...release.antibiotics.map((drug) => {
        const own = overlay.antibiotics.find(({ id }) => id === drug.id);
        if (!own || own.redoseHours === drug.redoseHours) return drug;
        return { ...drug, redoseHours: own.redoseHours, source: departmentSource };
      }),
      ...overlay.antibiotics
        .filter(({ id }) => !release.antibiotics.some((drug) => drug.id === id))
        .map(({ id, redoseHours, dose = '' }) => ({ id, redoseHours, dose, source: departmentSource })),
    ],
    // The same lists where nothing is added: what is built for them is built once.
    ids:
      points.length > 0
        ? { ...release.ids, consent: [...release.ids.consent, ...points.map(({ id }) => id)] }
        : release.ids,
    consent: [
      ...release.consent.map((point) => (words.consent?.[point.id] ? { ...point, source: departmentSource } : point)),
      ...points.map(({ id }) => ({ id, source: departmentSource })),
    ],
    hazards: [...release.hazards, ...overlay.hazards.map((hazard) => ({ ...hazard, tests: [] }))],
    sources: [
      ...release.sources,
      {
        id: departmentSource,
        what: say('department.source', { name, version: overlay.version }),
        cite: say('department.cite', { date: changedOn, reason: overlay.reason }),
        status: 'department',
      },
      ...overlay.sources,
    ],
    phrases: {
      ...withPoints(laidOver(release.phrases, words) as Phrases, overlay),
      cautions: [
        ...release.phrases.cautions,
        ...overlay.policy.map((text) => say('department.policy-line', { text, date: changedOn })),
        ...overlay.cautions.standing.map((text) => say('department.caution-line', { text, date: changedOn })),
      ],
    },
    department: {
      base: overlay.base,
      name,
      changedOn,
      reason: overlay.reason,
      policy: overlay.policy,
      ...(overlay.carriedFrom !== undefined && { carriedFrom: overlay.carriedFrom }),
      toolSets: overlay.toolSets,
    },
  };
}

/** Where a fault of the merged content stands in the overlay. */
function pathInto(path: string, release: Content, overlay: Overlay): string {
  const own = (list: string, before: number) => (_: string, index: string) => `${list}[${Number(index) - before}]`;
  const caution = /^moves\[(\d+)\]\.cautions\[(\d+)\](.*)$/.exec(path);
  if (caution) {
    const [, at, index, rest] = caution as unknown as [string, string, string, string];
    const id = (overlay.order ?? release.moves.map((move) => move.id))[Number(at)] as Move['id'];
    const before = release.moves.find((move) => move.id === id)?.cautions.length ?? 0;
    return `cautions.moves.${id}[${Number(index) - before}]${rest}`;
  }
  return path
    .replace(/^sources\[(\d+)\]/, own('sources', release.sources.length + 1))
    .replace(/^hazards\[(\d+)\]/, own('hazards', release.hazards.length))
    .replace(/^(limits\.\w+)\.value$/, '$1')
    .replace(/^phrases\./, `phrases.${release.phrases.language}.`);
}
