/** The formats of the case file by number: two are there from the start, the next is taken in with its conversion. */
import { describe, expect, it } from 'vitest';
import type { Entry } from '../../machines/entry.ts';
import {
  addFormat,
  asNewest,
  between,
  formatFrom,
  formatOf,
  formatOfLog,
  formatVersion,
  formatVersions,
  newestFormat,
  type Format,
} from '../../machines/formats.ts';

const own = (number: number) => formatOf(number) as Format;
const next = (number: number): Format => ({
  ...own(2),
  number,
  from: { name: 'drugs in small letters', entry: small, begins: (entry) => entry.writtenIn === number },
});
const small = (entry: Entry): Entry =>
  entry.type === 'antibiotic' ? { ...entry, drug: entry.drug.toLowerCase() } : entry;
const dose = { type: 'antibiotic', drug: 'Cefazolin' } as Entry;

describe('the formats of the case file', () => {
  it('begin with the first, which converts nothing, and the second, which is written', () => {
    expect(formatVersions()).toEqual([1, 2]);
    expect([newestFormat(), formatVersion]).toEqual([2, 2]);
    expect(own(1)).toMatchObject({ number: 1, header: ['contentVersion', 'entries', 'head'] });
    expect(own(2)).toMatchObject({ number: 2, header: ['contentVersion', 'entries', 'head', 'rules'] });
    expect(own(1).from).toBeUndefined();
    expect(asNewest(dose, 1)).toBe(dose);
  });

  it('convert from the first to the second by a name; what was a constant there was said by nobody', () => {
    expect(between(1, 2).map(({ name }) => name)).toEqual([
      'who said so was not asked: what stands there was said by nobody',
    ]);
    const said = { calledBy: 'surgeon', loggedBy: 'circulating', onWordOf: 'A', decidedBy: 'B' } as const;
    const entry = { ...dose, ...said } as Entry;
    expect(asNewest(entry, 1)).toEqual(dose);
    expect(asNewest(entry, 2)).toBe(entry);
    for (const [field, value] of Object.entries(said))
      expect(asNewest({ ...dose, [field]: value }, 1), field).toEqual(dose);
  });

  it('are in force from an opening that names its rules or its content, or from the word that raises it, and from nothing else', () => {
    expect(formatFrom({ type: 'case-opened' }, 1)).toBe(1);
    expect(formatFrom({ type: 'case-opened', rules: 2 }, 1)).toBe(2);
    expect(formatFrom({ type: 'case-opened', contentVersion: '2026.1' }, 1)).toBe(2);
    expect(formatFrom({ type: 'format-raised', to: 2, rules: 2 }, 1)).toBe(2);
    expect(formatFrom({ type: 'case-opened' }, 2)).toBe(2);
    // A signature names rules as well: those of the record that was signed.
    const signed = { type: 'signed', who: 'A', role: 'surgeon', meaning: 'the record', rules: 2 };
    expect(formatFrom(signed, 1)).toBe(1);
    expect(formatOfLog([{ type: 'case-opened' }, signed])).toBe(1);
    expect(formatOfLog([{ type: 'case-opened' }, { type: 'format-raised', to: 2, rules: 2 }, signed])).toBe(2);
  });

  it('take in the one that follows on, with its conversion, and no other', () => {
    for (const number of [1, 2])
      expect(() => addFormat(next(number))).toThrow(`format ${number} does not follow on format 2`);
    expect(() => addFormat(next(4))).toThrow('format 4 does not follow on format 2');
    expect(() => addFormat({ ...next(3), from: undefined })).toThrow('format 3 has no conversion from format 2');
    expect(formatVersions()).toEqual([1, 2]);
    addFormat(next(3));
    expect(formatVersions()).toEqual([1, 2, 3]);
    expect(formatVersion).toBe(2);
    expect(asNewest({ ...dose, calledBy: 'surgeon' }, 1)).toEqual({ ...dose, drug: 'cefazolin' });
    expect(asNewest(dose, 2)).toMatchObject({ drug: 'cefazolin' });
    expect(asNewest(dose, 3)).toBe(dose);
  });
});
