/**
 * Three whole cases and their states, byte for byte. A difference is either a fault or a change that has to be meant:
 * then the stored files are written anew with the variable GOLDEN set to `write`, and the difference is read.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { readCase, type CaseFile } from '../../machines/case-file.ts';
import { fold } from '../../machines/fold.ts';
import { readiness } from '../../machines/readiness.ts';
import { view } from '../../machines/view.ts';
import { cases } from './golden.cases.ts';

const stored = (name: string) => new URL(`../golden/${name}.json`, import.meta.url);
const json = (value: unknown) => `${JSON.stringify(value, null, 2)}\n`;

function matches(name: string, text: string): void {
  if (process.env.GOLDEN === 'write') writeFileSync(stored(name), text);
  expect(existsSync(stored(name))).toBe(true);
  expect(text).toBe(readFileSync(stored(name), 'utf8'));
}

function read(file: CaseFile) {
  const reading = readCase(JSON.parse(JSON.stringify(file)), loadContent);
  if ('faults' in reading) throw new Error(JSON.stringify(reading.faults));
  const { entries } = reading.file;
  return { ...reading, state: fold(entries, reading.content) };
}

describe.each(Object.entries(cases))('the case %s', (name, make) => {
  it('is written as it was', () => matches(`${name}.case`, json(make())));

  it('has the state it had', () => {
    const { state, seals } = read(make());
    matches(`${name}.state-2`, json(view(state, undefined, seals)));
  });

  it('has the readiness it had', () => matches(`${name}.ready`, json(readiness(read(make()).state))));
});

describe('the hard plate', () => {
  const { file, state, seals } = read((cases['hard-plate'] as () => CaseFile)());
  const now = view(state, undefined, seals);

  it('has at least forty entries, is sealed, closed and signed, and nothing in it is out of order', () => {
    expect(file.entries.length).toBeGreaterThanOrEqual(40);
    expect(now).toMatchObject({ phase: 'closed', seals: 'whole', brokenAt: null, outOfOrder: [] });
    expect(file.entries.some(({ type }) => type === 'signed')).toBe(true);
  });

  it('holds what it was made for: late, struck, unanswered and unoffered entries, metal left in [Z16] [Z20]', () => {
    expect([now.late, now.struck, now.unanswered, now.unoffered].map(({ length }) => length > 0)).toEqual([
      true,
      true,
      true,
      true,
    ]);
    expect(now.screws['2']).toMatchObject({
      stage: 'left-in',
      metal: { listed: 44, recovered: 21 },
    });
    expect(now.screws['1']).toMatchObject({ stage: 'out', slips: 2, metal: { unaccounted: 7 } });
    expect(now.toolTips).toEqual([
      expect.objectContaining({ tool: 'metal-cutting-burr', listed: 6, unaccounted: 0.5 }),
    ]);
  });

  it('has clocks by hand: 209 min of work and 94.8 min of tourniquet across midnight, less a jump of 42 s [Z13]', () => {
    // 22:50:00 to 02:20:00 is 210 min; 23:00:00 to 00:35:30 is 95.5 min; the jump of 42 s (0.7 min) lies in both.
    expect(now.clocks.caseMinutes).toBeCloseTo(209.3, 9);
    expect(now.clocks.tourniquetTotalMinutes).toBeCloseTo(94.8, 9);
  });
});
