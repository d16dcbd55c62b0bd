/** What was found or told once the case was closed is no part of the operation. */
import { describe, expect, it } from 'vitest';
import { papersOf, Story } from './situations.ts';

const closed = () =>
  new Story()
    .atWork()
    .screw('10:06', '2')
    .begins('10:10', '1', 'turn-out')
    .ends('10:12', '1', 'slipped')
    .tell('10:20', {
      ...({ type: 'left-in', screw: '1', length: null, where: 'tibia', reason: 'enough', imageTaken: true } as const),
    })
    .tell('10:30', { type: 'work-ended' })
    .tell('10:35', { type: 'case-closed' });

describe('a screw that was left in and found to be out once the case was closed', () => {
  const story = closed().tell('11:00', { type: 'piece-recovered', screw: '1', whole: true });
  const papers = papersOf(story.entries);

  it('is neither left in nor taken out among the implants, but found after closing', () => {
    expect(papers.value('operation', 'implants')).toBe(
      `from the log: found or said after closing: screw 1 out (entry ${story.n})`,
    );
  });

  it('keeps in its section what it was when the operation ended, and says what was found', () => {
    expect(papers.section('screws')).toContain(`Found after closing: all of it is out (entry ${story.n}).`);
    expect(papersOf(story.entries, 'de').section('screws')).toContain(
      `Nach dem Abschluss gefunden: sie ist ganz draußen (Eintrag ${story.n}).`,
    );
  });
});

describe('a screw that nobody spoke of, said to stay once the case was closed', () => {
  const story = closed().tell('11:00', {
    ...({ type: 'left-in', screw: '2', length: null, where: 'tibia', reason: 'seen', imageTaken: true } as const),
  });

  it('says so in its section and among the implants', () => {
    const papers = papersOf(story.entries);
    expect(papers.section('screws')).toContain(`Said after closing: it stays in (entry ${story.n}).`);
    expect(papers.value('operation', 'implants')).toBe(
      `from the log: left in: screw 1; from the log: found or said after closing: screw 2 stays in (entry ${story.n})`,
    );
  });
});

describe('the plate, said to be out once the case was closed', () => {
  const story = closed().tell('11:00', { type: 'part-ended', part: 'plate', end: 'out', complete: true });

  it('is not said to have been taken out in the operation', () => {
    const papers = papersOf(story.entries);
    expect(papers.value('operation', 'implants')).toContain(
      `found or said after closing: the plate: out (entry ${story.n})`,
    );
    expect(papers.value('operation', 'implants')).not.toContain('taken out');
  });
});

describe('a move told late', () => {
  const story = new Story()
    .atWork()
    .begins('10:10', '1', 'turn-out')
    .ends('10:12', '1', 'slipped')
    .begins('10:40', '1', 'turn-out', '10:20')
    .ends('10:41', '1', 'slipped', {}, '10:21');

  it('is said to have been asked nothing, in the timeline and among the holds', () => {
    const papers = papersOf(story.entries);
    expect(papers.rows.find(({ n }) => n === story.n - 1)?.marks).toContain('LATE, entered at 10:40:00, not asked');
    expect(papers.value('holds', 'holds-not-asked')).toBe(
      `10:20:00 turning out with the matched driver on screw 1; entry ${story.n - 1}`,
    );
    expect(papersOf(story.entries, 'de').value('holds', 'holds-not-asked')).toContain('an Schraube 1');
  });

  it('told once the case was closed says that too, with the tries of its screw', () => {
    const after = closed().begins('11:00', '1', 'turn-out', '10:15').ends('11:01', '1', 'no-change', {}, '10:16');
    expect(papersOf(after.entries).section('screws').join('\n')).toMatch(
      new RegExp(`^10:15:00 .*; told after closing \\(entry ${after.n - 1}\\)$`, 'm'),
    );
  });
});

describe('a screw measured longer than it was listed', () => {
  const story = new Story()
    .atWork()
    .begins('10:10', '1', 'turn-out')
    .ends('10:12', '1', 'out', { recovered: 41, lengthHow: 'measured' });

  it('has no negative length that is missing', () => {
    const papers = papersOf(story.entries);
    expect(papers.section('metal')[0]).toContain('recovered 41 mm, stays 0 mm, 5 mm more than listed');
    expect(papers.text).not.toContain('-5 mm');
    expect(papersOf(story.entries, 'de').section('metal')[0]).toContain('5 mm mehr als aufgeführt');
  });
});

describe('a screw that nobody spoke of', () => {
  const brief = (story: Story) => papersOf(story.entries).brief;

  it('is in or out, not known, on the first page while nobody says so', () => {
    const head = brief(closed());
    expect(head).toContain(
      'Stays in: screw 1: the whole screw, its recess stripped In or out, not known: screw 2: whether it is out or stays was not told',
    );
    expect(head).not.toContain('Why it stays: not recorded');
  });

  it('no longer stands among what is in or may be, once it is found to be out after closing', () => {
    const story = closed().tell('11:00', { type: 'piece-recovered', screw: '2', whole: true });
    const papers = papersOf(story.entries);
    expect(papers.section('screws')).toContain(`Found after closing: all of it is out (entry ${story.n}).`);
    expect(papers.brief).not.toContain('screw 2: whether it is out or stays was not told');
    expect(papers.text).not.toContain('screw 2: whether it is out or stays was not told');
  });
});
