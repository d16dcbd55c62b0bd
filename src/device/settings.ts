/** What belongs to this device and to no case: how large a millimetre is, how far away people stand, colours, language. */

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

const checks: { [K in keyof Settings]: (value: unknown) => boolean } = {
  pixelsPerMm: (value) => value === null || (typeof value === 'number' && value >= 1 && value <= 40),
  distance: (value) => typeof value === 'number' && value >= 0.3 && value <= 10,
  theme: (value) => value === 'dark' || value === 'light',
  idleMinutes: (value) => typeof value === 'number' && value >= 1 && value <= 60,
  retentionMonths: (value) => value === null || (typeof value === 'number' && value >= 1 && value <= 120),
  language: (value) => typeof value === 'string' && /^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$/.test(value),
};

type Box = Pick<Storage, 'getItem' | 'setItem'>;
// Reading the property alone throws where storage is not allowed.
const ownBox = (): Box => localStorage;

/** The settings kept; whatever is missing or makes no sense is the default. Never throws. */
export function readSettings(box: () => Box = ownBox): Settings {
  try {
    const kept = JSON.parse(box().getItem(KEY) ?? '{}') as Record<string, unknown>;
    const good = Object.entries(checks).filter(([key, check]) => kept !== null && key in kept && check(kept[key]));
    return { ...defaults, ...Object.fromEntries(good.map(([key]) => [key, kept[key]])) };
  } catch {
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
  const known = Object.entries(changes).every(([key, value]) => key in checks && checks[key as keyof Settings](value));
  if (!known) return false;
  try {
    box().setItem(KEY, JSON.stringify({ ...readSettings(box), ...changes }));
    return true;
  } catch {
    return false;
  }
}
