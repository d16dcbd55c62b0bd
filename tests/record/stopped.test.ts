/** A case that was stopped, what happened besides the metal, and what came out of an image: what the papers say of it. */
import { describe, expect, it } from 'vitest';
import { note } from '../../src/record/index.ts';
import { content } from './cases.ts';
import { papersOf, Story, unsaid } from './situations.ts';

const stopped = () =>
  new Story()
    .opened('10:00', { construct: 'nail' })
    .screw('10:01', '1')
    .screw('10:01', '2')
    .room('10:02')
    .tell('10:03', { type: 'part-listed', part: 'cap', kind: 'end-cap' })
    .tell('10:05', { type: 'work-started' })
    .tell('10:06', { type: 'part-move', part: 'cap', move: 'cap-off', outcome: 'out' })
    .begins('10:10', '1', 'turn-out')
    .ends('10:12', '1', 'head-sheared', { head: 'not-seen' })
    .tell('10:13', { type: 'event', kind: 'bleeding', screw: '1', where: 'far side' })
    .tell('10:13', { type: 'event', kind: 'incision-extended', text: '2 cm' })
    .tell('10:13', { type: 'event', kind: 'samples-sent' })
    .begins('10:14', '1', 'hollow-ream')
    .tell('10:16', { type: 'stopped' })
    .tell('10:17', { type: 'stopped', reason: 'bleeding' })
    .tell('10:25', { type: 'work-ended' });

describe('a nail stopped for bleeding', () => {
  const papers = papersOf(stopped().entries);
  const german = papersOf(stopped().entries, 'de');

  it('says of what was in that it was in when the work was stopped, not that somebody left it', () => {
    expect(papers.value('operation', 'procedure')).toContain('screw 1 and screw 2 in when the work was stopped');
    expect(papers.value('operation', 'procedure')).not.toContain('neither out nor left in');
    expect(papers.value('operation', 'implants')).toContain(
      'in when the work was stopped: screw 1, screw 2 and the nail',
    );
    expect(papers.value('operation', 'implants')).not.toContain('left in');
    expect(papers.value('stays-in', 'part-nail')).toBe('in when the work was stopped');
    expect(papers.section('metal')[0]).toMatch(/NOT ACCOUNTED FOR: it was in when the work was stopped/);
    expect(german.value('operation', 'implants')).toContain(
      'beim Abbruch der Arbeit noch im Körper: Schraube 1, Schraube 2 und Nagel',
    );
  });

  it('tells the reason that came after the touch as a word on the stop, not as a second stop', () => {
    const told = papers.rows.map(({ sentence }) => sentence).filter((one) => /stop/i.test(one));
    expect(told).toEqual(['The work was stopped.', 'Why the work was stopped was said; reason: bleeding.']);
  });

  it('names what happened where it belongs in the note', () => {
    expect(papers.value('operation', 'complications')).toContain('bleeding was noted at 10:13:00, screw 1, far side');
    expect(papers.value('operation', 'incision')).toBe('from the log: the incision was extended at 10:13:00, 2 cm');
    expect(papers.value('operation', 'specimens')).toBe('from the log: samples were sent at 10:13:00');
    expect(german.value('operation', 'complications')).toContain('eine Blutung wurde bemerkt');
  });

  it('says of the move that ran that it was broken off, to the next surgeon and in FHIR', () => {
    expect(papers.stillIn).toMatch(/Ream over the shank[^.]*: broken off\./);
    expect(note('fhir', papers.record, content)).toContain('"text": "Broken off."');
    expect(german.stillIn).toContain('abgebrochen');
  });

  it('says of an end cap that it was taken off, not that it was taken off the bone', () => {
    expect(papers.section('metal').join('\n')).toContain('Part cap (end cap): out, taken off at 10:06:00');
  });

  it('says nothing that no entry said', () => {
    expect(unsaid(stopped().entries, papers)).toEqual([]);
    expect(unsaid(stopped().entries, german)).toEqual([]);
  });
});

describe('a log that was taken up again', () => {
  it('names among the clocks when nobody confirmed how long it had stopped', () => {
    const story = new Story().atWork().tell('10:18', { type: 'resumed', device: 'tablet 2', gap: 'not-known' });
    expect(papersOf(story.entries).value('clocks', 'clock-gaps')).toBe(
      `taken up again at 10:18:00 on tablet 2 (entry ${story.n}); how much time had passed was not confirmed`,
    );
    const known = new Story().atWork().tell('10:18', { type: 'resumed', device: 'tablet 2', gap: 'known' });
    expect(papersOf(known.entries).value('clocks', 'clock-gaps')).toBe('no such item');
  });
});

describe('a screw whose only length was read from an image', () => {
  it('has no rest that was not measured', () => {
    const story = new Story()
      .atWork()
      .begins('10:10', '1', 'turn-out')
      .ends('10:12', '1', 'out', { recovered: 36, lengthHow: 'image' });
    expect(papersOf(story.entries).section('metal')[0]).toContain(
      'accounted for by difference: what was measured or read from an image makes up its length',
    );
  });
});

describe('the theatre clock, written in another offset', () => {
  it('is read in the zone of the case', () => {
    const story = new Story()
      .atWork()
      .tell('10:06', { type: 'clock-compared', theatreClock: '2026-03-04T09:08:05.000Z', source: 'wall' });
    const papers = papersOf(story.entries);
    expect(papers.value('clocks', 'theatre-clock')).toBe(
      'at 10:06:00 it read 10:08:05, 2 min 5 s ahead of this device',
    );
    expect(papers.rows.at(-1)?.sentence).toContain('it read 10:08:05');
  });
});

describe('metal that was put in', () => {
  it('keeps where it was put, also under a name that is taken', () => {
    const story = new Story()
      .atWork()
      .tell('10:10', { type: 'part-listed', part: 'cable', kind: 'cable' })
      .tell('10:20', { type: 'put-in', part: 'cable', kind: 'cable', length: 40, where: 'round the shaft' });
    expect(papersOf(story.entries).stillIn).toContain('Where: round the shaft');
  });
});
