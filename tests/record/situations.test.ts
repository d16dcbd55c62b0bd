/** What the papers say of what was told late, of pieces, and of a head in the plate. */
import { describe, expect, it } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import { papersOf, Story, unsaid } from './situations.ts';

const whole = { recovered: 36, lengthHow: 'measured', whole: true } as const;
const plateOut: EntryDraft = { type: 'part-ended', part: 'plate', end: 'out' };
const ended: EntryDraft = { type: 'work-ended' };

describe('what no entry said', () => {
  const { entries } = new Story().atWork().tell('10:10', {
    type: 'left-in',
    screw: '1',
    length: 12,
    lengthHow: 'measured',
    where: 'far wall',
    reason: 'too deep',
  });
  const papers = papersOf(entries);
  const added = (sentence: string) => unsaid(entries, { ...papers, sentences: [...papers.sentences, sentence] }, [24]);

  it.each([
    'Screw 1: about 25 mm long',
    'Schraube 1: etwa 23,5 mm lang',
    'The driver slipped at 10:11:00',
    'Decided by: the anaesthetist',
    'Screw 1 came out.',
    'The plate: out',
    'from the log: taken out: screw 2 and the plate',
  ])('is found in "%s"', (sentence) => expect(added(sentence)).toEqual([sentence]));

  it.each([
    'Screw 1: 12 mm long',
    'The work was started at 10:05:00',
    'R. Invented, surgeon',
    'It was not written down if the plate is out or still in',
  ])('is not found in "%s"', (sentence) => expect(added(sentence)).toEqual([]));
});

describe('a slip told after the screw is out', () => {
  const { entries } = new Story()
    .atWork()
    .begins('10:12', '1', 'turn-out')
    .ends('10:14', '1', 'out', whole)
    .begins('10:30', '1', 'turn-out', '10:08')
    .ends('10:31', '1', 'slipped', {}, '10:10')
    .tell('10:35', plateOut)
    .tell('10:40', ended);
  const papers = papersOf(entries);

  it('counts at its own time, ends nothing, and leaves the screw out', () => {
    expect(papers.state).toMatchObject({ outOfOrder: [], unoffered: [], unanswered: [], impossibleTimes: [] });
    expect(papers.state.screws['1']).toMatchObject({
      stage: 'out',
      slips: 1,
      metal: { closes: 'measured', recovered: 36 },
    });
    expect(papers.section('screws')).toEqual([
      'Screw 1: out',
      '4.5 mm cortical thread, not locking, hexagonal drive 3.5, steel, 36 mm long, two cortices; 1 slip in the recess.',
      '10:08:00 Turn out with the matched driver, ended 10:10:00 (2 min): the driver slipped in the recess of screw 1; then: recess stripped',
      '10:12:00 Turn out with the matched driver, ended 10:14:00 (2 min): screw 1 came out; then: out',
    ]);
    expect(papers.value('operation', 'complications')).toBe('from the log: 1 slip (screw 1)');
    expect(papers.section('metal')[0]).toBe(
      'Screw 1: listed 36 mm, recovered 36 mm, stays 0 mm, not accounted for 0 mm; accounted for, measured; whole, tip and head seen',
    );
  });

  it('stands in the timeline where it belongs, marked late, and nothing that was told falls silent', () => {
    const told = papers.rows.filter(({ sentence }) => sentence.includes('crew 1') && !sentence.includes('listed'));
    expect(told.map(({ time, marks }) => [time, ...marks])).toEqual([
      ['10:08:00', 'LATE, entered at 10:30:00, not asked'],
      ['10:10:00', 'LATE, entered at 10:31:00'],
      ['10:12:00'],
      ['10:14:00'],
    ]);
    expect(papers.value('holds', 'holds-unanswered')).toBe('no entry in the log passed an open hold');
  });

  it('says nothing that no entry said, in English and in German', () => {
    expect(unsaid(entries, papers)).toEqual([]);
    const german = papersOf(entries, 'de');
    expect(unsaid(entries, german)).toEqual([]);
    expect(german.section('screws')).toHaveLength(4);
    expect(german.text).toContain(
      '[SPÄTER EINGETRAGEN um 10:31:00] Der Schraubendreher ist im Antrieb von Schraube 1 abgerutscht.',
    );
    expect(german.patient).toContain('ist alles Metall auf der Liste draußen');
  });
});

describe('a deflation of the cuff that was forgotten', () => {
  const up = (story: Story) => story.tell('10:10', { type: 'tourniquet', to: 'up', pressure: 280 });
  const between = up(new Story().atWork())
    .tell('11:20', { type: 'tourniquet', to: 'up', pressure: 250 })
    .tell('11:50', { type: 'tourniquet', to: 'down' })
    .tell('12:00', { type: 'tourniquet', to: 'down' }, '10:50')
    .tell('12:05', ended).entries;

  it('ends the inflation that it lies in; each span has its own minutes and pressure', () => {
    const papers = papersOf(between);
    expect(papers.value('operation', 'tourniquet')).toBe(
      [
        'from the log: up 10:10:00, down 10:50:00, 40 min; 280 mmHg',
        'from the log: up 11:20:00, down 11:50:00, 30 min; 250 mmHg',
        'from the log: 70 min in all; limit 120 min',
      ].join('; '),
    );
    expect(papers.state.clocks).toMatchObject({ tourniquetUp: false, tourniquetTotalMinutes: 70 });
    expect(papers.state.outOfOrder).toEqual([]);
    expect(papers.text).not.toMatch(/100 min|110 min|OUT OF ORDER/);
    expect(unsaid(between, papers)).toEqual([]);
  });

  it('after the only inflation ends that one where it was told to, not where it was entered', () => {
    const { entries } = up(new Story().atWork()).tell('12:00', { type: 'tourniquet', to: 'down' }, '10:50');
    const papers = papersOf(entries);
    expect(papers.value('operation', 'tourniquet')).toBe('from the log: up 10:10:00, down 10:50:00, 40 min; 280 mmHg');
    expect(papers.rows.at(-1)).toMatchObject({ time: '10:50:00', marks: ['LATE, entered at 12:00:00'] });
    expect(papers.text).not.toContain('110 min');
  });
});

describe('the tablet fetched forty minutes into the work', () => {
  const story = new Story()
    .opened('10:40')
    .screw('10:41', '1')
    .screw('10:41', '2')
    .room('10:41')
    .tell('10:42', { type: 'work-started' }, '10:00')
    .tell('10:42', { type: 'tourniquet', to: 'up' }, '09:55')
    .begins('10:43', '1', 'turn-out', '10:05')
    .ends('10:43', '1', 'out', {}, '10:07')
    .begins('10:44', '2', 'turn-out', '10:10')
    .ends('10:44', '2', 'slipped', {}, '10:12')
    .begins('10:45', '2', 'turn-out', '10:20')
    .ends('10:45', '2', 'slipped', {}, '10:21');
  const before = papersOf(story.entries);
  const { entries } = story
    .tell('10:47', { type: 'reassessed', screw: '2', checks: {} })
    .tell('10:48', { type: 'colleague-called' })
    .begins('10:50', '2', 'conical-extractor')
    .ends('10:55', '2', 'out', whole)
    .tell('11:00', { type: 'tourniquet', to: 'down' })
    .tell('11:05', ended);
  const papers = papersOf(entries);

  it('what was told late counts: the slips, the stage, and the hold that stands now', () => {
    expect(before.state.screws['2']).toMatchObject({ stage: 'recess-stripped', slips: 2 });
    expect(before.state.screws['2']?.holds).toContain('reassess');
    expect(before.state.screws['1']).toMatchObject({
      stage: 'out',
      metal: { closes: 'assumed', unaccounted: 0, recovered: null },
    });
  });

  it('before the opening is late, not impossible, and was neither offered nor asked', () => {
    expect(papers.state).toMatchObject({ outOfOrder: [], impossibleTimes: [], unoffered: [], unanswered: [] });
    expect(papers.state.late).toHaveLength(8);
    expect(papers.rows.slice(0, 8).map(({ time, marks }) => [time, marks.length])).toEqual([
      ['09:55:00', 1],
      ['10:00:00', 1],
      ['10:05:00', 1],
      ['10:07:00', 1],
      ['10:10:00', 1],
      ['10:12:00', 1],
      ['10:20:00', 1],
      ['10:21:00', 1],
    ]);
  });

  it('work and cuff are reckoned from when they began, not from the opening', () => {
    expect(papers.value('times', 'work-started')).toBe('10:00:00 UTC+01:00');
    expect(papers.value('times', 'case-opened')).toBe('10:40:00 UTC+01:00');
    expect(papers.value('times', 'work-minutes')).toBe('65 min');
    expect(papers.value('operation', 'tourniquet')).toBe(
      'from the log: up 09:55:00, down 11:00:00, 65 min; pressure not recorded',
    );
  });

  it('takes nobody’s silence for a word: what was not measured is not, and the plate is neither out nor in', () => {
    expect(papers.section('metal').slice(0, 4)).toEqual([
      'Screw 1: listed 36 mm, recovered not measured, stays 0 mm, not accounted for 0 mm; taken as whole: not measured, and no break entered',
      'Screw 2: listed 36 mm, recovered 36 mm, stays 0 mm, not accounted for 0 mm; accounted for, measured; whole, tip and head seen',
      'No broken tool tip was entered.',
      'The plate (plate): nobody spoke of it; NOT ACCOUNTED FOR',
    ]);
    expect(papers.value('stays-in', 'part-plate')).toBe('not recorded');
    expect(papers.patient).toContain('It was not written down if the plate is out or still in');
    expect(unsaid(entries, papers)).toEqual([]);
  });
});

describe('three pieces laid together', () => {
  const broken = (first: object = {}, second: object = {}, third: object = {}) =>
    new Story()
      .atWork()
      .begins('10:10', '1', 'turn-out')
      .ends('10:12', '1', 'shank-broke', { reachable: true, ...first })
      .begins('10:20', '1', 'grip-shank')
      .ends('10:25', '1', 'shank-broke', { reachable: true, ...second })
      .tell('10:28', { type: 'colleague-called', who: 'T. Nobody' })
      .begins('10:30', '1', 'grip-shank')
      .ends('10:40', '1', 'out', third)
      .tell('10:44', plateOut);
  const together = (story: Story) => story.tell('10:45', { type: 'piece-recovered', screw: '1', complete: true });
  const measured = (recovered: number) => ({ recovered, lengthHow: 'measured' }) as const;

  it('and called complete are complete by eye, and no length is made up for them', () => {
    const { entries } = together(broken()).tell('10:50', ended);
    const papers = papersOf(entries);
    expect(papers.state.screws['1']?.metal).toMatchObject({ closes: 'assumed', recovered: null, unaccounted: 0 });
    expect(papers.section('metal')[0]).toBe(
      'Screw 1: listed 36 mm, recovered not measured, stays 0 mm, not accounted for 0 mm; complete by eye: its pieces were laid together, not all measured',
    );
    expect(papers.patient).toContain('By this record, all of the metal on the list is out.');
    expect(papers.text).toContain('All of screw 1 was out: its pieces were laid together and complete.');
    expect(unsaid(entries, papers)).toEqual([]);
    const german = papersOf(entries, 'de');
    expect(unsaid(entries, german)).toEqual([]);
    expect(german.section('metal')[0]).toContain('vollständig nach Augenschein');
  });

  it('and not called complete are open: nobody said that they are all of it', () => {
    const { entries } = broken().tell('10:50', ended);
    const papers = papersOf(entries);
    expect(papers.state.screws['1']?.metal).toMatchObject({ closes: 'open' });
    expect(papers.section('metal')[0]).toContain('NOT ACCOUNTED FOR');
    expect(papers.patient).not.toContain('all of the metal on the list is out');
    expect(unsaid(entries, papers)).toEqual([]);
  });

  it('and measured 14 mm short stay open whatever they were called, with the figure', () => {
    const { entries } = together(broken(measured(10), measured(7), measured(5)));
    const papers = papersOf(entries);
    expect(papers.state.screws['1']?.metal).toMatchObject({ closes: 'open', recovered: 22, unaccounted: 14 });
    expect(papers.section('metal')[0]).toBe(
      'Screw 1: listed 36 mm, recovered 22 mm, stays 0 mm, not accounted for 14 mm; NOT ACCOUNTED FOR: called complete, 14 mm short',
    );
    expect(unsaid(entries, papers, [22, 14])).toEqual([]);
  });

  it('and measured to the whole length are accounted for, measured', () => {
    const { entries } = together(broken(measured(12), measured(13), measured(11)));
    const papers = papersOf(entries);
    expect(papers.section('metal')[0]).toMatch(/; accounted for, measured$/);
    expect(papers.state.screws['1']?.metal).toMatchObject({ closes: 'measured', recovered: 36, unaccounted: 0 });
  });
});

describe('a head that stayed in the plate', () => {
  const drilled = (recovered = 31) =>
    new Story()
      .atWork()
      .begins('10:06', '1', 'turn-out')
      .ends('10:07', '1', 'slipped')
      .tell('10:08', { type: 'reassessed', screw: '1', checks: {} })
      .begins('10:10', '1', 'drill-head-off')
      .ends('10:20', '1', 'set-up-done', { head: 'in-plate' })
      .begins('10:30', '1', 'grip-shank')
      .ends('10:35', '1', 'out', { recovered, lengthHow: 'measured' });

  it('explains what is missing, so nobody is asked why it came out short', () => {
    expect(papersOf(drilled().entries).state.screws['1']).toMatchObject({ stage: 'out', lengthAsked: null });
  });

  it('is accounted for by difference once the plate is out, and stays nowhere', () => {
    const { entries } = drilled().tell('10:40', plateOut).tell('10:45', ended);
    const papers = papersOf(entries);
    expect(papers.state.screws['1']?.metal).toMatchObject({ closes: 'difference', recovered: 31, unaccounted: 0 });
    expect(papers.section('metal')[0]).toMatch(
      /^Screw 1: listed 36 mm, recovered 31 mm, stays 0 mm, not accounted for 0 mm; accounted for by difference: /,
    );
    expect(papers.text).toContain('The head of screw 1 was drilled off; the head was in the plate.');
    expect(papers.section('stays-in')).toEqual([
      'Every listed screw is out and accounted for by the log. No piece is entered as left in.',
      'The plate: out',
    ]);
    expect(papers.patient).not.toContain('metal that is still');
    expect(unsaid(entries, papers)).toEqual([]);
    const german = papersOf(entries, 'de');
    expect(unsaid(entries, german)).toEqual([]);
    expect(german.text).toContain('als Differenz');
  });

  it('closes nothing while nobody spoke of the plate', () => {
    const { entries } = drilled().tell('10:45', ended);
    const papers = papersOf(entries);
    expect(papers.state.screws['1']?.metal).toMatchObject({ closes: 'open', unaccounted: 5 });
    expect(papers.patient).toContain('It was not written down if the plate is out or still in');
    expect(unsaid(entries, papers, [5])).toEqual([]);
  });

  const plateStays = { type: 'part-ended', part: 'plate', end: 'left-in', reason: 'overgrown with bone' } as const;

  it('stays with a plate that stays: it is where it was said to be', () => {
    const { entries } = drilled().tell('10:40', plateStays).tell('10:45', ended);
    const papers = papersOf(entries);
    expect(papers.state.screws['1']?.metal).toMatchObject({
      ...{ closes: 'difference', recovered: 31, left: 5, unaccounted: 0 },
    });
    expect(papers.section('metal')[0]).toMatch(/its head was said to be in the plate, which stays$/);
    expect(papers.text).not.toContain('an image was taken');
    expect(papers.patient).toContain('The head of screw 1, in the plate is still in');
    expect(papers.stillIn).toContain('The head of screw 1, in the plate');
    expect(unsaid(entries, papers, [5])).toEqual([]);
    const german = papersOf(entries, 'de');
    expect(german.section('metal')[0]).toMatch(/der Kopf soll in der Platte stecken, die drin bleibt$/);
    expect(unsaid(entries, german, [5])).toEqual([]);
  });

  it('stays with a plate that stays no longer than a head: of 15 mm missing 7 mm stay open', () => {
    const papers = papersOf(drilled(21).tell('10:40', plateStays).entries);
    expect(papers.state.screws['1']?.metal).toMatchObject({ closes: 'open', recovered: 21, unaccounted: 7 });
  });

  it('is open in a plate of which half is out and half stays, until somebody says in which half it is', () => {
    const halves = drilled()
      .tell('10:40', { type: 'part-listed', part: 'plate', kind: 'plate', pieces: 2 })
      .tell('10:41', { type: 'part-ended', part: 'plate', piece: 1, end: 'out' })
      .tell('10:42', { ...plateStays, piece: 2 });
    expect(papersOf(halves.entries).state.screws['1']?.metal).toMatchObject({ closes: 'open', unaccounted: 5 });
    const seen = { type: 'head-seen', screw: '1', head: 'in-plate', piece: 1 } as const;
    expect(papersOf(halves.tell('10:43', seen).entries).state.screws['1']?.metal).toMatchObject({
      ...{ closes: 'difference', left: 0, unaccounted: 0 },
    });
  });

  it('that was drilled off a screw still seated leaves no screw that is still seated', () => {
    const { entries } = new Story()
      .atWork()
      .begins('10:10', '1', 'drill-head-off')
      .ends('10:20', '1', 'set-up-done', { head: 'piece' });
    expect(papersOf(entries).state.screws['1']?.stage).toBe('head-sheared');
  });

  it('explains no more than a head: of 15 mm missing 7 mm stay open', () => {
    const { entries } = drilled(21).tell('10:40', plateOut).tell('10:45', ended);
    const papers = papersOf(entries);
    expect(papers.state.screws['1']?.metal).toMatchObject({ closes: 'open', recovered: 21, unaccounted: 7 });
    expect(unsaid(entries, papers, [7])).toEqual([]);
  });
});
