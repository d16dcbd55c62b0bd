/** The invented case of the first run: a briefed plan that can be played through to its note. */
import { languageFiles } from '../../content/reasons.ts';
import { loadContent } from '../../content/catalog.ts';
import { currentVersion } from '../../content/releases/index.ts';
import type { ToolId } from '../../content/ids.ts';
import type { Content } from '../../content/types.ts';
import type { EntryDraft, Entry } from '../../machines/entry.ts';
import { messagesOf } from '../format/messages.ts';

type Opening = Extract<EntryDraft, { type: 'case-opened' }>;

const screw = (id: number, diameter: 3.5 | 5, length: number, cortices: 1 | 2): EntryDraft => ({
  type: 'screw-listed',
  screw: String(id),
  diameter,
  thread: 'cortical',
  locking: true,
  drive: 'hexalobular',
  driveSize: diameter === 5 ? 25 : 15,
  material: 'titanium',
  length,
  cortices,
});

/** What the label of an invented case begins with, in each language of this build. */
const marks = () => ['INVENTED', ...[...languageFiles.values()].map(({ invented }) => invented)];

/** Is this an invented case, by the label it was opened with? */
export const isInvented = (entries: readonly Entry[]): boolean =>
  entries.some((entry) => entry.type === 'case-opened' && marks().some((mark) => entry.label.startsWith(mark)));

/** The words of the release, for where no language is chosen. */
const released = () => messagesOf(loadContent(currentVersion, 'en') as Content);

const plain = (tool: ToolId): EntryDraft => ({ type: 'tool-in-room', tool, present: true });

/**
 * Entries of the invented case, its opening first: a plate with eight locking titanium screws in a tibia of 27 / 5 mm.
 * The room has a hard-metal drill for every screw, reverse tap, extractor and hollow reamer for the large ones alone,
 * no sleeve and no bolt cutter, so that the ladder differs from screw to screw. Nothing in it is a clinical figure.
 *
 * @param zone IANA zone of the device
 * @param w words of its free texts
 * @example demoDrafts()[0]?.type // 'case-opened'
 */
export function demoDrafts(zone = 'UTC', w = released()): [Opening, ...EntryDraft[]] {
  return [
    {
      type: 'case-opened',
      label: w('demo.label'),
      zone,
      side: 'left',
      bone: 'tibia',
      construct: 'plate',
      planned: w('demo.planned'),
      urgency: 'planned',
      placedBy: 'other-team',
      placedMonthsAgo: 40,
      theatreMinutes: 120,
    },
    { type: 'person-listed', role: 'surgeon', who: w('demo.who.surgeon') },
    { type: 'person-listed', role: 'anaesthetist', who: w('demo.who.anaesthetist') },
    { type: 'person-listed', role: 'scrub', who: w('demo.who.scrub') },
    { type: 'person-listed', role: 'circulating', who: w('demo.who.circulating') },
    { type: 'bone-measured', outer: 27, cortex: 5, source: 'measured' },
    screw(1, 3.5, 28, 1),
    screw(2, 3.5, 30, 2),
    screw(3, 5, 36, 2),
    screw(4, 5, 36, 2),
    screw(5, 5, 34, 2),
    screw(6, 5, 34, 2),
    screw(7, 5, 38, 2),
    screw(8, 3.5, 26, 1),
    { type: 'tool-in-room', tool: 'driver-hexalobular', present: true, size: 15 },
    { type: 'tool-in-room', tool: 'driver-hexalobular', present: true, size: 25 },
    { type: 'tool-in-room', tool: 'driver-hexalobular', present: true, size: 27 },
    plain('pick'),
    plain('mallet'),
    plain('metal-foil'),
    plain('locking-pliers'),
    { type: 'tool-in-room', tool: 'conical-extractor', present: true, fits: [5] },
    plain('t-handle'),
    { type: 'tool-in-room', tool: 'hard-metal-drill', present: true, fits: [3.5, 5] },
    { type: 'tool-in-room', tool: 'reverse-tap', present: true, fits: [5] },
    plain('metal-cutting-burr'),
    plain('gouge'),
    { type: 'tool-in-room', tool: 'hollow-reamer', present: true, fits: [5], outer: 7 },
    plain('reversing-drive'),
    plain('image-intensifier'),
    plain('fine-suction'),
    plain('irrigation'),
    { type: 'consent-point', point: 'this-metal', confirmed: true },
    { type: 'consent-point', point: 'placed-elsewhere', confirmed: true },
    { type: 'consent-point', point: 'over-18-months', confirmed: true },
    { type: 'consent-point', point: 'may-break', confirmed: true },
    { type: 'consent-point', point: 'may-stay', confirmed: true },
    { type: 'limits-set', boneConsider: 0.2, boneStop: 0.3, tourniquetMinutes: 120, theatreMinutes: 120 },
  ];
}
