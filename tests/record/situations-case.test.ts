/** What the papers say of a wrong side, an all stop, a piece found a day later, and of cases of version 1. */
import { describe, expect, it } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import { papersOf, Story, unsaid } from './situations.ts';

const whole = { recovered: 36, lengthHow: 'measured', whole: true } as const;
const plateOut: EntryDraft = { type: 'part-ended', part: 'plate', end: 'out' };
const ended: EntryDraft = { type: 'work-ended' };
const signed = { type: 'signed', who: 'R. Invented', role: 'surgeon', meaning: 'read and agreed' } as const;

describe('a side that was wrong in the tablet', () => {
  const reason = 'touched the wrong side at the start';
  const story = new Story().atWork().tell('10:07', { type: 'case-corrected', side: 'right', reason });
  const corrected = story.n;
  const { entries } = story
    .begins('10:10', '1', 'turn-out')
    .ends('10:12', '1', 'out', whole)
    .tell('10:30', plateOut)
    .tell('10:45', ended);
  const papers = papersOf(entries);

  it('is right from then on, and both stay legible', () => {
    expect(papers.value('head', 'side')).toBe(`RIGHT; opened as LEFT, corrected by entry ${corrected}`);
    expect(papers.brief).toContain(`opened as LEFT, corrected by entry ${corrected}`);
    expect(papers.rows[0]?.sentence).toContain('LEFT tibia');
    expect(papers.rows.find(({ n }) => n === corrected)?.sentence).toBe(
      `The case was corrected: side RIGHT; reason: ${reason}.`,
    );
    expect(papers.record.facts.side).toBe('RIGHT');
    expect(papers.patient).toContain('WHAT IS STILL IN: RIGHT TIBIA');
    expect(unsaid(entries, papers)).toEqual([]);
  });

  it('is a correction, and stands among the corrections', () => {
    expect(papers.section('changes')).toEqual([
      `Entry ${corrected}, correction, entered 10:07:00, by whom not recorded: The case was corrected: side RIGHT; reason: ${reason}.`,
    ]);
  });

  it('is legible on the page for the patient and the next surgeon', () => {
    for (const paper of [papers.patient, papers.stillIn]) expect(paper).toContain('Opened as LEFT');
  });
});

describe('all stop', () => {
  const reason = 'not looked for: stopped for bleeding';
  const story = new Story()
    .opened()
    .screw('10:01', '1')
    .screw('10:01', '2')
    .screw('10:01', '3')
    .room('10:02')
    .tell('10:05', { type: 'work-started' })
    .begins('10:10', '1', 'turn-out')
    .ends('10:12', '1', 'out', whole)
    .begins('10:15', '2', 'turn-out')
    .ends('10:17', '2', 'shank-broke', { reachable: false })
    .begins('10:20', '3', 'turn-out')
    .tell('10:21', { type: 'stopped' });
  const stopped = story.n;
  story.tell('10:25', { type: 'stopped', reason: 'bleeding' }).tell('10:40', ended);
  const uncounted = papersOf(story.entries);
  const { entries } = story
    .tell('10:45', { type: 'count-answered', by: ['scrub', 'surgeon'], image: 'not-taken', discrepancy: reason })
    .tell('10:50', { type: 'case-closed' });
  const papers = papersOf(entries);

  it('leaves the stages, ends the running move as no try, and says why', () => {
    expect(papers.state).toMatchObject({ stopped, outOfOrder: [] });
    expect(papers.state.screws['3']).toMatchObject({ stage: 'seated', slips: 0, move: null });
    expect(papers.value('operation', 'complications')).toBe(
      'from the log: 1 broken shank (screw 2); from the log: work stopped at 10:21:00, reason: bleeding',
    );
  });

  it('what is in and never broke stays; what broke is open, and holds the count', () => {
    expect(papers.state.screws['3']?.metal).toMatchObject({ closes: 'assumed', unaccounted: 0 });
    expect(papers.state.screws['2']?.metal).toMatchObject({ closes: 'open' });
    expect(papers.state.parts.plate).toMatchObject({ end: 'left-in', closes: 'assumed' });
    expect(uncounted.state.holds).toContain('count');
    expect(papers.state.holds).not.toContain('count');
    expect(papers.section('metal').find((one) => one.startsWith('Screw 3'))).toContain(
      'stays: the work was stopped; no break entered',
    );
  });

  it('the count says that no image was taken, and why; nothing was seen by anybody', () => {
    expect(papers.value('metal', 'counts')).toBe(
      `10:45:00 by scrub nurse and surgeon; discrepancy: ${reason}; decided by: not recorded; no image was taken.`,
    );
    expect(papers.text).not.toMatch(/image clear|no metal seen|image taken/);
  });

  it('gives the length of the list to what is whole, and none to a piece that nobody measured', () => {
    const about = (words: string) => `is still in - The metal is steel. Size: 4.5 mm thick, ${words}.`;
    expect(papers.patient).toContain(`A piece of screw 2 ${about('how long is not known')}`);
    expect(papers.patient).toContain(`Screw 3 ${about('36 mm long by the list (not measured)')}`);
    expect(papers.patient).toContain('Why it stays: the work was stopped: bleeding.');
    expect(papers.text).not.toContain('about 0 mm');
    expect(papers.value('operation', 'implants')).toContain('from the log: taken out: screw 1;');
    expect(unsaid(entries, papers)).toEqual([]);
    const german = papersOf(entries, 'de');
    expect(unsaid(entries, german)).toEqual([]);
    expect(german.patient).toContain('wie lang, weiß man nicht');
    expect(german.value('operation', 'complications')).toContain('Blutung');
  });

  it('says of the move that ran that it was interrupted, not that nobody entered how it ended', () => {
    expect(papers.section('screws').at(-1)).toContain('interrupted');
  });

  it('says of what stays by it that it stays, and for which reason, on the page for the patient', () => {
    expect(papers.patient).not.toContain('Why it is still in was not recorded');
    expect(papers.stillIn).not.toContain('Screw 3: the whole screw; neither out nor entered as left in');
  });
});

describe('a piece found a day later', () => {
  const before = () =>
    new Story()
      .atWork()
      .begins('10:10', '1', 'turn-out')
      .ends('10:12', '1', 'shank-broke', { reachable: false, recovered: 24, lengthHow: 'measured' })
      .tell('10:30', { type: 'left-in', screw: '1', length: null, where: 'not seen', reason: 'not found' })
      .tell('10:35', plateOut)
      .tell('10:40', ended)
      .tell('10:42', {
        type: 'count-answered',
        by: ['scrub', 'surgeon'],
        image: 'clear',
        discrepancy: 'a piece of screw 1',
      })
      .tell('10:45', { type: 'case-closed' })
      .tell('10:50', { ...signed, rules: 2 });
  const found = (complete: boolean) =>
    before().tell('1+09:15', {
      ...({ type: 'piece-recovered', screw: '1', length: 12, lengthHow: 'measured' } as const),
      ...(complete && { complete }),
    });

  it('was open before, and its length was told by nobody', () => {
    const { entries } = before();
    const papers = papersOf(entries);
    expect(papers.state.screws['1']?.metal).toMatchObject({ closes: 'open', recovered: 24, unaccounted: 12 });
    expect(papers.record.facts.status).toBe('signed');
    expect(papers.value('metal', 'counts')).toContain('image taken, no metal seen on it');
    expect(unsaid(entries, papers, [12])).toEqual([]);
  });

  it('is heard, stands after closing and after signing, and makes the record an amended one', () => {
    const { entries } = found(false);
    const papers = papersOf(entries);
    expect(papers.rows.at(-1)).toEqual({
      n: entries.length,
      time: '09:15:00',
      marks: ['AFTER SIGNING', 'AFTER CLOSING'],
      sentence: 'A piece of screw 1, 12 mm (measured) long, was recovered.',
    });
    expect(papers.record.facts.status).toBe('amended');
    expect(papers.section('changes')).toEqual([
      `Entry ${entries.length}, entry after signing, entered 2026-03-05 09:15:00, by whom not recorded: A piece of screw 1, 12 mm (measured) long, was recovered.`,
    ]);
    expect(papers.value('signature', 'signature')).toContain('2026-03-04 10:50:00');
    expect(papers.state.outOfOrder).toEqual([]);
  });

  it('and not called all of it ends nothing by its length; no length is left to print', () => {
    const { entries } = found(false);
    const papers = papersOf(entries);
    expect(papers.state.screws['1']).toMatchObject({ stage: 'left-in', metal: { recovered: 36, unaccounted: 0 } });
    expect(papers.patient).toContain(
      'The pieces that came out are as long as the screw. So it is not known how much is still in.',
    );
    expect(papers.patient).not.toContain('all of the metal on the list is out');
    expect(papers.text).not.toContain('about 0 mm');
    expect(unsaid(entries, papers, [36])).toEqual([]);
  });

  it('and called all of it leaves nothing in, on no paper', () => {
    const { entries } = found(true);
    const papers = papersOf(entries);
    expect(papers.state.screws['1']?.metal).toMatchObject({ closes: 'measured', recovered: 36, unaccounted: 0 });
    expect(papers.patient).toContain('By this record, all of the metal on the list is out.');
    // What was said to be missing when it was counted stays legible, with what the image showed.
    expect(papers.patient).toContain('When the metal was counted - The team wrote: a piece of screw 1.');
    expect(papers.patient).not.toContain('metal that is still');
    expect(papers.section('stays-in')[0]).toContain('No piece is entered as left in.');
    const german = papersOf(entries, 'de');
    expect(unsaid(entries, german, [36])).toEqual([]);
    expect(german.patient).toContain('ist alles Metall auf der Liste draußen');
  });

  it('before the case was closed, called all of it, leaves nothing in either', () => {
    const { entries } = new Story()
      .atWork()
      .tell('10:08', { type: 'left-in', screw: '1', length: null, where: 'bone', reason: 'too tight' })
      .tell('10:30', { type: 'piece-recovered', screw: '1', length: 36, lengthHow: 'measured', whole: true });
    const papers = papersOf(entries);
    expect(papers.state.screws['1']?.stage).toBe('out');
    expect(papers.patient).not.toMatch(/screw 1 is still in/i);
  });

  it('asks for a new signature, and the record signed anew is signed', () => {
    expect(papersOf(found(true).entries).record.facts.status).toBe('amended');
    expect(papersOf(found(true).tell('1+09:20', { ...signed, rules: 2 }).entries).record.facts.status).toBe('signed');
  });
});

const constants = { calledBy: 'surgeon', loggedBy: 'scrub' } as const;
/** A case as version 1 wrote it. */
const first = (): Story =>
  new Story()
    .tell('10:00', {
      ...({ type: 'case-opened', label: 'Room 3, first case', zone: 'Europe/Oslo', side: 'left' } as const),
      ...({ bone: 'tibia', construct: 'plate', planned: 'Plate and screws out' } as const),
    })
    .screw('10:01', '1')
    .screw('10:01', '2')
    .room('10:02')
    .tell('10:05', { type: 'work-started', ...constants });
const left = {
  ...({ type: 'left-in', screw: '2', where: 'far wall', reason: 'too deep', decidedBy: 'operating surgeon' } as const),
  ...constants,
};
const notAsked = 'not recorded (version 1, not asked)';

describe('a case of version 1, half played, that goes on', () => {
  const story = first()
    .tell('10:10', { type: 'move-started', screw: '1', move: 'turn-out', ...constants })
    .tell('10:12', { type: 'move-ended', screw: '1', outcome: 'out', ...constants })
    .tell('10:15', { ...left, length: 12 })
    .tell('10:20', { type: 'plate-off', ...constants })
    .tell('10:30', { type: 'format-raised', to: 2, rules: 2 });
  const raised = story.n;
  const { entries } = story
    .tell('10:31', { type: 'at-tablet', role: 'circulating', who: 'TM' })
    .screw('10:32', '3')
    .begins('10:33', '3', 'turn-out')
    .ends('10:35', '3', 'out', whole)
    .tell('10:40', ended);
  const papers = papersOf(entries);

  it('reads as version 1 up to the entry that says so, and as version 2 from there', () => {
    const asked = papers.rows.filter(({ sentence }) => sentence.includes(notAsked)).map(({ n }) => n);
    expect(asked).toEqual([raised - 5, raised - 4, raised - 3, raised - 2, raised - 1]);
    expect(papers.rows.find(({ n }) => n === raised)?.sentence).toBe('From here on the log stands in format 2.');
    expect(papers.value('team', 'at-tablet')).toBe('since 10:31:00: TM (circulating nurse)');
    expect(papers.state.outOfOrder).toEqual([]);
  });

  it('names nobody for what version 1 had constants for', () => {
    expect(papers.text).toContain(`Decided by: ${notAsked}`);
    expect(papers.stillIn).toContain(`Decided by: ${notAsked}`);
    expect(papers.text).not.toMatch(/operating surgeon\b(?!:)|called by|by the surgeon|scrub nurse(?!:)/);
    expect(unsaid(entries, papers, [])).toEqual([]);
  });

  it('takes its plate that is off for out, and asks nothing more of it', () => {
    expect(papers.state.parts.plate).toEqual({ kind: 'plate', end: 'out', pieces: 1, closes: 'assumed' });
    expect(papers.value('stays-in', 'part-plate')).toBe('out, taken off the bone at 10:20:00');
  });

  it('takes a length left in for one by difference: nobody measured it', () => {
    expect(papers.section('stays-in')).toContain(
      'Size: 4.5 mm diameter, about 12 mm long (by the account, not measured)',
    );
    // Nobody took an image, so that the account is open: then no length follows for the patient.
    expect(papers.patient).toContain(
      'Screw 2 is still in - The metal is steel. Size: 4.5 mm thick, how long is not known.',
    );
    expect(papers.patient).not.toContain('It is not known if all of screw 2');
    expect(papers.stillIn).not.toContain('diameter, 12 mm long');
  });

  it('in version 2 a plate that is off is off, and not out', () => {
    const { entries: newer } = new Story().atWork().tell('10:20', { type: 'plate-off' });
    expect(papersOf(newer).state.parts.plate).toMatchObject({ end: null });
    expect(papersOf(newer).value('stays-in', 'part-plate')).toBe(
      'taken off the bone at 10:20:00; whether it is out was not recorded',
    );
  });
});

describe('a case that was signed in version 1', () => {
  // The clock of the device was set three hours forward and back; `logged` was held back by it, as version 1 did.
  const { entries } = first()
    .tell('10:10', { type: 'tourniquet', to: 'up', ...constants })
    .tell('10:11', { type: 'move-started', screw: '1', move: 'turn-out', ...constants })
    .tell('13:12', { type: 'clock-jumped', seconds: 10_800 })
    .tell('13:14', { type: 'move-ended', screw: '1', outcome: 'out', ...constants })
    .tell('13:14', { type: 'clock-jumped', seconds: -10_800 }, '10:15')
    .tell('13:14', { type: 'tourniquet', to: 'down', ...constants }, '10:20')
    .tell('13:14', { ...left, length: 36 }, '10:22')
    .tell('13:14', { ...ended, ...constants }, '10:30')
    .tell('13:14', { type: 'case-closed', ...constants }, '10:35')
    .tell('13:14', { ...signed, ...constants }, '10:40');
  const papers = papersOf(entries);

  it('says under which rules it was signed, and what the newest reckon otherwise', () => {
    expect(papers.differs).toContain('tourniquet 10 min, was 190 min');
    expect(papers.section('signature').slice(0, 2)).toEqual([
      `Signed: R. Invented, surgeon, 2026-03-04 10:40:00: read and agreed (entry ${entries.length}); name typed by hand, not among the people listed`,
      'Signed under rules 1.',
    ]);
    expect(papers.text).toMatch(/Signed under rules 1\. Reckoned anew by rules 2: tourniquet 10 min, was 190 min/);
    expect(papers.record.facts.status).toBe('signed');
    const german = papersOf(entries, 'de');
    expect(german.differs).toHaveLength(papers.differs.length);
    expect(german.differs[0]).toMatch(/10 min.*190 min/);
  });

  it('has ten minutes of cuff, and three of the move that the jumps lie in', () => {
    expect(papers.state.clocks.tourniquetTotalMinutes).toBe(10);
    expect(papers.value('operation', 'tourniquet')).toBe(
      'from the log: up 10:10:00, down 10:20:00, 10 min; pressure not recorded',
    );
    expect(papers.section('screws')).toContain(
      '10:11:00 Turn out with the matched driver, ended 13:14:00 (3 min): screw 1 came out; then: out',
    );
    expect(papers.state.impossibleTimes).toEqual([]);
  });

  it('nothing that a jump held back is late', () => {
    expect(papers.state.late).toEqual([]);
    expect(papers.rows.flatMap(({ marks }) => marks).join()).not.toContain('LATE');
  });

  it('says of the plate that nobody was asked, and names nobody for what were constants', () => {
    expect(papers.section('metal')).toContain('The plate (plate): version 1 did not ask; NOT ACCOUNTED FOR');
    expect(papers.differs).toContain('the plate: not accounted for, was not asked');
    expect(papers.patient).toContain('It was not written down if the plate is out or still in');
    expect(papers.text).toContain(`Decided by: ${notAsked}`);
    expect(papers.text).not.toMatch(/decided by operating surgeon|called by|entered by the/i);
    expect(unsaid(entries, papers)).toEqual([]);
  });
});
