/** A signed record: what was signed, what the newest rules reckon otherwise, and what asks for a new signature. */
import { describe, expect, it } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import { textHash } from '../../src/record/signing.ts';
import { content } from './cases.ts';
import { papersOf, Story } from './situations.ts';

const signature = (more: object = {}): EntryDraft => ({
  ...({ type: 'signed', who: 'R. Invented', role: 'surgeon', meaning: 'read and agreed' } as const),
  ...more,
});

/** The cuff of ten minutes that rules 1 took for a hundred and ninety, for the clock was set forward and back in it. */
const underRules1 = (more: object = {}) =>
  new Story()
    .atWork()
    .tell('10:10', { type: 'tourniquet', to: 'up' })
    .begins('10:11', '1', 'turn-out')
    .tell('13:12', { type: 'clock-jumped', seconds: 10_800 })
    .ends('13:14', '1', 'out', { recovered: 36, lengthHow: 'measured' })
    .tell('10:15', { type: 'clock-jumped', seconds: -10_800 })
    .tell('10:20', { type: 'tourniquet', to: 'down' })
    .tell('10:30', { type: 'work-ended' })
    .tell('10:35', { type: 'case-closed' })
    .tell('10:40', signature({ rules: 1, ...more }));

describe('a record that was signed under older rules', () => {
  const papers = papersOf(underRules1().entries);

  it('prints the words that were signed first, then each difference as a line, then the record of now', () => {
    expect(papers.record.sections.slice(0, 3).map(({ id }) => id)).toEqual(['as-signed', 'reckoned', 'head']);
    expect(papers.section('as-signed').join(' ')).toContain('190 min');
    expect(papers.section('as-signed').join(' ')).not.toContain('Signed: R. Invented');
    expect(papers.section('reckoned')[0]).toBe('Signed under rules 1.');
    expect(papers.section('reckoned')).toContain('Reckoned anew by rules 2: tourniquet 10 min, was 190 min');
    for (const line of papers.section('reckoned').slice(1)) expect(line).toMatch(/^Reckoned anew by rules 2: /);
    expect(papers.value('operation', 'tourniquet')).toContain('10 min');
    expect(papers.rows).toHaveLength(papers.record.facts.entries);
  });

  it('says that nothing proves those words where no hash of them was kept', () => {
    expect(papers.section('as-signed')[1]).toMatch(/^No hash of the words that were signed was kept/);
  });

  it('stands in German too, and its differences on the brief', () => {
    const german = papersOf(underRules1().entries, 'de');
    expect(german.section('reckoned')).toContain('Neu berechnet nach den Regeln 2: Blutsperre 10 min, war 190 min');
    expect(papers.brief).toContain('Reckoned anew by rules 2: tourniquet 10 min, was 190 min');
  });
});

describe('the hash of what was signed', () => {
  const before = () =>
    new Story()
      .atWork()
      .begins('10:10', '1', 'turn-out')
      .ends('10:12', '1', 'out', { recovered: 36, lengthHow: 'measured' })
      .tell('10:30', { type: 'work-ended' })
      .tell('10:35', { type: 'case-closed' });
  const signedWith = (hash: string) =>
    papersOf(before().tell('10:40', signature({ rules: 2, textHash: hash })).entries);
  // The papers are made of a sealed log, and so is what was signed.
  const right = textHash(papersOf(before().entries).sealed, content, 2);

  it('proves the words that it was made of', () => {
    expect(signedWith(right).section('signature').join(' ')).toContain('The words that were signed are proven');
  });

  it('proves nothing of other words', () => {
    const said = signedWith('0'.repeat(64)).section('signature').join(' ');
    expect(said).toContain(`The words that were signed had the SHA-256 ${'0'.repeat(64)}`);
    expect(said).not.toContain('are proven');
  });
});

describe('what is entered after the signature', () => {
  const signed = () =>
    new Story()
      .atWork()
      .begins('10:10', '1', 'turn-out')
      .ends('10:12', '1', 'out', { recovered: 36, lengthHow: 'measured' })
      .tell('10:30', { type: 'work-ended' })
      .tell('10:35', { type: 'case-closed' })
      .tell('10:40', signature({ rules: 2 }));

  it('asks for a new signature on every paper when it changes account or papers', () => {
    const story = signed().tell('11:00', { type: 'remark', text: 'It was the left one', kind: 'correction' });
    const asks = `Not covered by the signature in entry ${story.n - 1}: entry ${story.n}, added after it. A NEW SIGNATURE IS NEEDED.`;
    const papers = papersOf(story.entries);
    for (const paper of [papers.text, papers.brief, papers.patient, papers.stillIn]) expect(paper).toContain(asks);
    expect(papersOf(story.entries, 'de').patient).toContain('EINE NEUE UNTERSCHRIFT IST NÖTIG');
    const again = papersOf(story.tell('11:10', signature({ rules: 2 })).entries);
    expect(again.text).not.toContain('NEW SIGNATURE');
    expect(again.record.facts.status).toBe('signed');
  });

  it('asks for none when the device was taken up again, handed over, or its clock moved', () => {
    const story = signed()
      .tell('11:00', { type: 'resumed', device: 'tablet 2', gap: 'known' })
      .tell('11:01', { type: 'at-tablet', role: 'scrub' })
      .tell('11:05', { type: 'clock-jumped', seconds: 60 });
    expect(papersOf(story.entries).text).not.toContain('NEW SIGNATURE');
  });

  it('asks for one when the device is compared with the clock on the wall: every time printed is another', () => {
    const wall = { type: 'clock-compared', theatreClock: '2026-03-04T11:03:00+01:00', source: 'wall' } as const;
    expect(papersOf(signed().tell('11:00', wall).entries).record.facts.status).toBe('amended');
  });
});
