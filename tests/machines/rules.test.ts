/** Rules of folding and computing: each with golden cases of its own, and the fold takes them from one place. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { readCase } from '../../machines/case-file.ts';
import { fold, ruleVersions, step } from '../../machines/fold.ts';
import { readiness } from '../../machines/readiness.ts';
import { view } from '../../machines/view.ts';
import { Log, content } from './build.ts';
import { printedByRules1, type StateOfRules1 } from './golden.rules-1.ts';

/** What the golden states of each version are called. A row is added with a version, and never changed. */
const golden: Readonly<Record<number, string>> = { 1: 'state', 2: 'state-2' };
const cases = ['easy-plate', 'hard-plate', 'nail-bolt'];
const json = (value: unknown) => `${JSON.stringify(value, null, 2)}\n`;

describe('the versions of the rules', () => {
  it('all have golden cases, and the newest is in force', () => {
    expect(ruleVersions.numbers()).toEqual(Object.keys(golden).map(Number));
    expect(ruleVersions.current().number).toBe(ruleVersions.numbers().at(-1));
  });

  describe.each(ruleVersions.numbers())('rules %i', (number) => {
    const stored = (name: string) => readFileSync(new URL(`../golden/${name}.json`, import.meta.url), 'utf8');

    it.each(cases)('say of %s what they always said', (name) => {
      const read = readCase(JSON.parse(stored(`${name}.case`)), loadContent);
      if ('faults' in read) throw new Error(JSON.stringify(read.faults));
      const state = fold(read.file.entries, read.content, ruleVersions.of(number));
      const text = stored(`${name}.${golden[number]}`);
      const printed =
        number === 1
          ? printedByRules1(state, read.seals, JSON.parse(text) as StateOfRules1)
          : view(state, undefined, read.seals);
      expect(json(printed)).toBe(text);
      expect(json(readiness(state))).toBe(stored(`${name}.ready`));
    });
  });
});

describe('what is folded by other rules', () => {
  const patient = { ...ruleVersions.current(), number: 3, lateAfterMs: 10 * 60_000 };
  const log = new Log()
    .opened()
    .screw('1')
    .write({ type: 'remark', text: 'late', at: '2026-03-04T08:00:00Z', logged: '2026-03-04T08:05:00Z' });

  it('is judged by them: five minutes are late or not', () => {
    expect(fold(log.entries, content).late).toEqual([3]);
    expect(fold(log.entries, content, patient).late).toEqual([]);
  });

  it('stays so from entry to entry, also past a strike', () => {
    const state = fold(log.entries, content, patient);
    const more = log.fork().strikes(2);
    const last = more.entries[3];
    expect(last && step(state, last, log.entries)).toMatchObject({ late: [], struck: [2], rules: patient });
  });

  it('may hear what the first refuse, and refuse what they hear', () => {
    const deaf = { ...patient, apply: () => null };
    expect(fold(log.entries, content).outOfOrder).toEqual([]);
    expect(fold(log.entries, content, deaf).outOfOrder).toEqual([1, 2, 3]);
  });
});
