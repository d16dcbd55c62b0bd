/** Damaged files: refused with the place of the fault, or read whole; never half, never with a crash. */
import canonicalize from 'canonicalize';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import type { Fault } from '../../machines/entry.ts';
import { readCase } from '../../machines/case-file.ts';
import { run } from '../../src/commands.ts';
import { readJson } from '../../src/read-json.ts';
import { readIncoming } from '../../src/session/case-import.ts';
import { explore } from '../explore.ts';
import { length, times } from '../lengths.ts';
import { flipped, refusedCorpus, sameCorpus, whole } from './damaged.ts';
import { begun, faults, fileWith, ofEntries } from './files.ts';

/** Files tried by each property, before `explore` makes them more or fewer. */
const tries = 750;

type Read = { faults: Fault[] } | { canonical: string; seals: string };

/** Reads as the command and the app do; what was accepted comes back in its canonical form. */
function read(bytes: Uint8Array): Read {
  const json = readJson(bytes);
  if ('faults' in json) return json;
  const reading = readCase(json.value, loadContent);
  if ('faults' in reading) return reading;
  return { canonical: canonicalize(reading.file) as string, seals: reading.seals.seals };
}
const canonicalOf = (bytes: Buffer) =>
  canonicalize(JSON.parse(bytes.toString('utf8').replace(/^\ufeff/, ''))) as string;
const same = canonicalOf(whole);

/** A path, a line and column, or the file; the keys in a path are the file's own and may hold anything. */
const place = /^[^\n\r]{1,300}$/;
/** Refused: at least one fault, each with a place and with words. Otherwise whole: all that the file says. */
function expectRefusedOrWhole(bytes: Buffer): 'refused' | 'whole' {
  const result = read(bytes);
  if (!('faults' in result)) {
    expect(result.canonical).toBe(canonicalOf(bytes));
    return 'whole';
  }
  expect(result.faults.length).toBeGreaterThan(0);
  for (const { path, message } of result.faults) {
    expect(path).toMatch(place);
    expect(message).toMatch(/\p{L}{3}/u);
  }
  return 'refused';
}

describe('the file undamaged', () => {
  it('is whole, and its seals hold', () => expect(read(whole)).toEqual({ canonical: same, seals: 'whole' }));
});

describe('the corpus of damaged files', () => {
  it.each(refusedCorpus)('refuses %s [Z9]', (_, bytes) => expect(expectRefusedOrWhole(bytes)).toBe('refused'));
  it.each(refusedCorpus)('ends the command with 2 on %s', async (_, bytes) => {
    const { status, stdout, stderr } = await run(['check', fileWith(bytes)]);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toMatch(/^\S.*: .+\n$/m);
  });
  it.each(refusedCorpus)('lets nothing of %s into the app', (_, bytes) => {
    expect(readIncoming(bytes, []).kind).toBe('faults');
  });
  it.each(sameCorpus)('reads %s as the same', (_, bytes) => {
    expect(read(bytes)).toEqual({ canonical: same, seals: 'whole' });
  });
});

describe('cut off', () => {
  it(
    'at any byte but in the blank space at the end, is refused [Z14]',
    () => {
      const end = whole.toString('utf8').trimEnd().length;
      const cuts = Array.from({ length: end }, (_, at) => at).filter((at) => at % 11 === 0 || at > end - 500);
      for (const at of cuts) expect(expectRefusedOrWhole(whole.subarray(0, at)), `cut at ${at}`).toBe('refused');
      expect(cuts.length).toBeGreaterThan(2000);
    },
    120_000 * Math.max(1, length),
  );
});

describe('one bit turned over', () => {
  it(
    'anywhere, is refused, or found by the seals, or says the same [Z15]',
    () => {
      const seen = { refused: 0, 'by the seals': 0, same: 0 };
      const anywhere = fc.tuple(fc.nat(whole.length - 1), fc.nat(7));
      explore(
        fc.property(anywhere, ([offset, bit]) => {
          const bytes = flipped(whole, offset, bit);
          if (expectRefusedOrWhole(bytes) === 'refused') return void seen.refused++;
          const result = read(bytes) as { canonical: string; seals: string };
          if (result.canonical === same) return void seen.same++;
          expect(result.seals).toBe('broken');
          seen['by the seals']++;
        }),
        { numRuns: tries, seed: 20261125 },
      );
      expect(seen.refused).toBeGreaterThan(times(tries) / 4);
      expect(seen['by the seals']).toBeGreaterThan(times(tries) / 40);
    },
    120_000 * Math.max(1, length),
  );
});

describe('one value put in place of another', () => {
  const paths = (value: unknown, at: (string | number)[] = []): (string | number)[][] =>
    typeof value === 'object' && value !== null
      ? [
          at,
          ...Object.entries(value).flatMap(([key, inner]) =>
            paths(inner, [...at, Array.isArray(value) ? Number(key) : key]),
          ),
        ]
      : [at];
  const all = paths(JSON.parse(whole.toString('utf8'))).filter((path) => path.length > 0);
  const odd = fc.oneof(
    fc.jsonValue({ maxDepth: 3 }),
    fc.constantFrom<unknown>(
      0,
      -1,
      1e21,
      5e-324,
      Number.MAX_VALUE,
      '',
      ' ',
      '\u0000',
      '\u202e',
      '__proto__',
      null,
      [],
      {},
      true,
    ),
    fc.string({ unit: 'binary', maxLength: 300 }),
    fc.date({ noInvalidDate: true }).map((date) => date.toISOString()),
  );

  it(
    'anywhere, is refused with a place, or read whole and found by the seals',
    () => {
      const seen = { refused: 0, whole: 0 };
      explore(
        fc.property(fc.constantFrom(...all), odd, (path, value) => {
          const file = JSON.parse(whole.toString('utf8')) as Record<string, unknown>;
          let inner = file;
          for (const key of path.slice(0, -1)) inner = inner[key] as typeof inner;
          inner[path.at(-1) as string] = value;
          const bytes = Buffer.from(JSON.stringify(file));
          const result = expectRefusedOrWhole(bytes);
          seen[result]++;
          if (result === 'whole' && canonicalOf(bytes) !== same)
            expect((read(bytes) as { seals: string }).seals).not.toBe('whole');
        }),
        { numRuns: tries, seed: 20261125 },
      );
      expect(seen.refused).toBeGreaterThan(times(tries) / 4);
      expect(seen.whole).toBeGreaterThan(times(tries) / 400);
    },
    120_000 * Math.max(1, length),
  );
});

describe('any bytes', () => {
  it(
    'are refused or whole',
    () => {
      explore(
        fc.property(
          fc.oneof(
            fc.uint8Array({ maxLength: 2000 }),
            fc.json().map((json) => Buffer.from(json)),
          ),
          (bytes) => {
            expect(expectRefusedOrWhole(Buffer.from(bytes))).toBe('refused');
          },
        ),
        { numRuns: tries, seed: 20261125 },
      );
    },
    120_000 * Math.max(1, length),
  );
});

describe('a file made to be read for ever', () => {
  const opened = begun().entries[0] as object;
  const at = (n: number) => ({ n, at: '2026-03-03T06:00:00Z', logged: '2026-03-03T06:00:00Z' });

  it(
    'by corrections that make all be folded again, is refused with the place',
    async () => {
      const many = Array.from({ length: 20_000 }, (_, i) =>
        i % 2
          ? { type: 'struck', entry: i + 1, reason: 'wrong' }
          : { type: 'limits-set', boneConsider: 0.2, boneStop: 0.5 },
      );
      const entries = [{ ...opened, ...at(1) }, ...many.map((entry, i) => ({ ...at(i + 2), ...entry }))];
      expect(faults(await ofEntries(entries))).toEqual([
        expect.stringMatching(
          /^entries\[\d+\]: too many entries would have to be read again for the corrections before it$/,
        ),
      ]);
    },
    120_000 * Math.max(1, length),
  );

  it(
    'by screws that no bone has, is refused with the place; a thousand are read',
    async () => {
      const listed = begun().entries.find(({ type }) => type === 'screw-listed') as object;
      const screws = (count: number) => [
        { ...opened, ...at(1) },
        ...Array.from({ length: count }, (_, i) => ({ ...listed, ...at(i + 2), screw: `s${i}` })),
      ];
      expect(faults(await ofEntries(screws(1001)))).toEqual(['entries[1001].screw: more than 1000 screws in one case']);
      expect((await ofEntries(screws(1000))).status).toBe(0);
    },
    120_000 * Math.max(1, length),
  );
});
