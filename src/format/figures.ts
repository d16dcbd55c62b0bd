/** Numbers as they are read: always with a unit, which never breaks away from them. */
const space = '\u00a0';
let mark = '.';
let days: Intl.DateTimeFormat | null = null;

/**
 * Sets how every figure and date is written from now on. Called once, before any is; dates stay ISO 8601 in English.
 *
 * @param language BCP 47
 * @example speakFigures('de'); millimetres(4.5) // '4,5 mm'
 */
export function speakFigures(language: string): void {
  const parts = new Intl.NumberFormat(language).formatToParts(1.5);
  mark = parts.find(({ type }) => type === 'decimal')?.value ?? '.';
  days =
    language === 'en'
      ? null
      : new Intl.DateTimeFormat(language, { day: '2-digit', month: '2-digit', year: 'numeric', timeZone: 'UTC' });
}

/**
 * A day as it is read.
 *
 * @param date ISO 8601
 * @example day('2026-02-17') // '2026-02-17', '17.02.2026' in German
 */
export const day = (date: string): string => (days ? days.format(new Date(`${date}T00:00:00Z`)) : date);

/**
 * A number as it is read.
 *
 * @param number a number, or what stands on the number pad with a point in it
 * @example figure(4.5) // '4.5', '4,5' in German
 */
export const figure = (number: number | string): string => String(number).replace('.', mark);

/**
 * A share as whole per cent.
 *
 * @param share 0–1, or null when it is not known
 * @param unknown what to print for null
 * @example percent(0.1312) // '13 %'
 */
export const percent = (share: number | null, unknown = '–'): string =>
  share === null ? unknown : `${Math.round(share * 100)}${space}%`;

/**
 * A share without its sign, as it stands before "→" and a share with one.
 *
 * @example `${bare(0.131)} → ${percent(0.172)}` // '13 → 17 %'
 */
export const bare = (share: number | null, unknown = '–'): string =>
  share === null ? unknown : String(Math.round(share * 100));

/**
 * A length in mm, to a tenth, without a trailing zero.
 *
 * @example millimetres(4.5) // '4.5 mm'
 * @example millimetres(36.04) // '36 mm'
 */
export const millimetres = (mm: number | null, unknown = '–'): string =>
  mm === null ? unknown : `${figure(Math.round(mm * 10) / 10)}${space}mm`;

/**
 * A span of time with its units; never a bare colon, which reads as a time of day.
 *
 * @param minutes ≥ 0, fractions allowed; a part of a minute is cut, not rounded: a clock has not yet got there
 * @param seconds also give the seconds
 * @example span(48.9) // '48 min'
 * @example span(72) // '1 h 12 min'
 * @example span(2.17, true) // '2 min 10 s'
 */
export function span(minutes: number, seconds = false): string {
  const total = Math.floor(Math.max(0, minutes) * 60 + 1e-6);
  const [h, m, s] = [Math.floor(total / 3600), Math.floor(total / 60) % 60, total % 60];
  const two = (n: number, lead: boolean) => (lead ? String(n).padStart(2, '0') : String(n));
  const parts = h > 0 ? [`${h}${space}h`, `${two(m, true)}${space}min`] : [`${m}${space}min`];
  if (seconds) parts.push(`${two(s, h > 0 || m > 0)}${space}s`);
  return parts.join(space);
}

/** Keys of the number pad. */
export const padKeys = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '.', '0', 'back'] as const;
export type PadKey = (typeof padKeys)[number];

/**
 * What stands on the pad after a key. Keys that would make it longer than it can be read as are ignored.
 *
 * @param decimals digits allowed behind the point
 * @example typed('4', '.', 1) // '4.'
 * @example typed('4.5', '5', 1) // '4.5'
 */
export function typed(text: string, key: PadKey, decimals: number): string {
  if (key === 'back') return text.slice(0, -1);
  const [whole = '', part] = text.split('.');
  if (key === '.') return decimals > 0 && part === undefined ? `${whole || '0'}.` : text;
  if (part !== undefined) return part.length < decimals ? text + key : text;
  if (whole === '0') return key;
  return whole.length < 4 ? text + key : text;
}

/**
 * The number that stands on the pad.
 *
 * @returns null for nothing typed
 * @example typedNumber('4.') // 4
 */
export const typedNumber = (text: string): number | null => (text === '' ? null : Number(text));
