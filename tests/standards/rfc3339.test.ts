/** Times of the log against RFC 3339 (seen): the examples of section 5.8, the grammar of 5.6, the restrictions of 5.7. */
import { describe, expect, it } from 'vitest';
import { epoch, isTime } from '../../machines/time.ts';

describe('RFC 3339, section 5.8: the examples of the standard', () => {
  it.each([
    ['1985-04-12T23:20:50.52Z', Date.UTC(1985, 3, 12, 23, 20, 50, 520)],
    ['1996-12-19T16:39:57-08:00', Date.UTC(1996, 11, 20, 0, 39, 57)],
    ['1990-12-31T23:59:60Z', Date.UTC(1991, 0, 1)],
    ['1990-12-31T15:59:60-08:00', Date.UTC(1991, 0, 1)],
    ['1937-01-01T12:00:27.87+00:20', Date.UTC(1937, 0, 1, 11, 40, 27, 870)],
  ])('%s', (text, ms) => expect(epoch(text)).toBe(ms));

  it('1996-12-19T16:39:57-08:00 is 1996-12-20T00:39:57Z', () => {
    expect(epoch('1996-12-19T16:39:57-08:00')).toBe(epoch('1996-12-20T00:39:57Z'));
  });
});

describe('RFC 3339, section 5.6: the grammar', () => {
  it.each([
    '2026-03-04t09:00:00z',
    '2026-03-04T09:00:00.1Z',
    '2026-03-04T09:00:00.123456789Z',
    '2026-03-04T09:00:00-00:00',
    '2026-03-04T09:00:00+23:59',
    '0001-01-01T00:00:00Z',
    '2028-02-29T00:00:00Z',
    '2000-02-29T00:00:00Z',
    '2026-01-31T00:00:00Z',
    '2026-12-31T23:59:59Z',
    '2026-06-30T00:00:00Z',
  ])('takes %s', (text) => expect(isTime(text)).toBe(true));

  it.each([
    '',
    '2026-03-04',
    '09:00:00Z',
    '2026-03-04T09:00Z',
    '2026-03-04T09:00:00',
    '2026-03-04 09:00:00Z',
    '2026-03-04T09:00:00+01',
    '2026-03-04T09:00:00+0100',
    '2026-03-04T09:00:00.Z',
    '2026-03-04T09:00:00,5Z',
    '2026-3-4T09:00:00Z',
    '26-03-04T09:00:00Z',
    '+002026-03-04T09:00:00Z',
    '2026-03-04T9:00:00Z',
    ' 2026-03-04T09:00:00Z',
    '2026-03-04T09:00:00Z ',
    '2026-03-04T09:00:00Z\n',
    '2026-W10-3T09:00:00Z',
    '2026-063T09:00:00Z',
    '٢٠٢٦-03-04T09:00:00Z',
    '2026-03-04T09:00:00[Europe/Oslo]',
  ])('does not take %j', (text) => expect(isTime(text)).toBe(false));
});

describe('RFC 3339, section 5.7: the restrictions', () => {
  it.each([
    '2026-00-10T00:00:00Z',
    '2026-13-10T00:00:00Z',
    '2026-01-00T00:00:00Z',
    '2026-01-32T00:00:00Z',
    '2026-04-31T00:00:00Z',
    '2026-06-31T00:00:00Z',
    '2026-09-31T00:00:00Z',
    '2026-11-31T00:00:00Z',
    '2026-02-29T00:00:00Z',
    '2100-02-29T00:00:00Z',
    '2028-02-30T00:00:00Z',
    '2026-01-01T24:00:00Z',
    '2026-01-01T00:60:00Z',
    '2026-01-01T00:00:61Z',
    '2026-01-01T00:00:00+24:00',
    '2026-01-01T00:00:00+00:60',
  ])('there is no %s', (text) => expect(isTime(text)).toBe(false));

  it('a second 60 is the last of a month in UTC, nowhere else', () => {
    expect(isTime('2016-12-31T23:59:60Z')).toBe(true);
    expect(isTime('2017-01-01T00:59:60+01:00')).toBe(true);
    expect(isTime('2016-12-31T12:59:60Z')).toBe(false);
    expect(isTime('2016-12-30T23:59:60Z')).toBe(false);
    expect(isTime('2016-12-31T23:58:60Z')).toBe(false);
    expect(isTime('2016-12-31T23:59:60+01:00')).toBe(false);
    expect(isTime('2017-01-01T00:29:60+00:30')).toBe(true);
    expect(isTime('2017-01-01T05:59:60Z')).toBe(false);
    expect(isTime('2017-01-01T00:29:60Z')).toBe(false);
  });
});
