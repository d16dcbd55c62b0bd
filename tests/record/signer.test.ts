/** Who signed, in what role among the people listed; a name typed by hand is told as one. */
import { describe, expect, it } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import { sealAll, verify } from '../../machines/seal.ts';
import { fold } from '../../machines/fold.ts';
import { view } from '../../machines/view.ts';
import { buildRecord } from '../../src/record/build.ts';
import { hashOfWords } from '../../src/record/signed-words.ts';
import { textHash } from '../../src/record/signing.ts';
import { note, pageText } from '../../src/record/index.ts';
import { content } from './cases.ts';
import { papersOf, Story } from './situations.ts';

const listed = (role: 'surgeon' | 'assistant', who: string): EntryDraft => ({ type: 'person-listed', role, who });
const signed = (more: object = {}): EntryDraft => ({
  ...({ type: 'signed', who: 'A. Example', role: 'surgeon', meaning: 'read and agreed', rules: 2 } as const),
  ...more,
});
const told = (drafts: readonly EntryDraft[], language?: 'de') => {
  const story = drafts.reduce((all, draft, i) => all.tell(`10:${30 + i}`, draft), new Story().atWork());
  const before = new Story().atWork().n;
  const papers = papersOf(story.entries, language);
  const words = papers
    .section('signature')[0]
    ?.replace(/entry (\d+)/g, (_, n: string) => `entry +${Number(n) - before}`)
    .replace(/Eintrag (\d+)/g, (_, n: string) => `Eintrag +${Number(n) - before}`);
  return { papers, words, line: words?.slice(words.indexOf('); ') + 3 || undefined) };
};
const ended: EntryDraft = { type: 'work-ended' };

describe('the name of a signature', () => {
  it.each<[string, EntryDraft[], string]>([
    ['of somebody listed in that role', [listed('surgeon', 'A. Example'), signed()], 'listed as surgeon in entry +1'],
    [
      'of nobody listed',
      [listed('surgeon', 'B. Example'), signed()],
      'name typed by hand, not among the people listed',
    ],
    ['where nobody was listed', [ended, signed()], 'name typed by hand, not among the people listed'],
    [
      'of somebody listed in another role',
      [listed('assistant', 'A. Example'), signed()],
      'listed as assistant in entry +1, not as surgeon',
    ],
    [
      'that two may bear',
      [listed('surgeon', 'A. Example'), listed('assistant', 'A.  Example '), signed()],
      'listed as surgeon in entry +1 and as assistant in entry +2; whether that is one person was not recorded',
    ],
    [
      'of somebody listed only after',
      [signed(), listed('surgeon', 'A. Example')],
      'name typed by hand, not among the people listed then; listed since as surgeon in entry +2',
    ],
    [
      'of somebody struck from the list after',
      [listed('surgeon', 'A. Example'), signed(), { type: 'struck', entry: 0, reason: 'wrong name' }],
      'listed as surgeon in entry +1 (struck since by entry +3)',
    ],
    [
      'of somebody struck from the list before',
      [listed('surgeon', 'A. Example'), { type: 'struck', entry: 0, reason: 'wrong name' }, signed()],
      'name typed by hand, not among the people listed',
    ],
    [
      'of one who only took the tablet over',
      [{ type: 'at-tablet', role: 'surgeon', who: 'A. Example' }, signed()],
      'name typed by hand, not among the people listed',
    ],
  ])('%s', (_, drafts, line) => {
    const at = new Story().atWork().n;
    const { papers, ...all } = told(drafts.map((one) => (one.type === 'struck' ? { ...one, entry: at + 1 } : one)));
    expect(all.line).toBe(line);
    // On the page that is signed, in the Markdown and for other systems too.
    const plain = papers.section('signature')[0]?.split('); ')[1] as string;
    for (const form of ['brief', 'markdown', 'fhir'] as const)
      expect(note(form, papers.record, content).replace(/\s+/g, ' ').replaceAll('\\', '')).toContain(plain);
  });

  it('stands in German too', () => {
    expect(told([ended, signed()], 'de').line).toBe('Name von Hand eingegeben, nicht unter den eingetragenen Personen');
    expect(told([listed('assistant', 'A. Example'), signed()], 'de').line).toBe(
      'eingetragen als „Assistenz“ in Eintrag +1, nicht als „Operateur“',
    );
  });
});

describe('a record signed twice', () => {
  const first = () =>
    new Story()
      .atWork()
      .tell('10:30', listed('surgeon', 'A. Example'))
      .tell('10:35', ended)
      .tell('10:40', signed())
      .tell('10:50', { type: 'remark', text: 'The drain was pulled', kind: 'addendum' });
  const before = sealAll(first().entries);
  const folded = fold(before, content, undefined, 2);
  const seen = view(folded, undefined, verify(before));
  const again = (hash: string) =>
    papersOf(first().tell('11:00', signed({ who: 'B. Example', textHash: hash })).entries)
      .section('signature')
      .join(' ');

  it('is proven by the words as they are told now', () => {
    expect(again(textHash(before, content, 2))).toContain('The words that were signed are proven');
  });

  it('is proven by the words of the first signature as they were told before names were looked up', () => {
    const old = buildRecord(before, folded, seen, content, 'without-standings');
    expect(pageText(old)).toContain('A. Example, surgeon, 2026-03-04 10:40:00: read and agreed (entry 35)');
    expect(pageText(old)).not.toContain('listed as surgeon in entry');
    expect(hashOfWords(old)).not.toBe(textHash(before, content, 2));
    expect(again(hashOfWords(old))).toContain('The words that were signed are proven');
  });

  it('tells of each signer apart', () => {
    const said = again('0'.repeat(64));
    expect(said).toContain('; listed as surgeon in entry');
    expect(said).toContain('; name typed by hand, not among the people listed');
    expect(said).not.toContain('are proven');
  });
});
