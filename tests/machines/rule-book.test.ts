/** The book of rules: numbered without gaps, the newest in force, the older ones kept. */
import { describe, expect, it } from 'vitest';
import { ruleBook, type Rules } from '../../machines/rules.ts';

const rules = (number: number, name = `rules ${number}`): Rules<string, string> => ({
  number,
  name,
  lateAfterMs: 60_000,
  corrected: (at) => at,
  apply: () => null,
});

describe('a book of rules', () => {
  it('begins with the first, which are in force', () => {
    const first = rules(1);
    const book = ruleBook(first);
    expect(book.numbers()).toEqual([1]);
    expect(book.current()).toBe(first);
    expect(book.of(1)).toBe(first);
    expect(book.of(2)).toBeUndefined();
  });

  it('puts the next in force and keeps the older ones', () => {
    const [first, second, third] = [rules(1), rules(2), rules(3)];
    const book = ruleBook(first);
    book.add(second);
    book.add(third);
    expect(book.numbers()).toEqual([1, 2, 3]);
    expect(book.current()).toBe(third);
    expect([book.of(1), book.of(2), book.of(3), book.of(4)]).toEqual([first, second, third, undefined]);
  });

  it('takes none that leave a number out or give one again, and is as it was then', () => {
    const book = ruleBook(rules(1));
    expect(() => book.add(rules(3))).toThrow('rules 3 do not follow on rules 1');
    expect(() => book.add(rules(1, 'once more'))).toThrow('rules 1 do not follow on rules 1');
    book.add(rules(2));
    expect(() => book.add(rules(2, 'once more'))).toThrow('rules 2 do not follow on rules 2');
    expect(book.numbers()).toEqual([1, 2]);
    expect(book.current().name).toBe('rules 2');
  });
});
