/** The note as it is printed: the page that is signed and every section of the record, none of it lost or told twice. */
import { describe, expect, it } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import { notePage } from '../../src/record/index.ts';
import { papersOf, Story } from './situations.ts';

const ended = (told: readonly EntryDraft[] = []) => {
  const story = new Story().atWork().begins('10:11', '1', 'turn-out').ends('10:14', '1', 'out', { whole: true });
  for (const one of told) story.tell('10:20', one);
  return story.tell('10:30', { type: 'work-ended' }).tell('10:35', { type: 'case-closed' });
};

/** Sections that the first page tells in words of its own, and the one whose seal is told last. */
const retold = new Map([
  ['stays-in', 'stays-in'],
  ['signature', 'signature'],
  ['head', 'seal'],
]);

describe('the note as it is printed', () => {
  it.each([
    ['a plain case', ended()],
    [
      'a case with lines for afterwards',
      ended([{ type: 'aftercare', state: 'accepted', text: 'Partial load until the holes have filled' } as never]),
    ],
    [
      'a case signed under older rules',
      ended().tell('10:40', {
        type: 'signed',
        who: 'R. Invented',
        role: 'surgeon',
        meaning: 'read',
        rules: 1,
      } as never),
    ],
  ])('holds every section of the record of %s', (_, story) => {
    const { record } = papersOf(story.entries);
    const there = notePage(record).sections.map(({ id }) => id);
    const lacking = record.sections.map(({ id }) => retold.get(id) ?? id).filter((id) => !there.includes(id));
    expect(lacking).toEqual([]);
    expect(there.at(-1)).toBe('seal');
    const annexes = there.slice(there.indexOf('annexes') + 1);
    expect(annexes).toEqual([...new Set(annexes)]);
  });

  it('begins with the words that were signed under older rules, and with what is reckoned otherwise since', () => {
    const signed = { type: 'signed', who: 'R. Invented', role: 'surgeon', meaning: 'read', rules: 1 } as never;
    const { record } = papersOf(ended().tell('10:40', signed).entries);
    const ids = notePage(record).sections.map(({ id }) => id);
    expect(ids.slice(0, 2)).toEqual(['as-signed', 'reckoned']);
    expect(ids[2]).toBe(record.first.sections[0]?.id);
  });
});
