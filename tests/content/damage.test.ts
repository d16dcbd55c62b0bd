/** What can have happened to a tool is counted by the words that the tablet offers, in each of its languages. */
import { describe, expect, it } from 'vitest';
import { damages, offeredDamage } from '../../content/damage.ts';
import german from '../../content/words/de/record.json' with { type: 'json' };
import germanSheets from '../../content/words/de/sheets.json' with { type: 'json' };
import english from '../../content/words/en/record.json' with { type: 'json' };
import englishSheets from '../../content/words/en/sheets.json' with { type: 'json' };

const kinds = ['tip-off', 'bent', 'blunt', 'thread', 'jammed', 'cut'];

describe('damage', () => {
  it.each([
    ['English', english, englishSheets],
    ['German', german, germanSheets],
  ])('is known by every word that is offered in %s', (_, words, sheets) => {
    expect(words['closing.offer.how'].split('|').map(offeredDamage)).toEqual(kinds);
    expect(offeredDamage(sheets['tool.how.broken'])).toBe('broken-or-blunt');
    expect(offeredDamage(sheets['tool.how.tip'])).toBe('tip-off');
  });

  it('is nobody’s own words, nor a word of the language', () => {
    expect(offeredDamage('one tooth bent')).toBeUndefined();
    expect(offeredDamage('constructor')).toBeUndefined();
  });

  it('has a word for each kind', () => expect([...damages]).toEqual([...kinds, 'broken-or-blunt']));
});
