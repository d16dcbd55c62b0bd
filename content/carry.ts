/**
 * A department's content carried over to a later release, step by step: each step has a name and says what has no place
 * in the release that it leads to. Nothing is carried in part: what has no place keeps all of it back, with its path, and
 * the file that it came from stays as it was.
 */
import { loadContent } from './catalog.ts';
import { fault } from './fault.ts';
import { applyOverlay, readOverlay, versionOf } from './overlay.ts';
import { versionPattern, type OverlayFile } from './overlay.types.ts';
import type { Fault } from './shape.ts';
import type { Content } from './types.ts';

export interface CarryStep {
  /** The releases that it leads from and to; a draft counts as the release that it will be. */
  from: string;
  to: string;
  name: string;
  /** What has no place there, by its path into the file. */
  refuses: (overlay: OverlayFile, from: Content, to: Content) => Fault[];
  /** The file as it stands there, but for base, version and where it came from. */
  change: (overlay: OverlayFile, from: Content) => OverlayFile;
}

/** Holds and notices of 2026.1 that ask something else in 2026.2: what they asked before would be answered wrongly. */
const askedAnew = ['reassess', 'second-surgeon', 'bone-consider', 'bone-stop', 'tourniquet', 'consider-trephine'];

type Words = Readonly<Record<string, Readonly<Record<string, Readonly<Record<string, string>>>>>>;

/** LEFT is a side and nothing else; a left-hand tap is a tap. */
const saysLeft = (text: unknown): boolean => typeof text === 'string' && /\bleft\b(?!-hand)/i.test(text);

function wordFaults(overlay: OverlayFile, to: Content): Fault[] {
  return Object.entries((overlay.phrases ?? {}) as Readonly<Record<string, Words>>).flatMap(([language, groups]) =>
    Object.entries(groups).flatMap(([group, rows]) =>
      Object.entries(rows).flatMap(([id, words]): Fault[] => {
        const path = `phrases.${language}.${group}.${id}`;
        if (group === 'holds' && askedAnew.includes(id)) return [fault(path, 'asks-anew', { version: to.version })];
        if (language !== 'en' || typeof words !== 'object') return [];
        return Object.entries(words).flatMap(([field, text]) =>
          saysLeft(text) ? [fault(`${path}.${field}`, 'left-side', { version: to.version })] : [],
        );
      }),
    ),
  );
}

/** Is it the order of the release, so that nothing was ordered? */
const isReleased = ({ order }: OverlayFile, from: Content): boolean =>
  order !== undefined && order.every((id, i) => id === from.moves[i]?.id);

/** All steps there are, oldest first. */
export const carrySteps: readonly CarryStep[] = [
  {
    from: '2026.1',
    to: '2026.2',
    name: 'from one order of moves to an order a stage, and to holds that ask once',
    refuses(overlay, from, to) {
      const known: readonly string[] = from.ids.moves;
      const brought = to.ids.moves.filter((id) => !known.includes(id)).join(', ');
      // Where the department put the moves of one list, the new ones have no place among them.
      const order =
        overlay.order && !isReleased(overlay, from)
          ? [fault('order', 'order-anew', { ids: brought, version: to.version })]
          : [];
      return [...order, ...wordFaults(overlay, to)];
    },
    change(overlay, from) {
      if (!isReleased(overlay, from)) return overlay;
      const { order: _, ...rest } = overlay;
      return rest;
    },
  },
];

/** A version without the mark of a draft. */
const released = (version: string): string => version.replace(/-draft$/, '');

/** The step from one release to another; undefined where there is none. */
export const stepBetween = (from: string, to: string): CarryStep | undefined =>
  carrySteps.find((step) => step.from === released(from) && step.to === released(to));

export type Carried = { overlay: OverlayFile; content: Content; step: CarryStep } | { faults: Fault[] };

/**
 * Carries a department's content over to a later release: limits, intervals, cautions, words, tools, policy, sources and
 * hazards of its own as they are. It gets a version of its own, which names where it came from.
 *
 * @param value what a JSON reader gave: a file over an earlier release
 * @param version of the release to carry it to, which has to be there (`fetchReleases`)
 * @returns the file over that release, or every fault with its path into the old one; never throws
 * @example carryOver(ward3, '2026.2-draft') // { overlay: { base: '2026.2-draft', carriedFrom: '2026.1+ward-3.4f9a1c20', … } }
 */
export function carryOver(value: unknown, version: string): Carried {
  const read = readOverlay(value);
  if ('faults' in read) return read;
  const { overlay } = read;
  const from = loadContent(overlay.base, 'en');
  const to = loadContent(version, 'en');
  if (!from || !to) return { faults: [fault('base', 'no-content', { version: JSON.stringify(version) })] };
  const step = stepBetween(overlay.base, version);
  if (!step) return { faults: [fault('base', 'no-step', { from: overlay.base, to: version })] };
  const faults = step.refuses(overlay, from, to);
  if (faults.length > 0) return { faults };
  const [, , name, number] = versionPattern.exec(overlay.version) as unknown as [string, string, string, string];
  const changed = { ...step.change(overlay, from), base: version, carriedFrom: overlay.version, version: '' };
  const carried = { ...changed, version: versionOf(changed, name, Number(number)) };
  const applied = applyOverlay(to, carried, loadContent(version));
  return 'faults' in applied ? applied : { ...applied, step };
}
