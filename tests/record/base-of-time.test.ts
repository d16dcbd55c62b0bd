/** By which clock times are printed, and what is not known of a duration. */
import { describe, expect, it } from 'vitest';
import { papersOf, Story } from './situations.ts';

const compared = (theatre: string, source: 'wall' | 'station') =>
  ({ type: 'clock-compared', theatreClock: `2026-03-04T${theatre}+01:00`, source }) as const;

/** The device is 2 min 5 s behind the clock on the wall; a slip, and the screw out. */
const told = (source: 'wall' | 'station') =>
  new Story()
    .atWork()
    .tell('10:06', compared('10:08:05', source))
    .begins('10:10', '1', 'turn-out')
    .ends('10:12', '1', 'out', { recovered: 36, lengthHow: 'measured', whole: true })
    .tell('10:20', { type: 'tourniquet', to: 'up' })
    .tell('10:50', { type: 'tourniquet', to: 'down' })
    .tell('11:00', { type: 'work-ended' });

describe('a case whose device was compared with the clock on the wall', () => {
  const papers = papersOf(told('wall').entries);

  it('is printed by the clock on the wall, and what the device showed stands beside it', () => {
    expect(papers.value('times', 'work-started')).toBe('10:07:05 UTC+01:00 (device 10:05:00)');
    expect(papers.value('times', 'clock')).toMatch(/^theatre clock, by the comparison in entry \d+/);
    expect(papers.section('screws')).toContain(
      '10:12:05 Turn out with the matched driver, ended 10:14:05 (2 min): screw 1 came out; then: out',
    );
    expect(papers.value('operation', 'tourniquet')).toContain('up 10:22:05, down 10:52:05, 30 min');
    const row = papers.rows.find(({ sentence }) => sentence === 'Screw 1 was called.' || /driver began/.test(sentence));
    expect(row).toMatchObject({ time: '10:12:05', marks: ['DEVICE 10:10:00'] });
  });

  it('says the same in German, and in FHIR', () => {
    const german = papersOf(told('wall').entries, 'de');
    expect(german.value('times', 'work-started')).toBe('10:07:05 UTC+01:00 (Gerät 10:05:00)');
    const fate = papers.record.facts.screws[0]?.attempts[0];
    expect(new Date(fate?.from ?? 0).toISOString()).toBe('2026-03-04T09:12:05.000Z');
  });

  it('is printed as the device showed it when only the clock of a station was read', () => {
    const station = papersOf(told('station').entries);
    expect(station.value('times', 'work-started')).toBe('10:05:00 UTC+01:00');
    expect(station.value('times', 'clock')).toBe('that of the device, as it showed it');
    expect(station.rows.flatMap(({ marks }) => marks).join()).not.toContain('DEVICE');
  });

  it('keeps its base across a jump of the device: the jump is taken out, and named', () => {
    const story = new Story()
      .atWork()
      .tell('10:06', compared('10:08:05', 'wall'))
      .begins('10:10', '1', 'turn-out')
      .tell('11:11', { type: 'clock-jumped', seconds: 3600 })
      .ends('11:12', '1', 'out');
    const jumped = papersOf(story.entries);
    expect(jumped.section('screws').at(-1)).toMatch(/^10:12:05 .*, ended 10:14:05 \(2 min\)/);
    expect(jumped.value('clocks', 'clock-jumps')).toMatch(/^at 10:13:05 forward by 1 h/);
    expect(jumped.rows.at(-1)).toMatchObject({ time: '10:14:05', marks: ['DEVICE 11:12:00'] });
  });

  it('goes by the last comparison', () => {
    const story = told('wall').tell('11:10', compared('11:11:00', 'wall'));
    expect(papersOf(story.entries).value('times', 'work-started')).toBe('10:06:00 UTC+01:00 (device 10:05:00)');
  });
});

describe('a log that stopped for a time nobody confirmed', () => {
  const stopped = (gap: 'known' | 'not-known') =>
    new Story()
      .atWork()
      .tell('10:06', compared('10:08:05', 'wall'))
      .tell('10:07', { type: 'tourniquet', to: 'up' })
      .begins('10:10', '1', 'turn-out')
      .tell('12:30', { type: 'resumed', device: 'tablet 2', gap })
      .ends('12:32', '1', 'no-change')
      .begins('12:34', '1', 'turn-out')
      .ends('12:36', '1', 'out')
      .tell('12:40', { type: 'tourniquet', to: 'down' })
      .tell('12:45', { type: 'work-ended' });
  const papers = papersOf(stopped('not-known').entries);
  const known = papersOf(stopped('known').entries);

  it('says of what lasted across the gap that it is not known, and of nothing else', () => {
    const tries = papers.section('screws').filter((line) => /ended/.test(line));
    expect(tries[0]).toContain('(142 min ± not known)');
    expect(tries[1]).toContain('(2 min)');
    expect(papers.value('times', 'work-minutes')).toBe('160 min ± not known');
    expect(papersOf(stopped('not-known').entries, 'de').value('times', 'work-minutes')).toBe('160 min ± nicht bekannt');
    expect(known.text).not.toContain('±');
  });

  it('does not say that the cuff was up too long when nobody knows how long it was up', () => {
    expect(papers.value('operation', 'tourniquet')).toContain('153 min ± not known; pressure');
    expect(known.value('operation', 'tourniquet')).toContain('153 min, at or past the limit of 120 min');
  });

  it('prints what lies beyond the gap as the device showed it, and says so', () => {
    expect(papers.value('times', 'work-started')).toBe('10:07:05 UTC+01:00 (device 10:05:00)');
    expect(papers.value('times', 'work-ended')).toBe('12:45:00 UTC+01:00');
    expect(papers.rows.at(-1)?.marks).toEqual([
      'TIME AS THE DEVICE SHOWED IT: how far from the theatre clock is not known',
    ]);
    expect(known.value('times', 'work-ended')).toBe('12:47:05 UTC+01:00 (device 12:45:00)');
  });
});
