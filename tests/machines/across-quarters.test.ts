import { describe, expect, it } from 'vitest';
import { fateOf, quarterOf, quarterRows } from '../../machines/across/quarters.ts';
import { wilson } from '../../machines/across/intervals.ts';

describe('cases by quarter', () => {
  it('fall into the quarter of their day', () => {
    const days = [
      '2026-01-01',
      '2026-03-31',
      '2026-04-01',
      '2026-06-30',
      '2026-07-01',
      '2026-09-30',
      '2026-10-01',
      '2025-12-31',
    ];
    expect(days.map(quarterOf)).toEqual([
      ...['2026-Q1', '2026-Q1', '2026-Q2', '2026-Q2', '2026-Q3', '2026-Q3', '2026-Q4', '2025-Q4'],
    ]);
  });

  it('have metal staying once somebody said so, none only where every screw is out, and else nobody said it', () => {
    expect(fateOf({ left: ['1'], stillIn: [] })).toBe('stays');
    expect(fateOf({ left: ['1'], stillIn: ['2'] })).toBe('stays');
    expect(fateOf({ left: [], stillIn: ['2'] })).toBe('unsaid');
    expect(fateOf({ left: [], stillIn: [] })).toBe('none');
  });

  it('stand in the order of time, each with the interval of its few cases; what nobody said is in no share', () => {
    const rows = quarterRows(
      new Map([
        ['2026-Q2', { stays: 1, none: 3, unsaid: 2 }],
        [null, { stays: 0, none: 1, unsaid: 0 }],
        ['2025-Q4', { stays: 0, none: 0, unsaid: 1 }],
      ]),
    );
    expect(rows.map(({ quarter }) => quarter)).toEqual(['2025-Q4', '2026-Q2', null]);
    expect(rows[0]).toEqual({ quarter: '2025-Q4', of: 0, count: 0, low: null, high: null, unsaid: 1 });
    expect(rows[1]).toEqual({ quarter: '2026-Q2', of: 4, count: 1, ...wilson(1, 4), unsaid: 2 });
    expect((rows[1]?.high ?? 0) - (rows[1]?.low ?? 0)).toBeGreaterThan(0.6);
  });
});
