/** Instants read on the wall of a zone, and what counts as a zone. */
import { describe, expect, it } from 'vitest';
import { epoch, inZone, isTime, isZone } from '../../machines/time.ts';

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
