/** Instants read on the wall of a zone and written with its offset, times some minutes back, what counts as a zone. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import {
  epoch,
  inZone,
  isTime,
  isZone,
  minutesBefore,
  offsetMinutes,
  offsetText,
  timeIn,
} from '../../machines/time.ts';

const read = (text: string, zone: string) => {
  const { date, time } = inZone(epoch(text), zone);
  return `${date} ${time}`;
};

describe('an instant read in a zone', () => {
  it.each([
    ['2026-02-17T09:12:00Z', 'Europe/Oslo', '2026-02-17 10:12:00'],
    ['2026-02-17T23:30:05Z', 'Europe/Oslo', '2026-02-18 00:30:05'],
    ['2026-07-01T00:00:00Z', 'Asia/Kolkata', '2026-07-01 05:30:00'],
    ['2026-07-01T00:00:00Z', 'America/St_Johns', '2026-06-30 21:30:00'],
    ['2026-01-01T00:00:00Z', 'UTC', '2026-01-01 00:00:00'],
    ['1969-12-31T23:59:58Z', 'UTC', '1969-12-31 23:59:58'],
    ['0007-06-05T04:03:02Z', 'UTC', '0007-06-05 04:03:02'],
  ])('%s in %s is %s', (text, zone, expected) => expect(read(text, zone)).toBe(expected));

  it('second by second and back again, always its own', () => {
    const zone = 'Europe/Lisbon';
    expect(read('2026-02-17T09:12:00Z', zone)).toBe('2026-02-17 09:12:00');
    expect(read('2026-02-17T09:12:59.999Z', zone)).toBe('2026-02-17 09:12:59');
    expect(read('2026-02-17T09:13:00Z', zone)).toBe('2026-02-17 09:13:00');
    expect(read('2026-02-17T09:12:07Z', zone)).toBe('2026-02-17 09:12:07');
    expect(read('2026-02-18T09:12:07Z', zone)).toBe('2026-02-18 09:12:07');
  });

  it('in two zones in turn keeps them apart', () => {
    for (let round = 0; round < 2; round++) {
      expect(read('2026-02-17T09:12:04Z', 'Europe/Oslo')).toBe('2026-02-17 10:12:04');
      expect(read('2026-02-17T09:12:04Z', 'Asia/Tokyo')).toBe('2026-02-17 18:12:04');
    }
  });

  // Monrovia kept a clock 44 min 30 s behind Greenwich until January 1972 (time zone database).
  it('where a zone is not whole minutes away, the seconds are the zone’s own', () => {
    expect(read('1970-01-01T00:00:00Z', 'Africa/Monrovia')).toBe('1969-12-31 23:15:30');
    expect(read('1970-01-01T00:00:10Z', 'Africa/Monrovia')).toBe('1969-12-31 23:15:40');
    expect(read('1970-01-01T00:00:40Z', 'Africa/Monrovia')).toBe('1969-12-31 23:16:10');
  });
});

describe('the tables of the zones', () => {
  afterEach(() => vi.restoreAllMocks());
  const asked = () => vi.spyOn(Intl.DateTimeFormat.prototype, 'formatToParts');

  it('are asked once a minute while seconds are read, and always the same table', () => {
    const tables = asked();
    const seconds = Array.from({ length: 120 }, (_, s) => inZone(Date.UTC(2026, 1, 17, 9, 12, s), 'Pacific/Chatham'));
    expect(seconds.at(59)).toEqual({ date: '2026-02-17', time: '22:57:59' });
    expect(seconds.at(60)).toEqual({ date: '2026-02-17', time: '22:58:00' });
    expect(tables).toHaveBeenCalledTimes(2);
    expect(new Set(tables.mock.contexts).size).toBe(1);
  });

  it('are asked every time where a zone is not whole minutes away', () => {
    const tables = asked();
    for (let second = 0; second < 5; second++) inZone(second * 1000, 'Africa/Monrovia');
    expect(tables).toHaveBeenCalledTimes(5);
  });
});

describe('an instant written with the offset of a zone', () => {
  it.each([
    [0, 'Europe/Oslo', '1970-01-01T01:00:00.000+01:00'],
    [Date.UTC(2026, 6, 1, 12, 30, 15, 42), 'Europe/Oslo', '2026-07-01T14:30:15.042+02:00'],
    [Date.UTC(2026, 6, 1, 12, 30, 15, 42), 'America/St_Johns', '2026-07-01T10:00:15.042-02:30'],
    [Date.UTC(2026, 0, 1, 0, 0, 0, 7), 'America/St_Johns', '2025-12-31T20:30:00.007-03:30'],
    [Date.UTC(2026, 6, 1, 12, 30, 15, 420), 'Asia/Kathmandu', '2026-07-01T18:15:15.420+05:45'],
    [Date.UTC(2026, 6, 1, 12, 30, 15), 'UTC', '2026-07-01T12:30:15.000+00:00'],
    [-1, 'UTC', '1969-12-31T23:59:59.999+00:00'],
    [-1000, 'UTC', '1969-12-31T23:59:59.000+00:00'],
    [1500.75, 'UTC', '1970-01-01T00:00:01.500+00:00'],
  ])('%d in %s is %s', (ms, zone, expected) => expect(timeIn(zone, ms)).toBe(expected));

  it('names the hour that an autumn night has twice by its offset', () => {
    const hour = 3_600_000;
    const first = epoch('2026-10-25T02:30:00+02:00');
    expect(timeIn('Europe/Oslo', first)).toBe('2026-10-25T02:30:00.000+02:00');
    expect(timeIn('Europe/Oslo', first + hour)).toBe('2026-10-25T02:30:00.000+01:00');
  });

  it('is not written for a zone that nobody knows', () => {
    expect(() => timeIn('Nowhere/Town', 0)).toThrow(RangeError);
  });
});

describe('the offset of a zone', () => {
  it.each([
    [Date.UTC(2026, 0, 1), 'Europe/Oslo', 60],
    [Date.UTC(2026, 6, 1), 'Europe/Oslo', 120],
    [Date.UTC(2026, 0, 1), 'America/St_Johns', -210],
    [Date.UTC(2026, 0, 1, 9, 30, 15, 500), 'Asia/Kathmandu', 345],
    [Date.UTC(2026, 0, 1), 'UTC', 0],
    [-1, 'Europe/Oslo', 60],
  ])('at %d in %s is %d min', (ms, zone, minutes) => expect(offsetMinutes(ms, zone)).toBe(minutes));

  it('is not a number after the year 9999, which RFC 3339 cannot write', () => {
    expect(offsetMinutes(Date.UTC(10_000, 0, 2), 'Europe/Oslo')).toBeNaN();
  });

  it.each([
    [0, '+00:00'],
    [60, '+01:00'],
    [345, '+05:45'],
    [840, '+14:00'],
    [-210, '-03:30'],
    [-45, '-00:45'],
    [-720, '-12:00'],
  ])('of %d min is written %s', (minutes, text) => expect(offsetText(minutes)).toBe(text));
});

describe('a time some minutes back', () => {
  it.each([
    ['2026-02-17T00:10:00.000+01:00', 20, '2026-02-16T23:50:00.000+01:00'],
    ['2026-02-17T10:12:30.250+01:00', 5, '2026-02-17T10:07:30.250+01:00'],
    ['2026-01-01T00:00:00.000-03:30', 1, '2025-12-31T23:59:00.000-03:30'],
    ['2028-03-01T00:30:00.000+05:45', 60, '2028-02-29T23:30:00.000+05:45'],
    ['2026-02-17T09:12:00Z', 2, '2026-02-17T09:10:00.000Z'],
    ['2026-02-17t09:12:00z', 2, '2026-02-17T09:10:00.000z'],
    ['2026-02-17T09:12:00.000+00:00', 0, '2026-02-17T09:12:00.000+00:00'],
    ['2026-02-17T09:12:00.000-23:59', 1.5, '2026-02-17T09:10:30.000-23:59'],
  ])('%s less %d min is %s', (time, minutes, expected) => {
    const before = minutesBefore(time, minutes);
    expect(before).toBe(expected);
    expect(epoch(time) - epoch(before)).toBe(minutes * 60_000);
  });

  it.each(['', 'noon', '2026-02-30T09:12:00+01:00', '2026-02-17T09:12:00'])('is none of %j', (time) =>
    expect(() => minutesBefore(time, 5)).toThrow(RangeError),
  );
});

describe('a zone', () => {
  it.each(['Europe/Oslo', 'UTC', 'America/Argentina/Ushuaia', 'etc/gmt+3'])('%s is one', (name) =>
    expect(isZone(name)).toBe(true),
  );
  it.each(['', 'Europe/Nowhere', '+01:00', '-08:00', 'Oslo'])('%j is none', (name) => expect(isZone(name)).toBe(false));
});

describe('a time asked for again', () => {
  it('is read anew when another was asked for between', () => {
    expect(epoch('2026-02-17T09:12:00Z')).toBe(Date.UTC(2026, 1, 17, 9, 12));
    expect(epoch('2026-02-17T09:12:00Z')).toBe(Date.UTC(2026, 1, 17, 9, 12));
    expect(epoch('2026-02-17T09:13:00Z')).toBe(Date.UTC(2026, 1, 17, 9, 13));
    expect(isTime('')).toBe(false);
    expect(isTime('noon')).toBe(false);
  });
});
