/** The formats of the case file by number: the first is there from the start, the next is taken in with its conversion. */
import { describe, expect, it } from 'vitest';
import type { Entry } from '../../machines/entry.ts';
import { addFormat, asNewest, formatOf, formatVersions, newestFormat, type Format } from '../../machines/formats.ts';

const first = () => formatOf(1) as Format;
const next = (number: number): Format => ({
  ...first(),
  number,
  from: { name: 'drugs in small letters', entry: small, begins: (entry) => entry.writtenIn === number },
});
const small = (entry: Entry): Entry =>
  entry.type === 'antibiotic' ? { ...entry, drug: entry.drug.toLowerCase() } : entry;
const dose = { type: 'antibiotic', drug: 'Cefazolin' } as Entry;

describe('the formats of the case file', () => {
  it('begin with the first, which converts nothing', () => {
    expect(formatVersions()).toEqual([1]);
    expect(newestFormat()).toBe(1);
    expect(first()).toMatchObject({ number: 1, header: ['contentVersion', 'entries', 'head'] });
    expect(first().from).toBeUndefined();
    expect(asNewest(dose, 1)).toBe(dose);
  });

  it('take in the one that follows on, with its conversion, and no other', () => {
    expect(() => addFormat(next(1))).toThrow('format 1 does not follow on format 1');
    expect(() => addFormat(next(3))).toThrow('format 3 does not follow on format 1');
    expect(() => addFormat({ ...next(2), from: undefined })).toThrow('format 2 has no conversion from format 1');
    expect(formatVersions()).toEqual([1]);
    addFormat(next(2));
    expect(formatVersions()).toEqual([1, 2]);
    expect(asNewest(dose, 1)).toMatchObject({ drug: 'cefazolin' });
    expect(asNewest(dose, 2)).toBe(dose);
  });
});
