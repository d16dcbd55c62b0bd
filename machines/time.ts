/**
 * Times as RFC 3339 writes them, and durations in minutes. No clock here: a time comes in with an entry.
 */
const pattern = /^(\d{4})-(\d\d)-(\d\d)[Tt](\d\d):(\d\d):(\d\d)(\.\d+)?([Zz]|[+-]\d\d:\d\d)$/;

/**
 * Milliseconds since 1970-01-01T00:00:00Z.
 *
 * @param text a time as RFC 3339 section 5.6 writes it; a leap second counts as the second after it
 * @returns NaN when it is none (also for days that do not exist, such as 30 February)
 * @example epoch('1996-12-19T16:39:57-08:00') // 851042397000, the second example of RFC 3339 section 5.8
 */
export function epoch(text: string): number {
  if (text !== last.text) last = { text, ms: parsed(text) };
  return last.ms;
}

/** The time of an entry is asked for many times in a row. */
let last = { text: '', ms: NaN };

function parsed(text: string): number {
  const match = pattern.exec(text);
  if (!match) return NaN;
  const [year, month, day, hour, minute, second] = match.slice(1, 7).map(Number) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  if (month < 1 || month > 12 || day < 1 || day > daysIn(year, month) || hour > 23 || minute > 59 || second > 60)
    return NaN;
  const offset = match[8] as string;
  const [hours, minutes] = /[Zz]/.test(offset) ? [0, 0] : (offset.slice(1).split(':').map(Number) as [number, number]);
  if (hours > 23 || minutes > 59) return NaN;
  const away = (offset.startsWith('-') ? -1 : 1) * (hours * 60 + minutes);
  const ms = match[7] ? Math.trunc(Number(match[7]) * 1000) : 0;
  const date = new Date(0);
  date.setUTCFullYear(year, month - 1, day);
  date.setUTCHours(hour, minute, second, ms);
  const utc = date.getTime() - away * 60_000;
  return second === 60 && !beginsMonth(new Date(utc)) ? NaN : utc;
}

/** A leap second is the last second of a month in UTC: what follows it begins the next. */
const beginsMonth = (after: Date) =>
  after.getUTCDate() === 1 && after.getUTCHours() === 0 && after.getUTCMinutes() === 0;

const daysIn = (year: number, month: number) =>
  month === 2
    ? year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0)
      ? 29
      : 28
    : [4, 6, 9, 11].includes(month)
      ? 30
      : 31;

/** Is this a time with an offset or Z, as RFC 3339 writes it? */
export const isTime = (text: string): boolean => !Number.isNaN(epoch(text));

/** Is this a zone name that this machine's time zone tables know? */
export function isZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en-GB', { timeZone: name });
    return /^[A-Za-z]/.test(name);
  } catch {
    // A RangeError is the only way to learn that a name is not known.
    return false;
  }
}

const formats = new Map<string, Intl.DateTimeFormat>();
const minutes = new Map<string, { minute: number; date: string; time: string }>();

/**
 * Wall-clock reading of an instant in a zone, always in the same spelling, whatever the machine's own settings.
 *
 * @returns `date` as 2026-02-17, `time` as 10:12:00
 * @example inZone(0, 'Europe/Oslo') // { date: '1970-01-01', time: '01:00:00' }
 */
export function inZone(ms: number, zone: string): { date: string; time: string } {
  // Asked at every entry and every second, and slow to answer: within a minute only the second is another. A zone
  // that is not whole minutes away from UTC just then is asked again.
  const minute = Math.floor(ms / 60_000);
  const known = minutes.get(zone);
  const second = String(Math.floor(ms / 1000) - minute * 60).padStart(2, '0');
  if (known?.minute === minute) return { date: known.date, time: `${known.time}:${second}` };
  const { date, time } = formatted(ms, zone);
  if (time.endsWith(`:${second}`)) minutes.set(zone, { minute, date, time: time.slice(0, 5) });
  return { date, time };
}

function formatted(ms: number, zone: string): { date: string; time: string } {
  let format = formats.get(zone);
  if (!format) {
    format = new Intl.DateTimeFormat('en-GB', {
      timeZone: zone,
      calendar: 'gregory',
      numberingSystem: 'latn',
      hourCycle: 'h23',
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
      hour: '2-digit',
      minute: '2-digit',
      second: '2-digit',
    });
    formats.set(zone, format);
  }
  const part = Object.fromEntries(format.formatToParts(ms).map((p) => [p.type, p.value])) as Record<
    Intl.DateTimeFormatPartTypes,
    string
  >;
  return {
    date: `${part.year.padStart(4, '0')}-${part.month}-${part.day}`,
    time: `${part.hour}:${part.minute}:${part.second}`,
  };
}

/** Minutes by which a zone is ahead of UTC at an instant; NaN for an instant out of range. */
export function offsetMinutes(ms: number, zone: string): number {
  const { date, time } = inZone(ms, zone);
  return Math.round((epoch(`${date}T${time}Z`) - Math.floor(ms / 1000) * 1000) / 60_000);
}

/**
 * An offset as RFC 3339 writes it.
 *
 * @param minutes ahead of UTC
 * @example offsetText(-210) // '-03:30'
 */
export function offsetText(minutes: number): string {
  const two = (value: number) => String(value).padStart(2, '0');
  return `${minutes < 0 ? '-' : '+'}${two(Math.floor(Math.abs(minutes) / 60))}:${two(Math.abs(minutes) % 60)}`;
}

/**
 * An instant as RFC 3339 writes it, with milliseconds and the offset of a zone.
 *
 * @throws RangeError for an unknown zone
 * @example timeIn('Europe/Oslo', 0) // '1970-01-01T01:00:00.000+01:00'
 */
export function timeIn(zone: string, ms: number): string {
  const { date, time } = inZone(ms, zone);
  const fraction = Math.floor(((ms % 1000) + 1000) % 1000);
  return `${date}T${time}.${String(fraction).padStart(3, '0')}${offsetText(offsetMinutes(ms, zone))}`;
}

/**
 * A time so many minutes earlier, with the same spelling of its offset.
 *
 * @param time RFC 3339
 * @throws RangeError when it is none
 * @example minutesBefore('2026-02-17T00:10:00.000+01:00', 20) // '2026-02-16T23:50:00.000+01:00'
 */
export function minutesBefore(time: string, minutes: number): string {
  const offset = pattern.exec(time)?.[8] as string;
  const ahead = -epoch(`1970-01-01T00:00:00${offset}`);
  return new Date(epoch(time) + ahead - minutes * 60_000).toISOString().replace('Z', offset);
}
