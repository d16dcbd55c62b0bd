/** The record in its forms. */
import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { buildPatient, buildSurgeon, linesOf, note, noteForms, pageText } from '../../src/record/index.ts';
import { explore } from '../explore.ts';
import { content, leftBehind, recordOf, untidy } from './cases.ts';
import { randomLog } from './random-log.ts';

import { flat, holes } from './helpers.ts';

describe('the CSV', () => {
  const parse = (csv: string) => Papa.parse<string[]>(csv, { delimiter: ',', newline: '\r\n' });

  it('reads back as one row for each entry, in the order of the log, CRLF at every end', () => {
    explore(
      fc.property(randomLog, (log) => {
        const csv = note('csv', recordOf(log), content);
        const { data, errors } = parse(csv);
        expect(errors).toEqual([]);
        expect(data[0]).toEqual(['n', 'at', 'logged', 'late', 'struck', 'screw', 'event', 'detail']);
        expect(data.slice(1, -1).map(([n]) => n)).toEqual(log.map(({ n }) => String(n)));
        expect(csv.replace(/\r\n/g, '')).not.toMatch(/[\r\n]/);
      }),
      { numRuns: 30 },
    );
  });

  it('holds no cell that a spreadsheet would run', () => {
    const { data } = parse(note('csv', recordOf(untidy), content));
    expect(data[3]?.[5]).toBe("'-2+3");
    expect(data.flat().filter((cell) => /^\s*[=+\-@\t\r]/.test(cell))).toEqual([]);
  });
});

describe('the Markdown', () => {
  it('takes nothing that was entered for markup, and strikes through what was struck', () => {
    const text = note('markdown', recordOf(untidy), content);
    expect(text).toContain('**Case:** \\=HYPERLINK("x"), \\[list\\] \\| \\*one\\*');
    expect(text).toContain('~~The head of screw -2+3 came off.~~');
    expect(text).toContain('\\<once\\>');
    expect(text).not.toMatch(/(?<!\\)<once/);
  });

  it('holds every line of the text note that is not the timeline; what goes to sterile services as one list', () => {
    const plain = flat(note('markdown', recordOf(leftBehind), content).replace(/\\(?=\W)/g, ''));
    for (const { blocks } of recordOf(leftBehind).sections.filter(({ id }) => id !== 'sterile'))
      for (const block of blocks)
        if (block.kind === 'item') for (const line of linesOf(block.value)) expect(plain).toContain(line);
    expect(plain).toContain('| Instrument | Size | What happened | What to do |');
    expect(plain).toContain('| Conical extractor |');
  });
});

describe('every form', () => {
  it.each(noteForms)('renders any log as %s without a hole', (form) => {
    explore(
      fc.property(randomLog, (log) => {
        const text = note(form, recordOf(log), content);
        expect(text).not.toMatch(/undefined|\bNaN\b|\[object/);
        expect(text.endsWith('\n')).toBe(true);
      }),
      { numRuns: 25 },
    );
  });

  it.each([
    ['patient', buildPatient],
    ['next surgeon', buildSurgeon],
  ] as const)('gives the page for the %s from any log, in 80 columns', (_, build) => {
    explore(
      fc.property(randomLog, (log) => {
        const text = pageText(build(recordOf(log), content));
        expect(text).not.toMatch(holes);
        expect(text.split('\n').filter((line) => line.length > 80)).toEqual([]);
      }),
      { numRuns: 40 },
    );
  });
});
