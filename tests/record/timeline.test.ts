/** The timeline and its sentences. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { entryTypes, type Entry } from '../../machines/entry.ts';
import { fold } from '../../machines/fold.ts';
import { rowsOf } from '../../src/record/csv.ts';
import { explore } from '../explore.ts';
import { cases, content, leftBehind, recordOf, untidy, written } from './cases.ts';
import { randomLog } from './random-log.ts';

import { flat, holes, textOf } from './helpers.ts';

describe('the timeline', () => {
  const eachOnce = (entries: readonly Entry[]) => {
    const numbers = rowsOf(recordOf(entries)).map(({ n }) => n);
    expect([...numbers].sort((a, b) => a - b)).toEqual(entries.map(({ n }) => n));
  };

  it.each(Object.keys(cases))('holds every entry of the case %s exactly once', (name) =>
    eachOnce(cases[name] as Entry[]),
  );
  it('holds every entry of any log exactly once', () => explore(fc.property(randomLog, eachOnce), { numRuns: 60 }));

  it('stands in the order of what happened, late entries where they belong', () => {
    expect(
      rowsOf(recordOf(untidy))
        .map(({ n }) => n)
        .slice(4, 8),
    ).toEqual([5, 6, 14, 7]);
  });

  it('marks in words what was struck, late, out of order, not offered and passed unanswered [Z15] [Z16]', () => {
    const text = flat(textOf(untidy));
    expect(text).toContain(
      '10:10:00 (11) [STRUCK by entry 12 (it only slipped <once>)] The head of screw -2+3 came off.',
    );
    expect(text).toContain('10:05:30 (14) [LATE, entered at 10:13:00] The field was washed out.');
    expect(text).toContain('10:14:00 (15) [OUT OF ORDER, without effect]');
    expect(text).toContain('10:07:00 (8) [NOT OFFERED at that time] [UNANSWERED: "Stop turning and look again"]');
  });

  it('shows times in the zone of the case to the second, with the date and offset when they change', () => {
    const night = written(
      [
        {
          type: 'case-opened',
          label: 'A',
          zone: 'Europe/Oslo',
          side: 'left',
          bone: 'ulna',
          construct: 'screws',
          planned: 'x',
        },
        { type: 'washed-out' },
      ],
      '2026-10-24T23:59:30.000+02:00',
      5 * 3600,
    );
    const text = textOf(night);
    expect(text).toContain('2026-10-24 (UTC+02:00)\n  23:59:30 (1)');
    expect(text).toContain('2026-10-25 (UTC+01:00)\n  03:59:30 (2)');
  });
});

describe('a sentence for every entry', () => {
  const sentences = (entries: readonly Entry[]) => rowsOf(recordOf(entries)).map(({ sentence }) => sentence);

  it('is known for every type there is', () => {
    const seen = new Set<string>();
    for (const log of fc.sample(randomLog, { numRuns: 300, seed: 4 }))
      for (const { type } of rowsOf(recordOf(log))) seen.add(type);
    expect(entryTypes.filter((type) => !seen.has(type))).toEqual([]);
  });

  it('has no hole, two blanks or loose end, in any log', () => {
    explore(
      fc.property(randomLog, (log) => {
        for (const sentence of sentences(log)) {
          expect(sentence).not.toMatch(holes);
          expect(sentence).toMatch(/^\P{Ll}.*[.!?…]["')]?$/u);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('speaks of the trade', () => {
    const told = sentences(leftBehind);
    expect(told).toContain('The hexagonal driver slipped in the recess of screw 3.');
    expect(told).toContain('The head of screw 3 was drilled off.');
    expect(told).toContain(
      'The shank of screw 3 broke; the rest lay too deep to be reached at the near cortex; 20 mm of it recovered.',
    );
    expect(told).toContain('Screw 1 came out; 36 mm of it recovered; the reverse-thread tap was still jammed in it.');
  });

  it('knows one from many', () => {
    const told = sentences(cases.easyPlate as Entry[]);
    expect(told).toContain('1 image was taken, dose 0.1 mGy.');
    expect(told).toContain('3 images were taken, dose 0.2 mGy.');
  });
});

describe('what was tried', () => {
  it('adds up to the bores, slips and stages that the state knows, in any log', () => {
    explore(
      fc.property(randomLog, (log) => {
        const folded = fold(log, content);
        for (const fate of recordOf(log).facts.screws) {
          const screw = folded.screws.get(fate.id)?.context;
          expect(fate.attempts.flatMap(({ bores }) => bores)).toEqual(screw?.bores);
          expect(fate.attempts.filter(({ endedBy, outcome }) => endedBy !== null && outcome === null).length).toBe(
            (screw?.ends ?? 0) - fate.attempts.filter(({ outcome }) => outcome !== null).length,
          );
        }
      }),
      { numRuns: 60 },
    );
  });
});
