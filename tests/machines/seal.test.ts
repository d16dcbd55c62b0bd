/** The chain of seals: every change, loss, swap and insertion is found, and nothing becomes unreadable for it. */
import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { readCase } from '../../machines/case-file.ts';
import type { Entry } from '../../machines/entry.ts';
import { noSeal, sealAll, sealOf, verify } from '../../machines/seal.ts';
import { atTheTable } from './build.ts';

const sealed = sealAll(
  atTheTable()
    .tries('1', 'turn-out', 'slipped')
    .looksAgain('1')
    .remarks('Kopf rund – „fest“ ✓ \u{1F529}')
    .tries('1', 'grip-head', 'out', { recovered: 35.5 }).entries,
);
const head = { n: sealed.length, seal: sealed.at(-1)?.seal as string };
const each = sealed.map((entry) => [entry.n, entry.type] as const);
const unsealed = ({ seal: _, ...entry }: Entry) => entry as Entry;
/** Numbers run on, whatever was dropped or put in. */
const renumbered = (entries: readonly Entry[]): Entry[] => entries.map((entry, i) => ({ ...entry, n: i + 1 }));
const reading = (entries: readonly Entry[], end?: object) =>
  readCase({ format: 'counterturn-case', formatVersion: 1, contentVersion: '2026.1', entries, ...end }, loadContent);
const sealsOf = (entries: readonly Entry[], end?: object) => {
  const read = reading(entries, end);
  return 'faults' in read ? read.faults : read.seals;
};

describe('the chain', () => {
  it('is whole as written', () => {
    expect(sealsOf(sealed)).toEqual({ seals: 'whole', brokenAt: null });
    expect(sealsOf(sealed, { head })).toEqual({ seals: 'whole', brokenAt: null });
  });

  it('is SHA-256 over the seal before, 64 zeros at first, and the sorted JSON of the entry without its seal', () => {
    const sorted = (value: unknown): unknown =>
      typeof value !== 'object' || value === null || Array.isArray(value)
        ? value
        : Object.fromEntries(
            Object.entries(value)
              .sort(([a], [b]) => (a < b ? -1 : 1))
              .map(([key, child]) => [key, sorted(child)]),
          );
    let before = '0'.repeat(64);
    for (const { seal, ...entry } of sealed) {
      before = createHash('sha256')
        .update(before, 'ascii')
        .update(JSON.stringify(sorted(entry)), 'utf8')
        .digest('hex');
      expect(seal).toBe(before);
    }
  });

  it.each(each)('shows a change of entry %d, %s, in any of its fields [Z15]', (n) => {
    const changes = Object.entries(sealed[n - 1] as Entry).filter(([key]) => !['n', 'type', 'seal'].includes(key));
    for (const [key, value] of changes) {
      const changed =
        typeof value === 'string' && key !== 'at' && key !== 'logged'
          ? `${value}.`
          : typeof value === 'number'
            ? value + 0.001
            : value === true
              ? false
              : undefined;
      if (changed === undefined) continue;
      const entries = sealed.map((entry) => (entry.n === n ? { ...entry, [key]: changed } : entry));
      expect(verify(entries)).toEqual({ seals: 'broken', brokenAt: n });
    }
    const calledBy = sealed.map((entry) => (entry.n === n ? { ...entry, calledBy: 'surgeon' as const } : entry));
    expect(sealsOf(calledBy)).toEqual({ seals: 'broken', brokenAt: n });
    const earlier = sealed.map((entry) => (entry.n === n ? { ...entry, at: '2026-03-04T07:59:59.000Z' } : entry));
    expect(sealsOf(earlier)).toEqual({ seals: 'broken', brokenAt: n });
  });

  it.each(each)('shows another seal on entry %d, %s [Z15]', (n) => {
    const forged = sealed.map((entry) => (entry.n === n ? { ...entry, seal: sealOf('1'.repeat(64), entry) } : entry));
    expect(sealsOf(forged)).toEqual({ seals: 'broken', brokenAt: n });
  });

  it.each(each.slice(0, -1))('shows that entry %d, %s, was dropped, renumbered or not [Z15]', (n) => {
    const rest = sealed.filter((entry) => entry.n !== n);
    expect(sealsOf(rest)).toEqual(expect.arrayContaining([expect.objectContaining({ path: `entries[${n - 1}].n` })]));
    expect(verify(renumbered(rest))).toEqual({ seals: 'broken', brokenAt: n });
  });

  it.each(each.slice(0, -1))('shows that entry %d, %s, was swapped with the next [Z15]', (n) => {
    const swapped = [...sealed];
    [swapped[n - 1], swapped[n]] = [sealed[n] as Entry, sealed[n - 1] as Entry];
    expect(sealsOf(swapped)).toEqual(
      expect.arrayContaining([expect.objectContaining({ path: `entries[${n - 1}].n` })]),
    );
    expect(verify(renumbered(swapped))).toEqual({ seals: 'broken', brokenAt: n });
  });

  it.each(each)('shows an entry put in before entry %d, %s [Z15]', (n) => {
    const { at, logged } = sealed[n - 1] as Entry;
    const before = sealed[n - 2]?.seal ?? noSeal;
    const extra: Entry = { n, at, logged, type: 'remark', text: 'put in' };
    const entries = renumbered(sealed.toSpliced(n - 1, 0, { ...extra, seal: sealOf(before, extra) }));
    expect(sealsOf(entries)).toEqual({ seals: 'broken', brokenAt: n + 1 });
  });

  it.each(each.slice(1))('shows by the head that the tail from entry %d, %s, on was dropped [Z15]', (n) => {
    const cut = sealed.slice(0, n - 1);
    expect(sealsOf(cut)).toEqual({ seals: 'whole', brokenAt: null });
    expect(sealsOf(cut, { head })).toEqual({ seals: 'broken', brokenAt: n });
  });

  it('shows a head that names another end [Z15]', () => {
    expect(sealsOf(sealed, { head: { ...head, seal: noSeal } })).toEqual({ seals: 'broken', brokenAt: sealed.length });
    expect(sealsOf(sealed, { head: { ...head, n: 3 } })).toEqual({ seals: 'broken', brokenAt: 4 });
  });

  it.each(each)('with the seal of entry %d, %s, taken out is broken there, with a head and without one [Z15]', (n) => {
    const without = sealed.map((entry) => (entry.n === n ? unsealed(entry) : entry));
    expect(sealsOf(without)).toEqual({ seals: 'broken', brokenAt: n });
    expect(sealsOf(without, { head })).toEqual({ seals: 'broken', brokenAt: n });
  });

  it('with one seal left is broken at the first entry that lacks its own [Z15]', () => {
    const only = (kept: number) => sealed.map((entry) => (entry.n === kept ? entry : unsealed(entry)));
    expect(sealsOf(only(1))).toEqual({ seals: 'broken', brokenAt: 2 });
    expect(sealsOf(only(sealed.length))).toEqual({ seals: 'broken', brokenAt: 1 });
  });

  it('with a head and no seal at all is broken at the first entry [Z15]', () => {
    expect(sealsOf(sealed.map(unsealed), { head })).toEqual({ seals: 'broken', brokenAt: 1 });
    expect(sealsOf([], { head })).toEqual({ seals: 'broken', brokenAt: 1 });
  });

  it('with no seal anywhere and no head reads as unsealed', () => {
    expect(sealsOf(sealed.map(unsealed))).toEqual({ seals: 'unsealed', brokenAt: null });
    expect(verify([])).toEqual({ seals: 'unsealed', brokenAt: null });
  });

  it('stays readable when it is broken', () => {
    const entries = sealed.map((entry) => (entry.n === 5 ? { ...entry, calledBy: 'scrub' as const } : entry));
    const read = reading(entries);
    expect('file' in read && read.file.entries).toEqual(entries);
  });
});
