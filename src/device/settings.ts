/** What belongs to this device and to no case: how large a millimetre is, how far away people stand, colours, language. */
import * as v from 'valibot';
import { isObject } from '../../content/shape.ts';

export interface Settings {
  /** CSS pixels per mm, measured with the calibration card; null until then. */
  pixelsPerMm: number | null;
  /** m from the screen to the reader. */
  distance: number;
  theme: 'dark' | 'light';
  /** BCP 47; null until one was settled on. */
  language: string | null;
  /** Minutes without a touch, with no case in work, after which the passcode is asked for again. */
  idleMinutes: number;
  /** Months after which a case counts as old; null for never. */
  retentionMonths: number | null;
}

export const defaults: Settings = {
  pixelsPerMm: null,
  distance: 2.5,
  theme: 'dark',
  language: null,
  idleMinutes: 5,
  retentionMonths: null,
};

const KEY = 'counterturn.settings';

const between = (least: number, most: number) => v.pipe(v.number(), v.minValue(least), v.maxValue(most));

const shapes: { [K in keyof Settings]: v.GenericSchema<Settings[K]> } = {
  pixelsPerMm: v.nullable(between(1, 40)),
  distance: between(0.3, 10),
  theme: v.picklist(['dark', 'light']),
  idleMinutes: between(1, 60),
  retentionMonths: v.nullable(between(1, 120)),
  language: v.pipe(v.string(), v.regex(/^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$/)),
};
const isGood = (key: string, value: unknown): boolean =>
  Object.hasOwn(shapes, key) && v.is(shapes[key as keyof Settings], value);

type Box = Pick<Storage, 'getItem' | 'setItem'>;
// Reading the property alone throws where storage is not allowed.
const ownBox = (): Box => localStorage;

/** The settings kept; whatever is missing or makes no sense is the default. Never throws. */
export function readSettings(box: () => Box = ownBox): Settings {
  try {
    const kept: unknown = JSON.parse(box().getItem(KEY) ?? '{}');
    const good = isObject(kept) ? Object.entries(kept).filter(([key, value]) => isGood(key, value)) : [];
    return { ...defaults, ...Object.fromEntries(good) };
  } catch {
    // Storage that is not allowed, or text that is no JSON.
    return { ...defaults };
  }
}

/**
 * Keeps some settings beside those that are kept already.
 *
 * @returns false when the browser refuses, or a value makes no sense: then nothing is kept
 * @example saveSettings({ distance: 3 }) // true
 */
export function saveSettings(changes: Partial<Settings>, box: () => Box = ownBox): boolean {
  if (!Object.entries(changes).every(([key, value]) => isGood(key, value))) return false;
  try {
    box().setItem(KEY, JSON.stringify({ ...readSettings(box), ...changes }));
    return true;
  } catch {
    // Storage that is not allowed, or full: what was chosen holds until the page ends.
    return false;
  }
}
